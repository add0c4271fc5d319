"""The half-way changes of `loadleaf build`: a block planned anew from a week on, with the entries made so far."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

import click

from builder.cli.outcome import stop_at
from builder.cli.read import read_answers

if TYPE_CHECKING:
    from builder.given import Resume
    from builder.intake import Loaded
    from builder.log import Answers, Moved

NO_WEEK = 100
"""Above every week: without a new plan the entries of all weeks move."""
SHOWN = 5


def asked(week: int | None, on: date | None, share: Decimal | None) -> Resume | None:
    """The new stretch that the options ask for; None without a week, and wrong usage for options that need one."""
    from builder.given import Resume

    if week is not None:
        return Resume.model_construct(week=week, on=on, share=share or Decimal(1))
    if on is not None or share is not None:
        raise click.UsageError("--resume and --share need --from-week.")
    return None


def resumed(loaded: Loaded, resume: Resume | None, logs: Sequence[Path]) -> tuple[Loaded, Moved]:
    """The sources with the new stretch laid over them, and the entries for the new booklet.

    The command ends when copies of the log contradict each other, or an entry would stand beside another plan.
    """
    from builder.intake import understood
    from builder.log import Moved, moved, overlay, read_log
    from builder.log.manifest import planned_rows
    from builder.plan import make_plan

    assert loaded.sources is not None
    answers = _agreed(logs) if logs else None
    if resume is not None:
        log = read_log(_knowing(answers, loaded))[0] if answers else None
        loaded = understood([*loaded.texts, overlay(loaded.sources, resume, log)])
        stop_at(loaded.problems)
    if answers is None:
        return loaded, Moved((), ())
    assert loaded.sources is not None
    rows = planned_rows(make_plan(loaded.sources))
    entries, problems = moved(answers, rows, resume.week if resume else NO_WEEK)
    stop_at(problems)
    return loaded, entries


def _knowing(answers: Answers, loaded: Loaded) -> Answers:
    """The answers with what the lifter had done before, which a copy to hand over does not carry."""
    from builder.log.manifest import lifts_before
    from builder.plan import make_plan

    if answers.manifest.protection.whole or loaded.sources is None:
        return answers
    lifts = lifts_before(make_plan(loaded.sources))
    return replace(answers, manifest=answers.manifest.model_copy(update={"lifts": lifts}))


def _agreed(logs: Sequence[Path]) -> Answers:
    answers, conflicts = read_answers(logs)
    stop_at(conflicts)
    return answers


def tell_left(entries: Moved, fields: Collection[str]) -> None:
    """Says which entries of the old booklet the new one, which has these form fields, does not have."""
    left = entries.lost(fields)
    if left:
        shown = ", ".join(left[:SHOWN]) + (" …" if len(left) > SHOWN else "")
        click.echo(f"{len(left)} entries stay in the old booklet only: {shown}", err=True)
