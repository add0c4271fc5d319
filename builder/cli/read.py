"""`loadleaf read`: the log of a filled booklet."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from builder.cli.outcome import PROBLEMS, Stopped, show, stop_at
from builder.cli.target import write_text

if TYPE_CHECKING:
    from builder.log import Answers, Log
    from builder.log.filled import Form
    from builder.values.problem import Problem

FORMATS = ("yaml", "json", "csv")


@click.command()
@click.argument("filled", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--format", "form", type=click.Choice(FORMATS), default=FORMATS[0], show_default=True, help="How.")
@click.option("-o", "--output", type=click.Path(path_type=Path), help="The file to write (default: the screen).")
def read(filled: tuple[Path, ...], form: str, output: Path | None) -> None:
    """Print the log of FILLED: a booklet that was filled in, or its copies from several devices.

    Planned stands beside done for each set, with adherence, missed sets, estimated maxes, records and effort. A cell
    that cannot be read is a problem with page and field, and counts for nothing; the rest is printed all the same.
    """
    from builder.log import as_csv, as_json, as_yaml, progress

    log, problems = read_all(filled)
    sums = progress(log)
    text = {"yaml": as_yaml, "json": as_json}[form](log, sums) if form != "csv" else as_csv(log)
    if output is None:
        click.echo(text, nl=False)
    else:
        write_text(output, text, filled)
    show(problems)
    if problems:
        number = "1 cell is" if len(problems) == 1 else f"{len(problems)} cells are"
        click.echo(f"{number} not clear and {'counts' if len(problems) == 1 else 'count'} for nothing.", err=True)
        raise Stopped(PROBLEMS)


def read_all(filled: Sequence[Path]) -> tuple[Log, tuple[Problem, ...]]:
    """The one log of some filled copies, with its unclear cells; the command ends when a copy cannot be read."""
    from builder.log import read_log

    answers, problems = read_answers(filled)
    log, unclear = read_log(answers)
    return log, (*problems, *unclear)


def read_answers(filled: Sequence[Path]) -> tuple[Answers, tuple[Problem, ...]]:
    """The texts of some filled copies, with their conflicts; the command ends when a copy cannot be read."""
    from builder.log import merge

    answers, problems = merge(read_forms(filled))
    if answers is None:
        stop_at(problems)
        raise AssertionError("a merge without answers has problems")
    return answers, problems


def read_forms(filled: Sequence[Path]) -> list[Form]:
    """Filled copies as forms; the command ends when one cannot be read."""
    from builder.pdf.fence import fenced
    from builder.pdf.forms.form import read_form

    forms: list[Form] = []
    refused: list[Problem] = []
    for path in filled:
        form, problems = fenced(read_form, path)
        refused += problems
        forms += [form] if form else []
    stop_at(refused)
    return forms
