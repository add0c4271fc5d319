"""`loadleaf explain`: why each set has its load."""

from __future__ import annotations

from pathlib import Path

import click

from builder.cli.options import FILES, PLAIN_SPACES, language_option, loaded
from builder.cli.outcome import show_json


@click.command()
@FILES
@click.option("--week", type=click.IntRange(min=1), help="Only this week.")
@click.option("--day", type=click.IntRange(min=1), help="Only this day of the week (counted from 1).")
@language_option
@click.option("--json", "as_json", is_flag=True, help="Print the whole plan as JSON.")
def explain(files: tuple[Path, ...], week: int | None, day: int | None, language: str | None, as_json: bool) -> None:
    """Print every set of the plan made from FILES with the reasons for its load.

    FILES hold a client and a block, and may hold movements and a brand, whose language is then used.
    """
    from builder.pages.explain import plan_json, plan_text
    from builder.plan import make_plan
    from builder.work.texts import DEFAULT_LANGUAGE, load_words

    result = loaded(files)
    assert result.sources is not None
    plan = make_plan(result.sources)
    own = result.sources.brand.language if result.sources.brand else None
    words = load_words(language or own or DEFAULT_LANGUAGE, plan.unit)
    if as_json and (week is not None or day is not None):
        raise click.UsageError("--json prints the whole plan; leave --week and --day out.")
    if as_json:
        show_json(plan_json(plan, words))
        return
    if week is not None and week > len(plan.weeks):
        raise click.BadParameter(f"the block has {len(plan.weeks)} weeks", param_hint="--week")
    for line in plan_text(plan, words, week, day):
        click.echo(line.translate(PLAIN_SPACES))
