"""`loadleaf intake`: a form that asks a buyer for all that a profile needs."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from builder.cli.machines import native_libraries
from builder.cli.options import AnyCase, date_option, language_option, loaded, theme_option
from builder.cli.outcome import stage, stop_at, tell
from builder.cli.target import guard, write
from builder.values.lists import PAPERS
from builder.values.quantity import Unit


@click.command(epilog="Example: loadleaf intake brand.yaml --units kg -o form.pdf")
@click.argument("brand", nargs=-1, type=click.Path(path_type=Path))
@click.option("-o", "--output", type=click.Path(path_type=Path), help="The PDF to write (default: intake.pdf).")
@click.option("--units", type=click.Choice([*map(str, Unit)]), default="kg", show_default=True,
              help="What is weighed in.")
@click.option("--paper", type=AnyCase(PAPERS),
              help="Page size (default: the brand's, or A4).")
@language_option
@theme_option
@click.option("--no-fields", is_flag=True, help="Leave the form fields out: for the pen only.")
@click.option("--replace", is_flag=True, help="Overwrite a file of another kind; never filled fields.")
@date_option
@click.pass_obj
def intake(
    verbose: bool,
    brand: tuple[Path, ...],
    output: Path | None,
    units: str,
    paper: str | None,
    language: str | None,
    theme: str | None,
    no_fields: bool,
    replace: bool,
    on: date,
) -> None:
    """Make an intake form in the look of BRAND: the lifter, tested sets, the gym, limits, screening and consent.

    `loadleaf enrol` makes a profile of each filled one.
    """
    from builder.pages.model import Paper
    from builder.work.intake import intake_form
    from builder.work.publish import Choices

    sources = loaded(brand, ["brand"]).sources if brand else None
    target = guard(output, "intake.pdf", brand, kind="intake", replace=replace)
    choices = Choices(on, Paper(paper) if paper else None, theme, fillable=not no_fields, language=language)
    with native_libraries():
        done = intake_form(sources, Unit(units), choices, lambda name: stage(verbose, name))
    stop_at(done.problems)
    assert done.pressed is not None
    write(target, done.pressed.pdf, brand)
    pages = "1 page" if done.pressed.pages == 1 else f"{done.pressed.pages} pages"
    tell(f"{target.named}: {pages}, {done.pressed.field_count} fields, {len(done.pressed.pdf) / 1024:.0f} KiB")
