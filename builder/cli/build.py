"""`loadleaf build`: the booklet as a PDF."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import click

from builder.cli.options import FILES, Day, ShareOfMax, booklet_options, date_option, loaded
from builder.cli.outcome import stage, stop_at
from builder.cli.resume import resumed, tell_left
from builder.cli.target import guard, write


@click.command()
@FILES
@booklet_options
@click.option("--no-fields", is_flag=True, help="Leave the form fields out: for print only.")
@click.option("--bleed", is_flag=True, help="For a print shop: 3 mm of bleed, crop marks and no form fields.")
@click.option("--no-sources", is_flag=True, help="Keep the coach's rules out of the file: carry the profile only.")
@click.option("--from-week", type=click.IntRange(2, 52), help="Plan anew from this week on, from the newest tests.")
@click.option("--resume", type=Day(), help="After a pause: the first day of --from-week.")
@click.option("--share", type=ShareOfMax(), help="Take this share of the working maxes from --from-week on.")
@click.option("--log", "logs", multiple=True, type=click.Path(path_type=Path), help="Filled in: its entries move.")
@date_option
@click.pass_obj
def build(
    verbose: bool,
    files: tuple[Path, ...],
    output: Path | None,
    paper: str | None,
    theme: str | None,
    language: str | None,
    edition: str,
    no_fields: bool,
    bleed: bool,
    no_sources: bool,
    replace: bool,
    from_week: int | None,
    resume: date | None,
    share: Decimal | None,
    logs: tuple[Path, ...],
    on: date,
) -> None:
    """Build the booklet from FILES: a client and a block, and a brand and movements if there are any."""
    from builder.booklet.model import Edition, Paper
    from builder.profile import Resume
    from builder.publish import Choices, publish, suggested_name

    stage(verbose, "sources")
    if from_week is None and (resume is not None or share is not None):
        raise click.UsageError("--resume and --share need --from-week.")
    again = None if from_week is None else Resume.model_construct(week=from_week, on=resume, share=share or Decimal(1))
    result, entries = resumed(loaded(files), again, logs)
    assert result.sources is not None
    target = output or Path(suggested_name(result.sources))
    guard(target, [*(Path(name) for name, _ in result.texts), *logs], replace=replace)
    fillable = not (no_fields or bleed)
    size, whole = Paper(paper) if paper else None, not no_sources
    choices = Choices(on, size, theme, Edition(edition), fillable, language, bleed, whole, entries.values)
    done = publish(result, choices, lambda name: stage(verbose, name))
    stop_at(done.problems)
    assert done.pressed is not None and done.booklet is not None
    write(target, done.pressed.pdf)
    large = len(done.pressed.pdf) / 1024
    tell_left(entries, {spec.name for spec in done.booklet.fields})
    click.echo(f"{target}: {done.pressed.pages} pages, {done.pressed.field_count} fields, {large:.0f} KiB")
