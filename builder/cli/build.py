"""`loadleaf build`: the booklet as a PDF."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from builder.cli.doctor import native_libraries
from builder.cli.options import FILES, Stamped, date_option, language_option, loaded, owner_password
from builder.cli.outcome import stage, stop_at
from builder.cli.target import guard, write

PAPERS = ("A4", "Letter", "A5", "half-letter")
EDITIONS = ("personal", "pocket", "log")


@click.command()
@FILES
@click.option("-o", "--output", type=click.Path(path_type=Path), help="The PDF to write (default: lifter-block.pdf).")
@click.option(
    "--paper", type=click.Choice(PAPERS, case_sensitive=False), help="Page size (default: the brand's, or A4)."
)
@language_option
@click.option("--theme", help="Look of the pages (default: the brand's).")
@click.option("--edition", type=click.Choice(EDITIONS), default="personal", show_default=True, help="Which pages.")
@click.option("--no-fields", is_flag=True, help="Leave the form fields out: for print only.")
@click.option("--bleed", is_flag=True, help="For a print shop: 3 mm of bleed, crop marks and no form fields.")
@click.option("--buyer", type=Stamped(60), default="", help="Print this buyer's name small on each page.")
@click.option("--order", type=Stamped(40), default="", help="Print this order number small on each page.")
@click.option(
    "--owner-password-file",
    type=click.Path(path_type=Path),
    help="Lock the PDF against changes with the password in this file; forms can still be filled and printed.",
)
@click.option("--replace", is_flag=True, help="Overwrite a PDF even if it holds filled fields.")
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
    buyer: str,
    order: str,
    owner_password_file: Path | None,
    replace: bool,
    on: date,
) -> None:
    """Build the booklet from FILES: a client and a block, and a brand and movements if there are any."""
    stage(verbose, "sources")
    result = loaded(files)
    assert result.sources is not None
    # Loaded only now, so that a file that will not do is refused at once.
    from builder.booklet.model import Edition, Paper
    from builder.press import locked
    from builder.publish import Choices, publish, suggested_name

    password = owner_password(owner_password_file) if owner_password_file else None
    target = output or Path(suggested_name(result.sources))
    guard(target, [Path(name) for name, _ in result.texts], replace=replace)
    fillable = not (no_fields or bleed)
    choices = Choices(
        on, Paper(paper) if paper else None, theme, Edition(edition), fillable, language, bleed, buyer, order
    )
    with native_libraries():
        done = publish(result, choices, lambda name: stage(verbose, name))
    stop_at(done.problems)
    assert done.pressed is not None
    pdf = locked(done.pressed.pdf, password) if password else done.pressed.pdf
    write(target, pdf)
    size = len(pdf) / 1024
    click.echo(f"{target}: {done.pressed.pages} pages, {done.pressed.field_count} fields, {size:.0f} KiB")
