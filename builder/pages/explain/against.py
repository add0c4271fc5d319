"""What differs between two plans: sets that changed, slots and sessions that only one of them has."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from builder.pages.explain.brief import sets_text
from builder.plan import Plan
from builder.words import Words

Place = tuple[int, int, str, int]
"""Week, day, movement or drill, and which one of its name on that day."""


def against_text(now: Plan, other: Plan, words: Words) -> Iterator[str]:
    """A line for each slot that differs, the other plan's sets before those of this one; then how many there are."""
    mine, theirs = _slots(now, words), _slots(other, words)
    count = 0
    for place in sorted({**mine, **theirs}):
        before, after = theirs.get(place), mine.get(place)
        if before == after:
            continue
        count += 1
        week, day, name, _ = place
        at = words("explain.against.at", week=week, day=day, name=name)
        if before is None or after is None:
            yield words(f"explain.against.{'new' if before is None else 'gone'}", at=at, sets=after or before)
        else:
            yield words("explain.against.changed", at=at, before=before, after=after)
    yield from _numbers(now, other, words)
    yield words("explain.against.count", count=count) if count else words("explain.against.same")


def _slots(plan: Plan, words: Words) -> dict[Place, str]:
    """The working sets of every slot as a line, by place; days by their date where both plans begin alike."""
    found: dict[Place, str] = {}
    for session in plan.sessions():
        seen: Counter[str] = Counter()
        for slot in session.slots:
            name = words.movement(slot.movement)
            name = f"{words('drill.' + slot.drill.replace(' ', '-'))} ({name})" if slot.drill else name
            seen[name] += 1
            found[session.week, session.day, name, seen[name]] = sets_text(slot, words)
    return found


def _numbers(now: Plan, other: Plan, words: Words) -> Iterator[str]:
    """Working maxes that differ."""
    for lift in now.lifts:
        before = other.lift(lift.movement)
        if before is not None and before.working_max != lift.working_max:
            told = {"before": words.mass(before.working_max), "after": words.mass(lift.working_max)}
            yield words("explain.against.max", name=words.movement(lift.movement), **told)
