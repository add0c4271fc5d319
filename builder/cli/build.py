"""`loadleaf build`: the booklet as a PDF."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from builder.cli.machines import native_libraries
from builder.cli.options import (
    FILES,
    DayParam,
    ShareOfMax,
    booklet_options,
    date_option,
    loaded,
)
from builder.cli.outcome import say_tinted, stage, stop_at, tell
from builder.cli.progress import ProgressBar
from builder.cli.protect import protected
from builder.cli.resume import agreed, asked, tell_left
from builder.cli.target import guard, write

if TYPE_CHECKING:
    from builder.plan import Plan


@click.command(epilog="Example: loadleaf build client.yaml block.yaml brand --paper A5 -o booklet.pdf")
@FILES
@booklet_options
@click.option("--no-fields", is_flag=True, help="Leave the form fields out: for print only.")
@click.option("--bleed", is_flag=True, help="For a print shop: 3 mm of bleed, crop marks and no form fields.")
@click.option("--from-week", type=click.IntRange(2, 52), help="Go on from this week; alone, from the newest tests.")
@click.option("--resume", type=DayParam(), help="After a pause: the first day of --from-week.")
@click.option("--renew", is_flag=True, help="After a pause: plan from the newest tests instead of going on.")
@click.option("--share", type=ShareOfMax(), help="Take this share of the working maxes from --from-week on.")
@click.option("--log", "logs", multiple=True, type=click.Path(path_type=Path),
              help="A filled booklet: its entries move into the new one.")
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
    edition: str | None,
    no_fields: bool,
    bleed: bool,
    replace: bool,
    jobs: int | None,
    cache: str,
    from_week: int | None,
    resume: date | None,
    renew: bool,
    share: Decimal | None,
    logs: tuple[Path, ...],
    on: date,
    former: tuple[Path, ...],
    **options: Any,
) -> None:
    """Build the booklet from FILES: a client and a block, and a brand and movements if there are any."""
    stage(verbose, "sources")
    made, whole, password = protected(options, (*logs, *former))
    stretch = asked(from_week, resume, renew, share)
    result, answers = loaded(files), agreed(logs)
    assert result.sources is not None
    # Loaded only now, so that a file that will not do is refused at once.
    from builder.pages.model import Edition, Layout, Paper
    from builder.values.lists import Keep
    from builder.work.build import build
    from builder.work.publish import Choices, suggested_name
    from builder.work.publish.selling import settled

    which = Edition(edition) if edition else None
    inputs = [*(Path(name) for name, _ in result.texts), *logs, *former]
    fillable = not (no_fields or bleed)
    bar = ProgressBar("pages", verbose)
    choices = Choices(
        on, Paper(paper) if paper else None, theme, which, fillable, language, bleed, whole,
        (), made.buyer, made.order, made.locked, Layout(layout) if layout else None, jobs, Keep(cache),
        bar.told,
    )  # fmt: skip
    protection = settled(choices, result.sources).protection
    usual = suggested_name(result.sources, which)
    target = guard(output, usual, inputs, kind="booklet", replace=replace, made=protection)
    with native_libraries(), bar:
        done = build(
            result, choices, stretch=stretch, answers=answers, password=password,
            stage=bar.stage,
        )  # fmt: skip
    stop_at([problem for problem in done.problems if problem not in result.problems])
    assert done.pressed is not None
    write(target, done.pdf, inputs)
    tell_left(done.left)
    for caution in done.cautions:
        say_tinted(caution.as_text(), "red", err=True)
    _tell(done.plan)
    facts = f"{done.pressed.pages} pages, {done.pressed.field_count} fields, {len(done.pdf) / 1024:.0f} KiB"
    tell(f"{target.named}: {facts}")


def _tell(plan: Plan | None) -> None:
    """Whose plan it is, from when to when, and what is cautioned."""
    assert plan is not None
    days = [session.on for session in plan.sessions()]
    weeks = "1 week" if len(plan.weeks) == 1 else f"{len(plan.weeks)} weeks"
    tell(f"{plan.client.client.name}: {plan.block.block.title}")
    sessions = "1 session" if len(days) == 1 else f"{len(days)} sessions"
    tell(f"{weeks}, {sessions}, {min(days).isoformat()} to {max(days).isoformat()}")
    tell(f"Cautions: {', '.join(plan.cautions) or 'none'}")
