"""Notes on what the plan does for this client: no doubts, but nobody should forget them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from builder.given import ChangeMade
from builder.plan import Plan
from builder.review.checks_safety import SPOTTING, pressed_under_safeties
from builder.review.finding import Finding, Gravity, Hit, Rule

_REPLACED = Rule(
    "replaced",
    "See that the replacement trains what the block wants of this slot.",
    "the client's own limits",
    Gravity.NOTE,
)


def replaced(plan: Plan, _today: date) -> Iterator[Finding]:
    """Movements that the limits replace."""
    noted = [dict(note.facts) for note in plan.notes if note.step == "replaced"]
    yield from _REPLACED.once(
        Hit("", f"{facts['movement']} is replaced by {facts['by']} for the {facts['area']}") for facts in noted
    )


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


_ALONE = Rule("pressed-alone", "See that the safeties stand just below the chest.", SPOTTING, Gravity.NOTE)


def pressed_alone(plan: Plan, _today: date) -> Iterator[Finding]:
    """A barbell over the chest without a spotter, between safeties and with reps in reserve."""
    if names := pressed_under_safeties(plan):
        fact = f"{names}: no spotter is ever there; each set keeps a rep in reserve, and the bar has no collars"
        yield _ALONE.at("", fact)
