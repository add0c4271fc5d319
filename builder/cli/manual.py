"""`loadleaf manual`: the whole reference as a PDF to print."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from builder.cli.machines import native_libraries
from builder.cli.options import AnyCase, date_option, theme_option
from builder.cli.outcome import stage, stop_at, tell
from builder.cli.target import guard, write
from builder.values.lists import PAPERS


@click.command(epilog="Example: loadleaf manual -o manual.pdf")
@click.option(
    "-o", "--output", type=click.Path(path_type=Path), help="The PDF to write (default: loadleaf-manual.pdf)."
)
@click.option("--paper", type=AnyCase(PAPERS), help="Page size (default: A4).")
@theme_option
@click.option("--replace", is_flag=True, help="Overwrite it even if it is of another kind.")
@date_option
@click.pass_obj
def manual(verbose: bool, output: Path | None, paper: str | None, theme: str | None, replace: bool, on: date) -> None:
    """Make a PDF of all that `loadleaf help` prints: every command, key, kind, code and form field."""
    from builder.pages.model import Paper
    from builder.work import manual as work
    from builder.work.publish import Choices

    target = guard(output, "loadleaf-manual.pdf", (), kind="manual", replace=replace)
    choices = Choices(on, Paper(paper) if paper else None, theme)
    with native_libraries():
        done = work.manual(choices, lambda name: stage(verbose, name))
    stop_at(done.problems)
    assert done.pressed is not None
    write(target, done.pressed.pdf, ())
    tell(f"{target.named}: {done.pressed.pages} pages, {len(done.pressed.pdf) / 1024:.0f} KiB")
