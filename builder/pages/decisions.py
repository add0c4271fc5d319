"""What follows from a session, in one line: only what decides something, with the numbers that decide it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import groupby

from builder.pages.setlines import length_text, load_text
from builder.plan.model import Outcome, PlannedSlot
from builder.words import Words

_PAIRS = ("length-made", "sets-made", "felt-top", "wave-made", "wave-hard-made")
"""What happened, where the only other outcome is that it did not."""
_WITH_REPS = ("top-reps", "short-of-top", "wave-made", "wave-missed", "wave-hard-made", "wave-hard-missed")
Decision = tuple[str, str]
"""What happened, and the load that follows; both as printed."""


def decisions(slot: PlannedSlot, words: Words) -> tuple[Decision, ...]:
    """The ways on from here; none where every outcome leads to the same."""
    if slot.lessons:
        return tuple(_learnt(slot, words))
    found = tuple(_ways(slot.outcomes))
    return tuple((_head(one, key, slot, words), _value(one, slot, words)) for one, key in found)


def _ways(outcomes: Sequence[Outcome]) -> Iterator[tuple[Outcome, str]]:
    """Each outcome that leads somewhere of its own, with the key of its words."""
    by_word = {one.after: one for one in outcomes}
    if "reps-reached" in by_word:
        yield from _two(by_word["reps-reached"], by_word["reps-short"])
    elif outcomes[:1] and outcomes[0].after in _PAIRS:
        yield from ((one, one.after) for one in outcomes)
    elif "missed-twice" in by_word:
        made, short, twice = (by_word[word] for word in _words_of(by_word))
        lower = () if _mass(twice) == _mass(short) else ((twice, twice.after),)
        if _mass(made) != _mass(short):
            yield from ((made, made.after), (short, short.after if lower else f"{short.after}.last"), *lower)
        elif lower or short.at is not None:
            yield from ((short, "held" if short.at is None else "heaviest"), *lower)
    elif len({_mass(one) for one in outcomes}) > 1:
        yield from ((one, one.after) for one in outcomes)


def _learnt(slot: PlannedSlot, words: Words) -> Iterator[Decision]:
    """What a top set that came out so leads to; reserves that lead to the same share a cell."""
    for (off, following), group in groupby(slot.lessons, key=lambda one: (one.off, one.following)):
        rows = list(group)
        loads = [load_text(slot, rung, words) for rung in (off, following) if rung is not None]
        yield _reserves([one.left for one in rows], slot, words), words("next.learn.between").join(loads)


def _reserves(left: list[Decimal | None], slot: PlannedSlot, words: Words) -> str:
    """How outcomes that lead to the same are called: "missed", "2 left", "2 to 3 left", "3+ left"."""
    known = [one for one in left if one is not None]
    if not known:
        return words("next.learn.missed")
    if known[-1] == slot.lessons[-1].left:
        return words("next.learn.more", left=known[0])
    return words("next.learn.left" if len(known) == 1 else "next.learn.range", left=known[0], most=known[-1])


def _words_of(by_word: dict[str, Outcome]) -> tuple[str, str, str]:
    if "top-reps" in by_word:
        return "top-reps", "short-of-top", "missed-twice"
    return "all-reps", "missed-once", "missed-twice"


def _two(reached: Outcome, short: Outcome) -> Iterator[tuple[Outcome, str]]:
    if _mass(reached) != _mass(short):
        yield from ((reached, reached.after), (short, short.after))


def _mass(one: Outcome) -> object:
    return one.rung.mass if one.rung else None


def _head(one: Outcome, key: str, slot: PlannedSlot, words: Words) -> str:
    if key == "length-made":
        return _whole(slot, words)
    return words(f"next.{key}", reps=one.reps or 0, at=one.at or 0, top=load_text(slot, one.top, words))


def _whole(slot: PlannedSlot, words: Words) -> str:
    """That every set was done in full: "all 3 × 20 m done"."""
    (one, *others) = slot.work
    assert one.length is not None
    told = length_text(one.length)
    if not others:
        return words("next.length-made.single", scheme=told)
    return words("next.length-made", scheme=words("set.scheme", sets=len(slot.work), reps=told))


def _value(one: Outcome, slot: PlannedSlot, words: Words) -> str:
    if one.length is not None:
        return _length(one, slot, words)
    if one.after in ("sets-made", "sets-short"):
        return _sets(one, slot, words)
    if one.after in ("felt-top", "felt-short"):
        return _felt(one, words)
    load = load_text(slot, one.rung, words) or words("set.feel.short")
    # For an open set the reps are those that decide, which the head names.
    with_reps = one.reps is not None and one.after in _WITH_REPS
    return words("next.with_reps", load=load, reps=one.reps) if with_reps else load


def _length(one: Outcome, slot: PlannedSlot, words: Words) -> str:
    """The time or distance of next time, with its load and its sets where these are told."""
    assert one.length is not None
    length, load = length_text(one.length), load_text(slot, one.rung, words)
    told = words("set.planned", load=load, reps=length) if load else length
    return words("set.scheme", sets=one.sets, reps=told) if one.sets else told


def _sets(one: Outcome, slot: PlannedSlot, words: Words) -> str:
    """The sets of next time, with their load where there is one: "4 × 8 at 80"."""
    scheme, load = words("set.scheme", sets=one.sets, reps=one.reps), load_text(slot, one.rung, words)
    return words("week.sets", scheme=scheme, load=load) if load else scheme


def _felt(one: Outcome, words: Words) -> str:
    """How the load that the lifter found goes on."""
    if one.more is not None:
        return words("next.felt.more", load=words.mass(one.more), reps=one.reps)
    if one.more_share is not None:
        return words("next.felt.more", load=words.share(one.more_share), reps=one.reps)
    return words("next.felt.same")
