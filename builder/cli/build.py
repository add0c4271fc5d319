"""`loadleaf build`: the booklet as a PDF."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import click

from builder.cli.doctor import native_libraries
from builder.cli.options import (
    FILES,
    Day,
    ShareOfMax,
    Stamped,
    booklet_options,
    date_option,
    loaded,
    owner_password,
)
from builder.cli.outcome import stage, stop_at
from builder.cli.resume import asked, resumed, tell_left
from builder.cli.target import guard, write


@click.command()
@FILES
@booklet_options
@click.option("--no-fields", is_flag=True, help="Leave the form fields out: for print only.")
@click.option("--bleed", is_flag=True, help="For a print shop: 3 mm of bleed, crop marks and no form fields.")
@click.option("--no-sources", is_flag=True, help="Keep the coach's rules out of the file: carry the profile only.")
@click.option("--buyer", type=Stamped(60), default="", help="Print this buyer's name small on each page.")
@click.option("--order", type=Stamped(40), default="", help="Print this order number small on each page.")
@click.option(
    "--owner-password-file",
    type=click.Path(path_type=Path),
    help="Lock the PDF against changes with the password in this file; forms can still be filled and printed.",
)
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
    buyer: str,
    order: str,
    owner_password_file: Path | None,
    replace: bool,
    from_week: int | None,
    resume: date | None,
    share: Decimal | None,
    logs: tuple[Path, ...],
    on: date,
) -> None:
    """Build the booklet from FILES: a client and a block, and a brand and movements if there are any."""
    stage(verbose, "sources")
    result, entries = resumed(loaded(files), asked(from_week, resume, share), logs)
    assert result.sources is not None
    # Loaded only now, so that a file that will not do is refused at once.
    from builder.booklet.model import Edition, Paper
    from builder.press import locked
    from builder.publish import Choices, publish, suggested_name

    password = owner_password(owner_password_file) if owner_password_file else None
    inputs = [*(Path(name) for name, _ in result.texts), *logs]
    target = guard(output, suggested_name(result.sources), inputs, kind="booklet", replace=replace)
    fillable = not (no_fields or bleed)
    size, whole = Paper(paper) if paper else None, not no_sources
    choices = Choices(on, size, theme, Edition(edition), fillable, language, bleed, whole, entries.values, buyer, order)
    with native_libraries():
        done = publish(result, choices, lambda name: stage(verbose, name))
    stop_at(done.problems)
    assert done.pressed is not None and done.booklet is not None
    pdf = locked(done.pressed.pdf, password) if password else done.pressed.pdf
    write(target, pdf, inputs)
    tell_left(entries, {spec.name for spec in done.booklet.fields})
    facts = f"{done.pressed.pages} pages, {done.pressed.field_count} fields, {len(pdf) / 1024:.0f} KiB"
    click.echo(f"{target.named}: {facts}")
