"""`loadleaf impose`: a booklet as sheets that are printed on both sides, folded and stapled."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from builder.cli.options import AnyCase
from builder.cli.outcome import got, show, stage, tell
from builder.cli.target import guard, write
from builder.values.problem import Problem, Severity

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


@click.command(epilog="Example: loadleaf impose booklet.pdf --sheet A4 -o sheets.pdf")
@click.argument("booklet", type=click.Path(path_type=Path))
@click.option("-o", "--output", type=click.Path(path_type=Path), help="The PDF to write (default: BOOKLET-sheets.pdf).")
@click.option(
    "--sheet",
    type=AnyCase(SHEETS),
    default="auto",
    show_default=True,
    help="Paper to print on; auto takes A4 or Letter, whichever fits.",
)
@click.option(
    "--creep", type=Creep(), default=0.0, help="Move pages to the fold by so much more on each sheet inwards."
)
@click.option(
    "--signatures",
    type=click.IntRange(1, 20),
    metavar="SHEETS",
    help="Fold the sheets in signatures of so many, to be sewn or glued at the spine.",
)
@click.option("--fold", is_flag=True, help="Print ticks where the sheets are folded.")
@click.option("--blank", is_flag=True, help="Leave out all that was filled in.")
@click.option("--replace", is_flag=True, help="Overwrite a file of another kind; never filled fields.")
@click.pass_obj
def impose(
    verbose: bool,
    booklet: Path,
    output: Path | None,
    sheet: str,
    creep: float,
    signatures: int | None,
    fold: bool,
    blank: bool,
    replace: bool,
) -> None:
    """Make sheets for saddle stitching from BOOKLET, a PDF that was built or filled in.

    Print them on both sides, flipped on the short edge, at actual size. Fold them together and staple the fold.
    """
    from builder.pdf.sheets.impose import Folding
    from builder.work import impose as work

    target = guard(output, f"{booklet.stem}-sheets.pdf", [booklet], kind="sheets", replace=replace)
    stage(verbose, "sheets")
    made = got(work.impose(booklet, Folding(None if sheet == "auto" else sheet, creep, fold, blank, signatures)))
    write(target, made.pdf, [booklet])
    added = {0: "", 1: " and 1 blank page"}.get(made.blanks, f" and {made.blanks} blank pages")
    sheets = "1 sheet" if made.sheets == 1 else f"{made.sheets} sheets"
    tell(f"{target.named}: {made.pages} pages{added} on {sheets} of {made.sheet}, {len(made.pdf) / 1024:.0f} KiB")
    if signatures and made.sheets > made.folded:
        tell(f"Fold them in signatures of {made.folded}, one after the other, and sew or glue the spine.")
    show(_thick(made.folded))
    tell("Print on both sides, flipped on the short edge, at actual size.")


def _thick(folded: int) -> Iterator[Problem]:
    """A word on more sheets than a stapler folds."""
    from builder.pdf.sheets.saddle import MOST_STAPLED

    if folded > MOST_STAPLED:
        fact = f"{folded} sheets are folded into each other; a stapler takes about {MOST_STAPLED}"
        help_ = "Say --signatures 4 to sew or glue signatures of four, or bind single leaves with comb or wire."
        yield Problem("booklet-thick", None, fact, help_, Severity.WARNING)
