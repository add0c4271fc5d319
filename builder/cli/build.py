"""`loadleaf build`: the booklet as a PDF."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import click

from builder.cli.doctor import native_libraries
from builder.cli.options import (
    FILES,
    Day,
    ShareOfMax,
    booklet_options,
    date_option,
    loaded,
)
from builder.cli.outcome import stage, stop_at
from builder.cli.protect import protected
from builder.cli.resume import asked, resumed, tell_left
from builder.cli.target import guard, write


@click.command()
@FILES
@booklet_options
@click.option("--no-fields", is_flag=True, help="Leave the form fields out: for print only.")
@click.option("--bleed", is_flag=True, help="For a print shop: 3 mm of bleed, crop marks and no form fields.")
@click.option("--from-week", type=click.IntRange(2, 52), help="Plan anew from this week on, from the newest tests.")
@click.option("--resume", type=Day(), help="After a pause: the first day of --from-week.")
@click.option("--share", type=ShareOfMax(), help="Take this share of the working maxes from --from-week on.")
@click.option("--log", "logs", multiple=True, type=click.Path(path_type=Path), help="Filled in: its entries move.")
@date_option
@click.pass_obj
def build(
    verbose: bool,
    /,
    files: tuple[Path, ...],
    output: Path | None,
    paper: str | None,
    theme: str | None,
    layout: str | None,
    language: str | None,
    edition: str,
    no_fields: bool,
    bleed: bool,
    replace: bool,
    from_week: int | None,
    resume: date | None,
    share: Decimal | None,
    logs: tuple[Path, ...],
    on: date,
    former: tuple[Path, ...],
    **options: Any,
) -> None:
    """Build the booklet from FILES: a client and a block, and a brand and movements if there are any."""
    stage(verbose, "sources")
    made, password = protected(options, (*logs, *former))
    result, entries = resumed(loaded(files), asked(from_week, resume, share), logs)
    assert result.sources is not None
    # Loaded only now, so that a file that will not do is refused at once.
    from builder.pages.model import Edition, Layout, Paper
    from builder.pdf import locked
    from builder.work.publish import Choices, publish, suggested_name

    target = output or Path(suggested_name(result.sources))
    guard(target, [*(Path(name) for name, _ in result.texts), *logs, *former], replace=replace)
    fillable = not (no_fields or bleed)
    choices = Choices(
        on, Paper(paper) if paper else None, theme, Edition(edition), fillable, language, bleed, made.whole,
        entries.spelled, made.buyer, made.order, made.locked, Layout(layout) if layout else None,
    )  # fmt: skip
    with native_libraries():
        done = publish(result, choices, lambda name: stage(verbose, name))
    stop_at(done.problems)
    assert done.pressed is not None and done.booklet is not None
    pdf = locked(done.pressed.pdf, password) if password else done.pressed.pdf
    write(target, pdf)
    tell_left(entries, {spec.name for spec in done.booklet.fields})
    click.echo(f"{target}: {done.pressed.pages} pages, {done.pressed.field_count} fields, {len(pdf) / 1024:.0f} KiB")
