"""Days away from training: which weeks they move or thin, and how the load comes back afterwards. Progress stays.

Why two lists. What a pause has likely cost is a matter of the body and counts for every pause (`breaks`). How the load
comes back is a matter of the plan (`pauses`), and is left to the coach who renews the max or names a share: a second
cut on top would take the same loss twice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from builder.given import Client, Resume
from builder.plan.basis import Basis
from builder.plan.model import Reason, because
from builder.plan.prescribe import Prescription, Wanted
from builder.plan.stretches import Stretch
from builder.training.reentry import WEEK, Pause, load_share, weeks_back
from builder.values.quantity import NOTHING, Rounding

DAY = timedelta(days=1)


def breaks(client: Client, parts: tuple[Stretch, ...]) -> tuple[Pause, ...]:
    """Every pause of a week or more, each once: times away, and weeks that begin late."""
    # Days away and a week that begins late may tell of one pause; it must not cost twice.
    joined: list[Pause] = []
    for one in sorted((*_away(client), *(pause for _, pause in _late(client, parts))), key=lambda one: one.first):
        if joined and one.first <= joined[-1].back:
            one = Pause(joined[-1].first, max(joined.pop().back, one.back))
        joined.append(one)
    return _whole(joined)


def pauses(client: Client, parts: tuple[Stretch, ...]) -> tuple[Pause, ...]:
    """Those that the load has to come back from: not where it is new, or the coach says how much of it is taken."""
    kept = (pause for resume, pause in _late(client, parts) if not resume.renews and resume.share is None)
    return _whole((*_away(client), *kept))


def _away(client: Client) -> Iterator[Pause]:
    return (Pause(span.first, span.last + DAY) for span in client.training.away)


def _late(client: Client, parts: tuple[Stretch, ...]) -> Iterator[tuple[Resume, Pause]]:
    for resume, before, part in zip(client.training.resumes, parts[:-1], parts[1:], strict=True):
        if resume.on is not None:
            yield resume, Pause(before.day_of(part.first), part.starts)


def _whole(found: Iterable[Pause]) -> tuple[Pause, ...]:
    # Less than a week takes no load off either (`training.reentry.first_week_cut`).
    return tuple(one for one in found if one.days >= WEEK)


def share_of(found: Iterable[Pause], starts: date) -> Decimal:
    """How much of the load is taken in a week that begins on `starts`: the least that a pause before it asks for."""
    shares = (load_share(one.days, _week_after(one, starts)) for one in found if _after(one, starts))
    return min(shares, default=Decimal(1))


def _after(one: Pause, starts: date) -> bool:
    # The week in which a pause ends counts: its days before the return have no session.
    return one.back < starts + timedelta(weeks=1)


def _week_after(one: Pause, starts: date) -> int:
    """The week after a pause, counted from 0; the one in which it ends is the first."""
    return max(-(-(starts - one.back).days // WEEK), 0)


def told(found: Iterable[Pause], weeks: Iterable[tuple[int, date]]) -> Iterator[Reason]:
    """What each pause does to the weeks after it: the first of them, its share, and when the load is back."""
    numbered = tuple(weeks)
    for one in found:
        first = next(((number, starts) for number, starts in numbered if _after(one, starts)), None)
        if first is not None:
            number, starts = first
            share = load_share(one.days, _week_after(one, starts))
            back = min(number + weeks_back(one.days), numbered[-1][0])
            yield because("re-entry", week=number, days=one.days, load_share=share, back=back)


def lightened(prescription: Prescription, share: Decimal, basis: Basis) -> Prescription:
    """The same sets at a share of their load, the body counted; nothing is decided from them, and loads round down."""
    sets = tuple(_lighter(wanted, share, basis) for wanted in prescription.sets)
    return replace(prescription, sets=sets, outcomes=(), rounding=Rounding.DOWN)


def _lighter(wanted: Wanted, share: Decimal, basis: Basis) -> Wanted:
    if wanted.target is None:
        return wanted
    whole = basis.whole(wanted.target)
    target = max(basis.load_of(whole, share), NOTHING)
    reason = because("re-entry-load", load_share=share, target_kg=target, **basis.body)
    part = None if wanted.share is None or not whole else wanted.share * basis.whole(target) / whole
    return replace(wanted, target=target, share=part, why=(*wanted.why, reason))
