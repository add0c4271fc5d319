"""The options of `loadleaf build` for half-way changes: a new stretch from a week on, and the entries made so far."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

import click

from builder.cli.outcome import got, say

if TYPE_CHECKING:
    from builder.given import Resume
    from builder.log import Answers

SHOWN = 5


def asked(week: int | None, on: date | None, renew: bool, share: Decimal | None) -> Resume | None:
    """The new stretch that the options ask for; None without a week, and wrong usage for options that need one."""
    from builder.given import Resume

    if week is not None:
        return Resume.model_construct(week=week, on=on, renew=True if renew else None, share=share)
    if on is not None or renew or share is not None:
        raise click.UsageError("--resume, --renew and --share need --from-week.")
    return None


def agreed(logs: Sequence[Path]) -> Answers | None:
    """What filled copies say, None without any; the command ends when they contradict each other."""
    if not logs:
        return None
    from builder.work.read import answers_of

    return got(answers_of(logs))


def tell_left(left: Sequence[str]) -> None:
    """Says which entries of the old booklet the new one does not have."""
    if left:
        shown = ", ".join(left[:SHOWN]) + (" …" if len(left) > SHOWN else "")
        say(f"{len(left)} entries stay in the old booklet only: {shown}", err=True)
