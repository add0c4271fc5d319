"""`loadleaf strip`: a filled booklet without what is personal, to be passed on."""

from __future__ import annotations

from pathlib import Path

import click

from builder.cli.outcome import got, tell
from builder.cli.target import guard, write


@click.command(epilog="Example: loadleaf strip filled.pdf -o shown.pdf")
@click.argument("filled", type=click.Path(path_type=Path))
@click.option("-o", "--output", type=click.Path(path_type=Path),
              help="The PDF to write (default: FILLED-stripped.pdf).")
@click.option("--replace", is_flag=True, help="Overwrite a file of another kind; never filled fields.")
def strip(filled: Path, output: Path | None, replace: bool) -> None:
    """Take what is personal out of FILLED, a booklet that was filled in, so that its training can be shown to others.

    The pages with sets and results stay, with what was written there. FILLED is not changed.
    """
    from builder.work.strip import strip as work

    target = guard(output, f"{filled.stem}-stripped.pdf", [filled], kind="booklet", replace=replace)
    made = got(work(filled))
    write(target, made.pdf, [filled])
    tell(f"{target.named}: {made.pages} of {made.of} pages, {made.entries} entries, {len(made.pdf) / 1024:.0f} KiB")
    if made.buyer:
        tell(f"Every page still prints the buyer, {made.buyer}. Build without --buyer what you pass on.", err=True)
    tell("Its pages print loads, days and cautions; look through them before you pass it on.", err=True)
