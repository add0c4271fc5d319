"""What is otherwise for this client than in the shared block, told so that nobody forgets it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from builder.given import ChangeMade
from builder.plan import Plan
from builder.review.finding import Finding, Gravity, Rule

_CHANGED = Rule(
    "changed-for-client",
    'Take it out of "changes:" of the profile when it is no longer needed.',
    "the client's own changes",
    Gravity.NOTE,
)
_SAID = {
    "swap": "{movement} is swapped for {by}",
    "drop": "{movement} is dropped",
    "alter": "{movement} has other values ({written})",
    "add": "{movement} is added",
}


def changed_for_client(plan: Plan, _today: date) -> Iterator[Finding]:
    """Every change of the profile, with its weeks and its reason."""
    yield from (_CHANGED.at("", _told(one)) for one in plan.changes)


def _told(one: ChangeMade) -> str:
    said = _SAID[one.verb].format(movement=one.movement, by=one.by, written=one.written)
    weeks = f", weeks {one.weeks.low} to {one.weeks.high}" if one.weeks else ""
    why = f": {one.why.rstrip('.')}" if one.why else ""
    return f"{said} on {', '.join(one.days)}{weeks}{why}"
