"""Checks the sources against each other: names that are used must exist, and weeks must lie in the block."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from itertools import islice

from builder.given import Block, Client, Equipment, Pattern, Pins, Slot, TestedSet
from builder.given.movements import GROUPS
from builder.given.sources import Sources
from builder.intake.people import forbidden
from builder.intake.reader import MOST_TOLD
from builder.intake.size import too_large
from builder.training.estimate import MOST_REPS
from builder.values.problem import Problem, did_you_mean, listing
from builder.values.scalars import Range

Found = Iterator[Problem]
_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def cross_check(sources: Sources) -> tuple[Problem, ...]:
    """The problems that show only when the sources are read together; the first of them where there are very many."""
    # Not looked for beyond that, since the checks are made one by one.
    return tuple(islice(_checks(sources), MOST_TOLD))


def _checks(sources: Sources) -> Found:
    client, block = sources.client, sources.block
    yield from _demos(sources)
    if client is not None:
        yield from _lift_names(sources, client)
        yield from _tests(sources, client)
        yield from _limits(sources, client)
        yield from _bar(sources, client, client.gym.usual_bar, "gym", "usual_bar")
    if block is not None:
        yield from _slots(sources, block)
        yield from _weeks(sources, block)
        yield from _tracks(sources, block)
    if client is not None and block is not None:
        yield from _days(sources, client, block)
        yield from _resumes(sources, client, block)
        yield from _test_lifts(sources, client, block)
        yield from _gear(sources, client, block)
        yield from _test_days(sources, client, block)
        yield from forbidden(sources, client, block)
    yield from too_large(sources)


def _name(sources: Sources, word: str, *path: str | int, key: bool = False) -> Found:
    if sources.movements.named(word) is None:
        names = sources.movements.every_name()
        kin = [name for name in names if word.lower() in name.lower().split()]
        near = f"Write {listing(kin)}." if kin else did_you_mean(word, names)
        help_ = near or 'Define it in a file with "movements:".'
        yield Problem("unknown-movement", sources.at(*path, key=key), f'no movement is named "{word}"', help_)


def _demos(sources: Sources) -> Found:
    seen: dict[str, str] = {}
    for word in sources.brand.brand.demos if sources.brand else ():
        yield from _name(sources, word, "brand", "demos", word, key=True)
        name = sources.movements.named(word)
        if name in seen:
            span = sources.at("brand", "demos", word, key=True)
            fact = f'"{word}" and "{seen[name]}" are the same movement'
            yield Problem("duplicate-lift", span, fact, f'Give one address, under "{name}".')
        elif name is not None:
            seen[name] = word


def _resumes(sources: Sources, client: Client, block: Block) -> Found:
    """A block resumes in a later week of its own, on the weekday on which its weeks begin, and never too early."""
    week, starts = 1, client.training.starts
    for place, resume in enumerate(client.training.resumes):
        path = ("training", "resumes", place)
        # The first that is wrong ends it: those after it count from it.
        if not week < resume.week <= block.block.weeks:
            fact = f"week {resume.week} does not come after week {week} and within the {block.block.weeks} weeks"
            yield Problem("resume-week", sources.at(*path, "week"), fact, "Name later weeks of the block, in order.")
            return
        soonest = starts + timedelta(weeks=resume.week - week)
        on = resume.on or soonest
        if on < soonest or on.weekday() != soonest.weekday():
            fact = f"week {resume.week} begins on a {_DAYS[soonest.weekday()]}, and not before {soonest.isoformat()}"
            help_ = f'Write "on: {soonest.isoformat()}", or a {_DAYS[soonest.weekday()]} after it.'
            yield Problem("resume-day", sources.at(*path, "on"), fact, help_)
            return
        week, starts = resume.week, on


def _lift_names(sources: Sources, client: Client) -> Found:
    seen: dict[str, str] = {}
    for word in client.lifts:
        yield from _name(sources, word, "lifts", word, key=True)
        name = sources.movements.named(word)
        if name in seen:
            fact = f'"{word}" and "{seen[name]}" are the same lift'
            span = sources.at("lifts", word, key=True)
            yield Problem("duplicate-lift", span, fact, f'Put all tests under "{name}".')
        elif name is not None:
            seen[name] = word
        if _bodyweight(sources, word) and client.client.bodyweight is None:
            help_ = 'Add "bodyweight: …" to the client, since this lift moves the body too.'
            yield Problem("no-bodyweight", sources.at("lifts", word, key=True), "the bodyweight is not known", help_)


def _tests(sources: Sources, client: Client) -> Found:
    for word, lift in client.lifts.items():
        for index, test in enumerate(lift.tests):
            path = ("lifts", word, "tests", index)
            if test.load.number == 0 and not _bodyweight(sources, word):
                yield Problem(
                    "out-of-range",
                    sources.at(*path, "load"),
                    "a tested load of 0 tells nothing",
                    "Write the load.",
                )
            if not test.missed and _to_failure(test) > MOST_REPS:
                fact = f"{_to_failure(test)} reps to failure say too little about a max"
                yield Problem(
                    "weak-test",
                    sources.at(*path, "reps"),
                    fact,
                    f"Test with at most {MOST_REPS}, better 3 to 10.",
                )
        if all(test.missed for test in lift.tests):
            yield Problem(
                "no-test",
                sources.at("lifts", word),
                "every test of this lift was missed",
                "Add a set that was made.",
            )


def _bodyweight(sources: Sources, word: str) -> bool:
    name = sources.movements.named(word)
    return name is not None and sources.movements.movements[name].equipment is Equipment.BODYWEIGHT


def _to_failure(test: TestedSet) -> Decimal:
    return test.reps + test.rir


def _limits(sources: Sources, client: Client) -> Found:
    for index, limit in enumerate(client.limits):
        for place, word in enumerate(limit.avoid):
            yield from _avoidable(sources, word, "limits", index, "avoid", place)
        for left_out, instead in limit.instead.items():
            yield from _name(sources, instead, "limits", index, "instead", left_out)
            if not any(_covers(sources, word, left_out) for word in limit.avoid):
                help_ = f"Avoided here: {listing(limit.avoid)}."
                span = sources.at("limits", index, "instead", left_out, key=True)
                yield Problem("not-avoided", span, f'"{left_out}" is replaced but not avoided', help_)


_HURT_BY = {"shoulder": "vertical push", "knee": "squat", "back": "hinge", "lower back": "hinge", "hip": "lunge",
            "elbow": "arms", "wrist": "horizontal push"}  # fmt: skip
"""A pattern that a coach may mean who writes a place of the body; examples, common practice."""


def _avoidable(sources: Sources, word: str, *path: str | int) -> Found:
    if sources.movements.named(word) is None and not sources.movements.group(word):
        known = [*sources.movements.every_name(), *GROUPS]
        hurt = _HURT_BY.get(word.lower().removesuffix("s"))
        help_ = f'Write what hurts there, such as "{hurt}", and the place under "area:".' if hurt else ""
        help_ = help_ or did_you_mean(word, known)
        help_ = help_ or f"Write a movement, a pattern ({listing(Pattern)}) or a region (upper body)."
        fact = f'no movement, pattern or region is named "{word}"'
        yield Problem("unknown-movement", sources.at(*path), fact, help_)


def _covers(sources: Sources, word: str, left_out: str) -> bool:
    """Whether an avoided movement, pattern or region is, or contains, what is replaced."""
    library = sources.movements
    one, other = library.named(word), library.named(left_out)
    mine = (one,) if one else library.group(word)
    return (
        other in mine
        if other
        else bool(mine) and set(library.group(left_out)) <= set(mine) and bool(library.group(left_out))
    )


def _each_slot(block: Block) -> Iterator[tuple[tuple[str | int, ...], Slot]]:
    for d, day in enumerate(block.days):
        for s, slot in enumerate(day.slots):
            yield ("days", d, "slots", s), slot


def _slots(sources: Sources, block: Block) -> Found:
    for path, slot in _each_slot(block):
        if slot.movement is not None:
            yield from _name(sources, slot.movement, *path, "movement")
        if slot.of is not None:
            yield from _name(sources, slot.of, *path, "of")
        if slot.ratio is not None and slot.of is None and not _has_parent(sources, slot.movement):
            help_ = 'Add "of: …", the lift that it is a share of.'
            yield Problem("ratio-of-nothing", sources.at(*path, "ratio", key=True), "the ratio is of no lift", help_)
        if slot.drill is not None and slot.of is not None and not _on_a_bar(sources, slot.of):
            help_ = "Walkouts and pin squats are for lifts with a bar."
            yield Problem("drill-lift", sources.at(*path, "of"), f'"{slot.of}" is not lifted with a bar', help_)
        if slot.drill is not None and slot.of is None:
            yield Problem(
                "missing-key",
                sources.at(*path, "drill", key=True),
                "the drill names no lift",
                'Add "of: back squat".',
            )


def _on_a_bar(sources: Sources, word: str) -> bool:
    name = sources.movements.named(word)
    # A name that nobody knows is told elsewhere, once.
    return name is None or sources.movements.movements[name].equipment is Equipment.BARBELL


def _has_parent(sources: Sources, word: str | None) -> bool:
    name = sources.movements.named(word or "")
    # A name that nobody knows is told elsewhere, once.
    return name is None or sources.movements.movements[name].of is not None


def _weeks(sources: Sources, block: Block) -> Found:
    last = block.block.weeks
    spans: list[tuple[tuple[str | int, ...], Range]] = [
        (("block", "phases", i, "weeks"), p.weeks) for i, p in enumerate(block.block.phases)
    ]
    spans += [(("days", i, "weeks"), day.weeks) for i, day in enumerate(block.days) if day.weeks]
    spans += [((*path, "weeks"), slot.weeks) for path, slot in _each_slot(block) if slot.weeks]
    changes = sources.client.changes if sources.client else ()
    spans += [(("changes", i, "weeks"), change.weeks) for i, change in enumerate(changes) if change.weeks]
    if block.block.deload:
        spans += [(("block", "deload", "weeks", i), Range(w, w)) for i, w in enumerate(block.block.deload.weeks)]
    if block.block.test:
        spans.append((("block", "test", "week"), Range(block.block.test.week, block.block.test.week)))
    for path, weeks in spans:
        if weeks.high > last:
            fact = f"week {weeks.high} is after the last week, {last}"
            yield Problem(
                "week-outside",
                sources.at(*path),
                fact,
                f"Write weeks from 1 to {last}, or lengthen the block.",
            )


def _tracks(sources: Sources, block: Block) -> Found:
    first: dict[str, Slot] = {}
    # What was changed for one client may differ from the rest of its track.
    for_one = {("days", d, "slots", s) for d, s in (each.place for each in sources.variants if each.made)}
    for path, slot in _each_slot(block):
        if slot.track is None or path in for_one:
            continue
        lead = first.setdefault(slot.track, slot)
        if lead.progression != slot.progression or lead.movement != slot.movement:
            fact = f'the slots of the track "{slot.track}" differ'
            help_ = "Slots of one track share movement and progression; an alias (&name, *name) writes it once."
            yield Problem("track", sources.at(*path, "track"), fact, help_)


def _days(sources: Sources, client: Client, block: Block) -> Found:
    if block.block.rolling:
        return
    trained = len(client.training.days)
    for week in range(1, block.block.weeks + 1):
        planned = sum(1 for day in block.days if day.weeks is None or week in day.weeks)
        if planned > trained:
            fact = f"week {week} has {planned} days, but the client trains on {trained}"
            help_ = (
                'Add training days to the profile, take days out, or set "rolling: true" to go through them in turn.'
            )
            yield Problem("too-many-days", sources.at("training", "days"), fact, help_)
            return


def _test_days(sources: Sources, client: Client, block: Block) -> Found:
    test, trained = block.block.test, len(client.training.days)
    if test is not None and len(test.lifts) > trained * test.per_day:
        fact = f"{len(test.lifts)} lifts at {test.per_day} a day do not fit the client's {trained} training days"
        span = sources.at("block", "test", "lifts")
        yield Problem("too-many-days", span, fact, 'Test fewer lifts, or give "per_day: 2" or 3.')


def _test_lifts(sources: Sources, client: Client, block: Block) -> Found:
    known = [sources.movements.named(word) for word in client.lifts]
    seen: set[str | None] = set()
    for index, word in enumerate(block.block.test.lifts if block.block.test else ()):
        path = ("block", "test", "lifts", index)
        name = sources.movements.named(word)
        if name is None:
            yield from _name(sources, word, *path)
        elif name in seen:
            yield Problem("duplicate-lift", sources.at(*path), f'"{word}" is tested twice', "Keep one of the two.")
        elif name not in known:
            help_ = f'Add a tested set under "lifts:" of the profile; it has {listing(client.lifts) or "none"}.'
            yield Problem("not-tested", sources.at(*path), f'"{word}" has no tested set in the profile', help_)
        seen.add(name)


def _bar(sources: Sources, client: Client, name: str | None, *path: str | int) -> Found:
    bars = client.gym.bars
    if name is not None and name not in bars:
        near = did_you_mean(name, list(bars)) or f"Bars of this gym: {listing(bars)}."
        help_ = f'{near} Or add "{name}: …" with its weight to "bars:".'
        yield Problem("unknown-bar", sources.at(*path), f'the gym has no bar "{name}"', help_)


def _gear(sources: Sources, client: Client, block: Block) -> Found:
    gym = client.gym
    for path, slot in _each_slot(block):
        yield from _bar(sources, client, slot.barbell, *path, "barbell")
        if slot.stack is not None and slot.stack not in gym.stacks:
            known = f"Stacks of this gym: {listing(gym.stacks) or 'none'}."
            near = did_you_mean(slot.stack, list(gym.stacks)) or known
            help_ = f'{near} Or add "{slot.stack}: {{from: 5, to: 80, step: 5}}", as it is there, to "stacks:".'
            yield Problem("unknown-stack", sources.at(*path, "stack"), f'the gym has no stack "{slot.stack}"', help_)
        if isinstance(slot.progression, Pins):
            yield from _pins(sources, client, slot.progression, path)


def _pins(sources: Sources, client: Client, pins: Pins, path: tuple[str | int, ...]) -> Found:
    rack = client.gym.pins
    if pins.start.unit == "hole" and rack is None:
        help_ = 'Add "pins: {first: 30, spacing: 5, holes: 24}" to the gym, or give the heights in cm.'
        yield Problem(
            "no-pins",
            sources.at(*path, "progression", "from"),
            "the gym says nothing of its rack's holes",
            help_,
        )
    elif pins.start.unit == "hole" and rack is not None:
        for key, height in (("from", pins.start), ("to", pins.to)):
            if not 1 <= height.number <= rack.holes:
                span, fact = sources.at(*path, "progression", key), f"the rack has {rack.holes} holes"
                yield Problem("no-such-hole", span, fact, f"Write a hole from 1 to {rack.holes}.")
