"""`loadleaf read`: the log of a filled booklet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from builder.cli.outcome import PROBLEMS, Stopped, got, say, say_text, show, stop_at
from builder.cli.target import guard_text, write
from builder.values.problem import Cell, stops

if TYPE_CHECKING:
    from builder.log import Log
    from builder.work.read import Told

FORMATS = ("yaml", "json", "csv")
ORIGINALS = click.option(
    "--from", "originals", multiple=True, type=click.Path(path_type=Path),
    help="The booklet as it was built: lends a copy what its fields mean, and what was lifted before.",
)  # fmt: skip


@click.command(epilog="Example: loadleaf read filled.pdf --format csv -o log.csv")
@click.argument("filled", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--format", "form", type=click.Choice(FORMATS), default=FORMATS[0], show_default=True,
              help="How it is written.")
@ORIGINALS
@click.option("-o", "--output", type=click.Path(path_type=Path), help="The file to write (default, and -: the screen).")
@click.option("--replace", is_flag=True, help="Overwrite a file even if it is no log.")
def read(
    filled: tuple[Path, ...], form: Told, originals: tuple[Path, ...], output: Path | None, replace: bool
) -> None:
    """Print the log of FILLED: a booklet that was filled in, or its copies from several devices.

    Planned stands beside done for each set, with adherence, missed sets, estimated maxes, records and effort. A cell
    that cannot be read is a problem with page and field, and counts for nothing; the rest is printed all the same.
    """
    from builder.work import read as work

    inputs = (*filled, *originals)
    target = guard_text(output, inputs, replace=replace)
    done, problems = work.read(filled, originals)
    if done is None:
        stop_at(problems)
        raise Stopped(PROBLEMS)
    text = got(done.told(form))
    if target is None:
        say_text(text)
    else:
        write(target, text.encode(), inputs)
    show(problems)
    _tell_bare(done.log)
    if stops(problems):
        _tell_unclear(sum(isinstance(problem.span, Cell) for problem in problems))
        raise Stopped(PROBLEMS)


def _tell_bare(log: Log) -> None:
    if not (log.manifest.lifts or log.manifest.protection.whole):
        say("This copy does not carry what was lifted before the block: for records and estimated maxes read it "
                   "with --from and the booklet as it was built for you.", err=True)  # fmt: skip


def _tell_unclear(cells: int) -> None:
    if cells:
        number = "1 cell is" if cells == 1 else f"{cells} cells are"
        say(f"{number} not clear and {'counts' if cells == 1 else 'count'} for nothing.", err=True)
