"""`loadleaf explain`: why each set has its load."""

from __future__ import annotations

from pathlib import Path

import click

from builder.cli.options import FILES, PLAIN_SPACES, language_option, loaded
from builder.cli.outcome import say, show_json


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
    from builder.work import explain

    if as_json and (week is not None or day is not None):
        raise click.UsageError("--json prints the whole plan; leave --week and --day out.")
    sources = loaded(files).sources
    assert sources is not None
    done = explain.explain(sources, language)
    if as_json:
        show_json(done.as_json())
        return
    if week is not None and week > len(done.plan.weeks):
        raise click.BadParameter(f"the block has {len(done.plan.weeks)} weeks", param_hint="--week")
    for line in done.as_text(week, day):
        say(line.translate(PLAIN_SPACES))
