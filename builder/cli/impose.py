"""`loadleaf impose`: a booklet as sheets that are printed on both sides, folded and stapled."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import click

from builder.cli.outcome import stage, stop_at
from builder.cli.target import guard, write
from builder.values.problem import Problem

SHEETS = ("auto", "A4", "Letter", "A3", "Tabloid", "SRA4", "SRA3")


class Creep(click.ParamType[float]):
    """Millimetres for each sheet, from 0 to 1."""

    name = "MM"

    def convert(self, value: Any, param: click.Parameter | None, context: click.Context | None) -> float:
        """The number, or a usage error that shows how to write one."""
        if isinstance(value, float):
            return value
        found = re.fullmatch(r"(\d*\.?\d+)\s*(?:mm)?", value.strip())
        if found is None or float(found[1]) > 1:
            self.fail(f'"{value}" is no length from 0 to 1 mm, such as 0.1 or "0.1 mm".', param, context)
        return float(found[1])


@click.command()
@click.argument("booklet", type=click.Path(path_type=Path))
@click.option("-o", "--output", type=click.Path(path_type=Path), help="The PDF to write (default: BOOKLET-sheets.pdf).")
@click.option(
    "--sheet",
    type=click.Choice(SHEETS, case_sensitive=False),
    default="auto",
    show_default=True,
    help="Paper to print on; auto takes A4 or Letter, whichever fits.",
)
@click.option(
    "--creep", type=Creep(), default=0.0, help="Move pages to the fold by so much more on each sheet inwards."
)
@click.option("--fold", is_flag=True, help="Print ticks where the sheets are folded.")
@click.option("--blank", is_flag=True, help="Leave out all that was filled in.")
@click.option("--replace", is_flag=True, help="Overwrite a PDF even if it holds filled fields.")
@click.pass_obj
def impose(
    verbose: bool,
    booklet: Path,
    output: Path | None,
    sheet: str,
    creep: float,
    fold: bool,
    blank: bool,
    replace: bool,
) -> None:
    """Make sheets for saddle stitching from BOOKLET, a PDF that was built or filled in.

    Print them on both sides, flipped on the short edge, at actual size. Fold them together and staple the fold.
    """
    from builder.pdf import PressError
    from builder.pdf.sheets.impose import Folding, impose

    target = output or Path(f"{booklet.stem}-sheets.pdf")
    data = _read(booklet)
    guard(target, [booklet], replace=replace)
    stage(verbose, "sheets")
    try:
        made = impose(data, Folding(None if sheet == "auto" else sheet, creep, fold, blank))
    except PressError as error:
        stop_at(error.problems)
        raise
    write(target, made.pdf)
    added = {0: "", 1: " and 1 blank page"}.get(made.blanks, f" and {made.blanks} blank pages")
    sheets = "1 sheet" if made.sheets == 1 else f"{made.sheets} sheets"
    click.echo(f"{target}: {made.pages} pages{added} on {sheets} of {made.sheet}, {len(made.pdf) / 1024:.0f} KiB")
    click.echo("Print on both sides, flipped on the short edge, at actual size.")


def _read(booklet: Path) -> bytes:
    try:
        return booklet.read_bytes()
    except OSError as error:
        fact = f"{booklet} cannot be read: {(error.strerror or 'unknown reason').lower()}"
        stop_at([Problem("unreadable", None, fact, "Check the name and the rights of the file.")])
        raise
