"""`loadleaf read`: the log of a filled booklet."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from builder.cli.outcome import PROBLEMS, Stopped, say, say_text, show, stop_at
from builder.cli.target import guard_text, write
from builder.values.problem import Cell, Problem

if TYPE_CHECKING:
    from builder.log import Answers, Log
    from builder.log.filled import Form
    from builder.log.manifest import Manifest

T = TypeVar("T")
FORMATS = ("yaml", "json", "csv")
ORIGINALS = click.option(
    "--from", "originals", multiple=True, type=click.Path(path_type=Path),
    help="The booklet as it was built: lends a copy what its fields mean, and what was lifted before.",
)  # fmt: skip


@click.command()
@click.argument("filled", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--format", "form", type=click.Choice(FORMATS), default=FORMATS[0], show_default=True, help="How.")
@ORIGINALS
@click.option("-o", "--output", type=click.Path(path_type=Path), help="The file to write (default, and -: the screen).")
@click.option("--replace", is_flag=True, help="Overwrite a file even if it is no log.")
def read(
    filled: tuple[Path, ...], form: str, originals: tuple[Path, ...], output: Path | None, replace: bool
) -> None:
    """Print the log of FILLED: a booklet that was filled in, or its copies from several devices.

    Planned stands beside done for each set, with adherence, missed sets, estimated maxes, records and effort. A cell
    that cannot be read is a problem with page and field, and counts for nothing; the rest is printed all the same.
    """
    from builder.log import as_csv, as_json, as_yaml, progress

    inputs = (*filled, *originals)
    target = guard_text(output, inputs, replace=replace)
    log, problems = read_all(filled, originals)

    def told() -> str:
        return as_csv(log) if form == "csv" else {"yaml": as_yaml, "json": as_json}[form](log, progress(log))

    text = worked(told, filled)
    if target is None:
        say_text(text)
    else:
        write(target, text.encode(), inputs)
    show(problems)
    _tell_bare(log)
    if problems:
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


def read_all(filled: Sequence[Path], originals: Sequence[Path] = ()) -> tuple[Log, tuple[Problem, ...]]:
    """The one log of some filled copies, with its unclear cells; the command ends when a copy cannot be read."""
    from builder.log import read_log

    answers, problems = read_answers(filled, originals)
    log, unclear = worked(lambda: read_log(answers), filled)
    return log, (*problems, *unclear)


def read_answers(filled: Sequence[Path], originals: Sequence[Path] = ()) -> tuple[Answers, tuple[Problem, ...]]:
    """The texts of some filled copies, with their conflicts; the command ends when a copy cannot be read.

    Of a file that holds several booklets those count that an original was named for.
    """
    from builder.log import merge

    lent = lent_by(originals)
    forms = read_forms(filled, lent)
    named = [form for form in forms if form.manifest.digest in {manifest.digest for manifest in lent}]
    answers, problems = merge(named or forms)
    if answers is None:
        stop_at(problems)
        raise AssertionError("a merge without answers has problems")
    return answers, problems


def read_forms(filled: Sequence[Path], lent: Sequence[Manifest] = ()) -> list[Form]:
    """Filled copies as forms; the command ends when one cannot be read."""
    from builder.pdf.fence import fenced
    from builder.pdf.forms.form import read_forms

    forms: list[Form] = []
    told: list[Problem] = []
    for path in filled:
        found, problems = fenced(lambda path: read_forms(path, lent), path)
        told += problems
        forms += found or ()
    stop_at(told)
    return forms


def lent_by(originals: Sequence[Path]) -> list[Manifest]:
    """What some booklets say of themselves; the command ends when one cannot be read."""
    from builder.pdf.fence import fenced
    from builder.pdf.forms.form import read_manifest

    told = [fenced(read_manifest, path) for path in originals]
    stop_at([problem for _, problems in told for problem in problems])
    return [manifest for manifest, _ in told if manifest]


def worked(work: Callable[[], T], filled: Sequence[Path]) -> T:
    """What `work` makes of the numbers in filled booklets, behind the fence; the command ends when it cannot be done.

    Whoever wrote a booklet's description may have written numbers that no program can work with.
    """
    from builder.pdf.fence import Beyond, Broken, within

    try:
        return within(work)
    except Beyond:
        why = "they take too much time or memory"
    except Broken as broken:
        why = str(broken)
    fact = f"the numbers in {', '.join(map(str, filled))} cannot be worked with ({why})"
    stop_at([Problem("log-absurd", None, fact, "Take the booklet as it was built; this one was changed by someone.")])
    raise AssertionError("an error ends the command")
