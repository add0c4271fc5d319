"""Checks of the dose: session time, lifts by intensity, balance of patterns, and what the gym cannot load."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from itertools import groupby

from builder.given import Equipment, Pattern
from builder.plan import Plan, PlannedSlot, WeekKind
from builder.review.finding import Finding, Hit, Rule
from builder.review.where import (
    PlannedSpot,
    derived_lift,
    listed,
    load,
    main_lift,
    of_max,
    percent,
    session_place,
    spots,
)
from builder.training.norms import SOVIET_TABLE, Zone, zone_of
from builder.values.lists import TrainingStatus

_LONG = Rule(
    "session-long",
    "Take out sets, pair assistance in supersets, shorten its rests, or give the profile more session_minutes.",
    "the client's own profile; the time is an estimate",
)


def session_long(plan: Plan, _today: date) -> Iterator[Finding]:
    """A session that takes longer than the client has."""
    most = plan.client.training.session_minutes
    yield from _LONG.once(
        Hit(session_place(s), f"the session takes about {s.minutes} min, the client has {most}", Decimal(s.minutes))
        for s in plan.sessions()
        if s.minutes > most
    )


TABLE_FROM = Decimal("0.70")
EDGE = Decimal("0.025")
"""So near to the next zone a slot is judged by the kinder one, since copies of the table differ at the edges."""
VARIANT_MORE, VARIANT_REPS = Decimal("1.5"), 3
"""A variant is trained as assistance, with more lifts and longer sets than the lift itself: common practice."""
_MANY = Rule("lifts-many", "Take out sets or lower the share, unless the lifter is known to bear it.", SOVIET_TABLE)
_FEW = Rule("lifts-few", "Add a set, unless this lift is only to be kept.", SOVIET_TABLE)


def lifts_many(plan: Plan, _today: date) -> Iterator[Finding]:
    """More lifts, or more reps in a set, than the classic table has at their intensity."""
    yield from _MANY.once(hit for spot, share in _rated(plan) for hit in _too_many(spot, share))


def _too_many(spot: PlannedSpot, share: Decimal) -> Iterator[Hit]:
    total, longest = _lifts(spot.slot), max(s.reps for s in spot.slot.work)
    zone = _zone(share - EDGE)
    most, most_reps = zone.total[1], zone.set_reps[1]
    if spot.slot.lift != spot.slot.movement:
        most, most_reps = int(most * VARIANT_MORE), most_reps + VARIANT_REPS
    if total > most:
        fact = f"{total} lifts at about {percent(share)} of the max; the table has {zone.total[0]} to {zone.total[1]}"
        yield Hit(spot.place, fact, share)
    elif longest > most_reps:
        least, most = zone.set_reps
        fact = f"sets of {longest} at about {percent(share)} of the max; the table has {least} to {most}"
        yield Hit(spot.place, fact, share)


def lifts_few(plan: Plan, _today: date) -> Iterator[Finding]:
    """A main lift that stays under the classic table in every training week."""
    main = [(spot, share) for spot, share in _rated(plan) if main_lift(plan, spot.slot) is not None]
    rated = sorted(main, key=lambda each: each[0].slot.movement)
    hits = []
    for movement, group in groupby(rated, key=lambda each: each[0].slot.movement):
        done = [(_lifts(spot.slot), share) for spot, share in group]
        if all(total < _zone(share + EDGE).total[0] for total, share in done):
            total, share = max(done)
            least, most = _zone(share + EDGE).total
            fact = (
                f"never more than {total} lifts; the table has {least} to {most} at about {percent(share)} of the max"
            )
            hits.append(Hit(movement, fact))
    yield from _FEW.once(hits)


def _zone(share: Decimal) -> Zone:
    zone = zone_of(share)
    assert zone is not None
    return zone


def _lifts(slot: PlannedSlot) -> int:
    return sum(s.reps for s in slot.work)


def _rated(plan: Plan) -> Iterator[tuple[PlannedSpot, Decimal]]:
    """Barbell slots of tested lifts and their variants with their mean share, from 70 %.

    A novice's max rises too fast to be judged by.
    """
    if plan.client.training.status is TrainingStatus.NOVICE:
        return
    for spot in spots(plan, WeekKind.TRAINING):
        if derived_lift(plan, spot.slot) is not None and spot.slot.about.equipment is Equipment.BARBELL:
            share = _mean_share(plan, spot.slot)
            if share >= TABLE_FROM:
                yield spot, share


def _mean_share(plan: Plan, slot: PlannedSlot) -> Decimal:
    rated = [(share, s.reps) for s in slot.work if (share := of_max(plan, slot, s)) is not None]
    reps = sum(count for _, count in rated)
    return sum((share * count for share, count in rated), Decimal(0)) / reps if reps else Decimal(0)


_GROUPS = {
    "push": (Pattern.HORIZONTAL_PUSH, Pattern.VERTICAL_PUSH),
    "pull": (Pattern.HORIZONTAL_PULL, Pattern.VERTICAL_PULL),
    "squat or lunge": (Pattern.SQUAT, Pattern.LUNGE),
    "hinge": (Pattern.HINGE,),
}
_BALANCE = Rule("pattern-missing", "Add a slot, unless the client trains it elsewhere.")


def pattern_missing(plan: Plan, _today: date) -> Iterator[Finding]:
    """A large movement pattern that the whole block leaves out."""
    # A bar that is only held trains no pattern.
    trained = {spot.slot.about.pattern for spot in spots(plan) if spot.slot.kind != "hold"}
    missing = [name for name, patterns in _GROUPS.items() if not trained.intersection(patterns)]
    if missing:
        yield _BALANCE.at("", f"no week trains a {listed(iter(missing))}")


_EQUIPMENT = Rule(
    "no-equipment", "Replace the movement, or add the equipment to the gym of the profile.", "the client's own profile"
)


def no_equipment(plan: Plan, _today: date) -> Iterator[Finding]:
    """Movements that this gym has nothing to load with."""
    lacking = {
        spot.slot.movement: spot
        for spot in reversed(list(spots(plan)))
        if any(note.step == "no-equipment" for note in spot.slot.notes)
    }
    yield from _EQUIPMENT.once(
        Hit(spot.place, f"the gym has no {spot.slot.about.equipment} for it, so no load is planned")
        for spot in reversed(list(lacking.values()))
    )


_OVER = Rule(
    "load-capped", "Add plates to the profile, or choose a variant that needs less.", "the client's own profile"
)
_UNDER = Rule(
    "load-under-bar", "Choose a lighter bar, or a lighter implement to start with.", "the client's own profile"
)


def load_capped(plan: Plan, _today: date) -> Iterator[Finding]:
    """Sets that would be heavier than all that the gym can load."""
    yield from _OVER.once(_reached(plan, "over-heaviest", "the gym ends at"))


def load_under_bar(plan: Plan, _today: date) -> Iterator[Finding]:
    """Sets that would be lighter than the empty bar or the lightest bell."""
    yield from _UNDER.once((*_too_heavy(plan), *_reached(plan, "under-lightest", "the gym begins at")))


def _too_heavy(plan: Plan) -> Iterator[Hit]:
    """Each slot whose lightest load is beyond reach, so that none is planned."""
    for spot in spots(plan, WeekKind.TRAINING, WeekKind.TEST):
        for facts in (dict(note.facts) for note in spot.slot.notes if note.step == "implement-too-heavy"):
            lightest = facts["load_kg"]
            assert isinstance(lightest, Decimal)
            fact = f"the gym begins at {load(plan, lightest)}, more than is likely, so no load is planned"
            yield Hit(spot.place, fact, lightest)


def _reached(plan: Plan, step: str, words: str) -> Iterator[Hit]:
    """Each slot with a set whose load was moved to the end of what can be loaded; in a deload that is no harm."""
    for spot in spots(plan, WeekKind.TRAINING, WeekKind.TEST):
        ended = (s for s in spot.slot.work if any(why.step == step for why in s.why))
        # One set speaks for its slot: the others end at the same load.
        for planned in list(ended)[:1]:
            assert planned.target is not None and planned.rung is not None
            fact = f"{load(plan, planned.target)} is wanted and {words} {load(plan, planned.rung.mass)}"
            yield Hit(spot.place, fact, abs(planned.target - planned.rung.mass))
