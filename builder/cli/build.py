"""`loadleaf build`: the booklet as a PDF."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from builder.cli.options import FILES, date_option, loaded
from builder.cli.outcome import PROBLEMS, Stopped, stage, stop_at
from builder.problem import Problem

if TYPE_CHECKING:
    from builder.press import Pressed

PAPERS = ("A4", "Letter", "A5", "half-letter")
EDITIONS = ("personal", "pocket", "log")


@click.command()
@FILES
@click.option("-o", "--output", type=click.Path(path_type=Path), help="The PDF to write (default: lifter-block.pdf).")
@click.option(
    "--paper", type=click.Choice(PAPERS, case_sensitive=False), help="Page size (default: the brand's, or A4)."
)
@click.option("--theme", help="Look of the pages (default: the brand's).")
@click.option("--edition", type=click.Choice(EDITIONS), default="personal", show_default=True, help="Which pages.")
@click.option("--no-fields", is_flag=True, help="Leave the form fields out: for print only.")
@click.option("--replace", is_flag=True, help="Overwrite a PDF even if it holds filled fields.")
@date_option
@click.pass_obj
def build(
    verbose: bool,
    files: tuple[Path, ...],
    output: Path | None,
    paper: str | None,
    theme: str | None,
    edition: str,
    no_fields: bool,
    replace: bool,
    on: date,
) -> None:
    """Build the booklet from FILES: a client and a block, and a brand and movements if there are any."""
    from builder.booklet.model import Edition, Paper
    from builder.publish import Choices, publish, suggested_name

    stage(verbose, "sources")
    result = loaded(files)
    assert result.sources is not None
    target = output or Path(suggested_name(result.sources))
    _guard(target, [Path(name) for name, _ in result.texts], replace=replace)
    choices = Choices(on, Paper(paper) if paper else None, theme, Edition(edition), not no_fields)
    done = publish(result, choices, lambda name: stage(verbose, name))
    stop_at(done.problems)
    assert done.pressed is not None
    _write(target, done.pressed)


def _guard(target: Path, files: Sequence[Path], *, replace: bool) -> None:
    """Stops before any work where the output cannot, or must not, be written."""
    from builder.press import UnreadablePdfError, filled_fields

    if target.is_dir():
        stop_at([_problem("output-folder", f"{target} is a folder", "Name a file to write, such as -o booklet.pdf.")])
    if not target.parent.is_dir():
        stop_at([_problem("output-folder", f"there is no folder {target.parent}", "Make it first, or name another.")])
    if target.resolve() in [file.resolve() for file in files]:
        stop_at([_problem("output-source", f"{target} is one of the sources", "Name another file after -o.")])
    if replace or not target.exists():
        return
    try:
        filled = filled_fields(target)
    except UnreadablePdfError:
        help_ = "Name another file after -o, or say --replace."
        stop_at([_problem("output-other", f"{target} exists and is not a PDF of ours", help_)])
        return
    if filled:
        shown = ", ".join(f"{name} = {value}" for name, value in filled[:5])
        more = " …" if len(filled) > 5 else ""
        fact = f"{target} holds {len(filled)} filled fields, which would be lost ({shown}{more})"
        stop_at([_problem("output-filled", fact, "Name another file after -o, or say --replace.")])


def _write(target: Path, pressed: Pressed) -> None:
    from builder.press import write_whole

    try:
        write_whole(target, pressed.pdf)
    except OSError as error:
        fact = f"{target} cannot be written: {(error.strerror or 'unknown reason').lower()}"
        stop_at([_problem("output", fact, "Check the folder's rights and the free space; the old file is intact.")])
        raise Stopped(PROBLEMS) from error
    size = len(pressed.pdf) / 1024
    click.echo(f"{target}: {pressed.pages} pages, {pressed.field_count} fields, {size:.0f} KiB")


def _problem(code: str, fact: str, help_: str) -> Problem:
    return Problem(code, None, fact, help_)
