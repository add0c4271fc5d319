"""`loadleaf report`: what filled booklets add up to, as a short PDF for the coach."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from builder.cli.machines import native_libraries
from builder.cli.options import AnyCase, date_option, language_option, loaded, theme_option
from builder.cli.outcome import PROBLEMS, Stopped, got, say, stage, stop_at, tell
from builder.cli.progress import ProgressBar
from builder.cli.read import ORIGINALS
from builder.cli.target import guard, write
from builder.values.lists import PAPERS

if TYPE_CHECKING:
    from builder.given import Sources
    from builder.work.publish import Published


@click.command(epilog="Example: loadleaf report filled.pdf --brand brand.yaml -o report.pdf")
@click.argument("filled", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--client", "clients", multiple=True, type=click.Path(path_type=Path),
              help="The profile: its dated tests go into the charts. A brand beside it is used.")
@click.option("--brand", "brands", multiple=True, type=click.Path(path_type=Path),
              help="A brand, for the look of the pages.")
@ORIGINALS
@click.option("-o", "--output", type=click.Path(path_type=Path),
              help="The PDF to write (default: a name from the lifter).")
@click.option("--paper", type=AnyCase(PAPERS),
              help="Page size (default: the brand's, or A4).")
@language_option
@theme_option
@click.option("--replace", is_flag=True, help="Overwrite a file of another kind; never filled fields.")
@date_option
@click.pass_obj
def report(
    verbose: bool,
    filled: tuple[Path, ...],
    clients: tuple[Path, ...],
    brands: tuple[Path, ...],
    originals: tuple[Path, ...],
    output: Path | None,
    paper: str | None,
    language: str | None,
    theme: str | None,
    replace: bool,
    on: date,
) -> None:
    """Make a short PDF for the coach from FILLED: booklets of one lifter that were filled in, or a folder of them.

    A folder may hold those of many lifters: its report has a line for each, with who trained and whose test is due.
    Copies of one booklet merge; booklets of several blocks stand one after the other. A cell that cannot be read is a
    warning, stands in the report, and counts for nothing.
    """
    from builder.pages.model import Paper
    from builder.work import report as work
    from builder.work.publish import Choices, file_name

    stage(verbose, "sources")
    sources = _sources(clients, brands)
    stage(verbose, "log")
    folders = [path for path in filled if path.is_dir()]
    if folders and (len(folders) < len(filled) or clients):
        raise click.UsageError("A folder is reported on by itself: name no other files and no --client with it.")
    bar = ProgressBar("pages", verbose)
    choices = Choices(on, Paper(paper) if paper else None, theme, language=language, told=bar.told)
    inputs = [*filled, *originals, *clients, *brands]
    made: Callable[[Callable[[str], None]], Published]
    if folders:
        group = got(work.group_of(folders, originals))
        blocks, unread = group.blocks, group.unread
        inputs += group.paths
        usual = file_name(folders[0].resolve().name, "report")
        made = partial(work.report_group, group, sources, choices)
    else:
        blocks, unread = got(work.blocks_of(filled, originals, sources)), ()
        usual = file_name(blocks[-1].log.manifest.client, "report")
        made = partial(work.report, blocks, sources, choices)
    target = guard(output, usual, inputs, kind="report", replace=replace)
    with native_libraries(), bar:
        done = made(bar.stage)
    stop_at(done.problems)
    assert done.pressed is not None
    write(target, done.pressed.pdf, inputs)
    pages = "1 page" if done.pressed.pages == 1 else f"{done.pressed.pages} pages"
    tell(f"{target.named}: {pages}, {len(done.pressed.pdf) / 1024:.0f} KiB")
    _tell_unread(sum(len(block.unread) for block in blocks))
    if unread:
        say(f"{len(unread)} of the files could not be read; the report names them.", err=True)
        raise Stopped(PROBLEMS)


def _sources(clients: Sequence[Path], brands: Sequence[Path]) -> Sources | None:
    """The profile and the brand, None when neither was named; the command ends when they have problems."""
    if not (clients or brands):
        return None
    need = [kind for kind, paths in (("client", clients), ("brand", brands)) if paths]
    return loaded([*clients, *brands], need).sources


def _tell_unread(count: int) -> None:
    if count:
        number = "1 cell is" if count == 1 else f"{count} cells are"
        rest = "It counts for nothing" if count == 1 else "They count for nothing"
        say(f"{number} not clear. {rest}, and the report lists {'it' if count == 1 else 'them'}.", err=True)
