"""`loadleaf explain`: why each set has its load."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from builder.cli.options import FILES, PLAIN_SPACES, language_option, loaded
from builder.cli.outcome import say, show_json, stop_at
from builder.values.problem import did_you_mean, listing

if TYPE_CHECKING:
    from builder.intake import Loaded
    from builder.plan import Plan


@click.command(epilog="Example: loadleaf explain client.yaml block.yaml --week 3 --day 1")
@FILES
@click.option("--week", type=click.IntRange(min=1), help="Only this week.")
@click.option("--day", type=click.IntRange(min=1), help="Only this day of the week (counted from 1).")
@click.option("--brief", is_flag=True, help="Lifts down, weeks across: the heaviest set of each week.")
@click.option("--lift", help="Only this movement and what is loaded from it, a line for each session.")
@click.option(
    "--against",
    multiple=True,
    type=click.Path(path_type=Path),
    help="Tell what differs from the plan of this file or folder, as often as you like; what it lacks is as in FILES.",
)
@language_option
@click.option("--json", "as_json", is_flag=True, help="Print the whole plan as JSON.")
def explain(
    files: tuple[Path, ...],
    week: int | None,
    day: int | None,
    brief: bool,
    lift: str | None,
    against: tuple[Path, ...],
    language: str | None,
    as_json: bool,
) -> None:
    """Print every set of the plan made from FILES with the reasons for its load.

    FILES hold a client and a block, and may hold movements and a brand, whose language is then used.
    """
    from builder.work import explain

    if as_json and (week is not None or day is not None):
        raise click.UsageError("--json prints the whole plan; leave --week and --day out.")
    if sum((as_json, brief, lift is not None, bool(against), week is not None or day is not None)) > 1:
        raise click.UsageError(
            "--json, --brief, --lift, --against and --week/--day tell the plan each in its own way."
        )
    ready = loaded(files)
    sources = ready.sources
    assert sources is not None
    done = explain.explain(sources, language)
    if as_json:
        show_json(done.as_json())
        return
    if week is not None and week > len(done.plan.weeks):
        raise click.BadParameter(f"the block has {len(done.plan.weeks)} weeks", param_hint="--week")
    days = sorted({session.day for session in done.plan.sessions() if week in (None, session.week)})
    if day is not None and day not in days:
        where = "the block" if week is None else f"week {week}"
        raise click.BadParameter(f"{where} has the days {listing(map(str, days))}", param_hint="--day")
    if brief:
        lines = done.brief(shutil.get_terminal_size((100, 24)).columns)
    elif lift is not None:
        lines = done.lift(_trained(done.plan, sources.movements.named(lift), lift))
    elif against:
        lines = done.against(_other(ready, against))
    else:
        lines = done.as_text(week, day)
    for line in lines:
        say(line.translate(PLAIN_SPACES))


def _trained(plan: Plan, name: str | None, word: str) -> str:
    """The movement of the plan that a word names."""
    known = dict.fromkeys(slot.movement for session in plan.sessions() for slot in session.slots)
    if name is None or not any(name in (slot.movement, slot.lift) for s in plan.sessions() for slot in s.slots):
        help_ = did_you_mean(word, [*known]) or f"Planned are {listing(known, 30)}."
        raise click.BadParameter(f'the plan has no "{word}". {help_}', param_hint="--lift")
    return name


def _other(ready: Loaded, against: Sequence[Path]) -> Plan:
    """The plan to compare with; problems of its files end the command."""
    from builder.plan import make_plan
    from builder.work import explain

    other = explain.beside(ready, loaded(against, need=()))
    stop_at(other.problems)
    assert other.sources is not None
    return make_plan(other.sources)
