"""Lays the changes of one client over the days of a shared block, on the tree, where every node keeps its place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import combinations, groupby
from typing import Any

from pydantic import ValidationError

from builder.given.changes import Change, ChangeMade, Variant
from builder.intake.merge import as_data, overlay
from builder.values.nodes import Mapping, Node, Scalar, Sequence, locate
from builder.values.problem import Problem, did_you_mean, listing
from builder.values.scalars import Range

_EXCLUSIVE = ({"rir", "rpe"}, {"reps", "time", "distance"})
"""Keys of a progression of which one takes the place of the others."""
_OF_A_MOVEMENT = ("of", "ratio", "cues", "step", "stack", "barbell", "trained", "tempo")
"""What a slot says of its own movement, which another one does not take over."""
CHANGE_CODES = ("unknown-slot", "unknown-day", "change-nothing", "changes-clash")
"""What is wrong with changes alone: the block stands as it is, and can be looked at further."""
Leaf = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Changed:
    """The tree with the changes in it, what was made of each change, and the slots that came of them."""

    tree: Mapping
    made: tuple[ChangeMade, ...] = ()
    variants: tuple[Variant, ...] = ()
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class _Spot:
    """A slot of the shared block, by its place."""

    day: int
    slot: int
    node: Mapping
    title: str
    weeks: Range

    @property
    def movement(self) -> str:
        return _text(self.node, "movement") or _text(self.node, "conditioning") or _text(self.node, "drill")

    @property
    def name(self) -> str:
        return _text(self.node, "name") or self.movement


@dataclass(slots=True)
class _Wish:
    """A change that may be made: its number in the file, the slots that it meets and its weeks."""

    number: int
    change: Change
    node: Mapping
    weeks: Range
    spots: list[_Spot] = field(default_factory=list)

    def meets(self, spot: _Spot, week: int) -> bool:
        return spot in self.spots and week in self.weeks


def changed(tree: Mapping) -> Changed:
    """The tree of all files with the client's changes made; as it is where there are none, or where it is no block."""
    if tree.value("changes") is None:
        return Changed(tree)
    done = _of_block(tuple(item for item in tree.items if item[0].text in ("block", "changes", "days")))
    days = done.tree.value("days")
    return replace(done, tree=tree if days is None else _with(tree, "days", days))


@lru_cache(maxsize=64)
def _of_block(parts: tuple[tuple[Scalar, Node], ...]) -> Changed:
    """The same for the parts of a tree that matter; kept, since many buyers may share them."""
    tree = Mapping(parts[0][0].span, parts)
    wanted, days, last = tree.value("changes"), tree.value("days"), _weeks_of_block(tree)
    # What is no list here is told when the tree is typed.
    if not isinstance(wanted, Sequence) or not isinstance(days, Sequence) or not last:
        return Changed(tree)
    spots = tuple(_spots(days, last))
    wishes = tuple(_wishes(wanted, last))
    problems = [problem for wish in wishes for problem in _meet(tree, wish, spots, days)]
    problems += _clashes(tree, wishes, spots)
    if problems:
        return Changed(tree, problems=tuple(problems))
    laid, variants = _laid(days, spots, wishes, last)
    if not laid.items:
        fact, help_ = "these changes leave no slot of the block", "Drop fewer slots, or write another block."
        return Changed(tree, problems=(Problem("change-nothing", locate(tree, ("changes",), key=True), fact, help_),))
    items = tuple((key, laid if key.text == "days" else value) for key, value in tree.items)
    made = tuple(_made(wish, last) for wish in wishes)
    return Changed(Mapping(tree.span, items), made, variants)


def _weeks_of_block(tree: Mapping) -> int:
    block = tree.value("block")
    text = _text(block, "weeks") if isinstance(block, Mapping) else ""
    # As many weeks as a block may have (`given/block.py`), which is typed only after this.
    return int(text) if re.fullmatch(r"[1-9]\d?", text) and int(text) <= 52 else 0


def _spots(days: Sequence, last: int) -> Iterator[_Spot]:
    for d, day in enumerate(days.items):
        slots = day.value("slots") if isinstance(day, Mapping) else None
        for s, slot in enumerate(slots.items if isinstance(slots, Sequence) else ()):
            if isinstance(day, Mapping) and isinstance(slot, Mapping):
                of_day, of_slot = _range(_text(day, "weeks"), last), _range(_text(slot, "weeks"), last)
                weeks = Range(max(of_day.low, of_slot.low), min(of_day.high, of_slot.high))
                yield _Spot(d, s, slot, _text(day, "title"), weeks)


def _range(text: str, last: int) -> Range:
    found = re.fullmatch(r"(\d{1,3})(?:\s*[-–]\s*(\d{1,3}))?", text.strip())
    return Range(int(found[1]), int(found[2] or found[1])) if found else Range(1, last)


def _wishes(wanted: Sequence, last: int) -> Iterator[_Wish]:
    """The changes that are written as they should be; what is wrong with others is told where they are typed."""
    for number, node in enumerate(wanted.items):
        try:
            change = Change.model_validate(as_data(node))
        except ValidationError:
            continue
        if isinstance(node, Mapping):
            yield _Wish(number, change, node, change.weeks or Range(1, last))


def _meet(tree: Mapping, wish: _Wish, spots: tuple[_Spot, ...], days: Sequence) -> Iterator[Problem]:
    """Finds the slots that a change is about; a problem where there are none, or where nothing would be changed."""
    change, path = wish.change, ("changes", wish.number)
    titles = [_text(day, "title") for day in days.items if isinstance(day, Mapping)]
    if change.day is not None and change.day not in titles:
        help_ = did_you_mean(change.day, titles) or f"Days of this block: {listing(titles)}."
        yield Problem("unknown-day", locate(tree, (*path, "day")), f'no day has the title "{change.day}"', help_)
        return
    if not change.target:
        return
    word = change.target.lower()
    named = [spot for spot in spots if spot.name.lower() == word]
    # The name of a slot goes first: two slots may train the same movement, and are named to be told apart.
    named = named or [spot for spot in spots if spot.movement.lower() == word]
    wish.spots = [spot for spot in named if change.day in (None, spot.title)]
    key = "after" if change.verb == "add" else change.verb
    if not wish.spots:
        yield Problem("unknown-slot", locate(tree, (*path, key)), *_no_slot(change, named, spots))
    elif not any(_touches(wish, spot) for spot in wish.spots):
        fact = f'"{change.target}" is not trained in the weeks {wish.weeks.low} to {wish.weeks.high}'
        low, high = wish.spots[0].weeks.low, wish.spots[0].weeks.high
        yield Problem("change-nothing", locate(tree, (*path, "weeks")), fact, f'Write "weeks: {low}-{high}" or fewer.')
    elif change.verb in ("swap", "alter") and all(_same(spot.node, wish) for spot in wish.spots):
        same = "to" if change.verb == "swap" else "with"
        fact = f'this change leaves "{change.target}" as the block has it'
        help_ = "Write what is to be otherwise, or take the change out."
        yield Problem("change-nothing", locate(tree, (*path, same)), fact, help_)


def _no_slot(change: Change, named: list[_Spot], spots: tuple[_Spot, ...]) -> tuple[str, str]:
    if named:
        titles = listing(dict.fromkeys(spot.title for spot in named))
        help_ = f'Write "day: {named[0].title}"; it is on {titles}.'
        return f'"{change.target}" is not trained on "{change.day}"', help_
    names = list(dict.fromkeys(spot.name for spot in spots))
    help_ = did_you_mean(change.target, names) or f"Slots of this block: {listing(names)}."
    return f'no slot of this block is named "{change.target}"', help_


def _touches(wish: _Wish, spot: _Spot) -> bool:
    return max(wish.weeks.low, spot.weeks.low) <= min(wish.weeks.high, spot.weeks.high)


def _same(node: Mapping, wish: _Wish) -> bool:
    return bool(as_data(_altered(node, wish)) == as_data(node))


def _clashes(tree: Mapping, wishes: tuple[_Wish, ...], spots: tuple[_Spot, ...]) -> Iterator[Problem]:
    """Two changes of one slot in one week that cannot both be made."""
    told = [wish for wish in wishes if wish.change.verb != "add"]
    # In a week in which both hold: one after the other would make the order of the file decide.
    for one, other in combinations(told, 2):
        both = [spot for spot in one.spots if spot in other.spots]
        weeks = range(max(one.weeks.low, other.weeks.low), min(one.weeks.high, other.weeks.high) + 1)
        met = next((week for spot in both for week in weeks if week in spot.weeks), None)
        if met is not None and _contradict(one, other):
            line = locate(tree, ("changes", one.number)).line
            fact = f'in week {met} this and the change in line {line} both change "{other.change.target}"'
            help_ = 'Keep one of the two, or give them different "weeks:".'
            yield Problem("changes-clash", locate(tree, ("changes", other.number, other.change.verb)), fact, help_)


def _contradict(one: _Wish, other: _Wish) -> bool:
    verbs = {one.change.verb, other.change.verb}
    if "drop" in verbs or verbs == {"swap"}:
        return True
    mine, theirs = (set(_leaves(wish.change.with_ or {})) for wish in (one, other))
    return any(a[: len(b)] == b or b[: len(a)] == a for a in mine for b in theirs)


def _leaves(data: Any, path: Leaf = ()) -> Iterator[Leaf]:
    if isinstance(data, dict):
        for key, value in data.items():
            yield from _leaves(value, (*path, str(key)))
    else:
        yield path


def _laid(
    days: Sequence, spots: tuple[_Spot, ...], wishes: tuple[_Wish, ...], last: int
) -> tuple[Sequence, tuple[Variant, ...]]:
    """The days with every slot as it is trained; a slot that differs by week stands once for each stretch of weeks."""
    by_place = {(spot.day, spot.slot): spot for spot in spots}
    adds = [wish for wish in wishes if wish.change.verb == "add"]
    laid, variants = list[Node](), list[Variant]()
    for d, day in enumerate(days.items):
        slots = day.value("slots") if isinstance(day, Mapping) else None
        if not isinstance(day, Mapping) or not isinstance(slots, Sequence):
            laid.append(day)
            continue
        mine = [wish for wish in adds if not wish.spots and wish.change.day == _text(day, "title")]
        row = [_added(wish) for wish in mine if wish.change.first]
        for s, slot in enumerate(slots.items):
            row += _parts(slot, by_place.get((d, s)), (d, s), wishes, last)
            row += [_added(wish) for wish in adds if by_place.get((d, s)) in wish.spots]
        row += [_added(wish) for wish in mine if not wish.change.first]
        if row:
            variants += [Variant((len(laid), n), *told) for n, (_, told) in enumerate(row) if told is not None]
            laid.append(_with(day, "slots", Sequence(slots.span, tuple(node for node, _ in row))))
    return Sequence(days.span, tuple(laid)), tuple(variants)


_Part = tuple[Node, tuple[tuple[int, int] | None, tuple[int, ...]] | None]
"""A slot, and where it comes from with the changes that it has; None where it is as the block has it."""


def _added(wish: _Wish) -> _Part:
    slot = wish.node.value("add")
    weeks = wish.node.value("weeks")
    assert isinstance(slot, Mapping)
    return (_with(slot, "weeks", weeks) if weeks is not None else slot), (None, (wish.number,))


def _parts(
    slot: Node, spot: _Spot | None, place: tuple[int, int], wishes: tuple[_Wish, ...], last: int
) -> Iterator[_Part]:
    """One slot for each stretch of weeks in which the same changes hold."""
    told = [wish for wish in wishes if spot is not None and spot in wish.spots and wish.change.verb != "add"]
    if spot is None or not told:
        yield slot, None
        return
    weeks = range(spot.weeks.low, min(spot.weeks.high, last) + 1)
    stretches = [
        (active, list(group))
        for active, group in groupby(weeks, key=lambda week: [wish for wish in told if wish.meets(spot, week)])
    ]
    for active, stretch in stretches:
        if any(wish.change.verb == "drop" for wish in active):
            continue
        node = spot.node
        for wish in active:
            node = _altered(node, wish)
        if len(stretches) > 1:
            at = next((value.span for wish in told if (value := wish.node.value("weeks"))), slot.span)
            # With the place of the change's own weeks, so that a problem with them is told there.
            node = _with(node, "weeks", Scalar(at, f"{stretch[0]}-{stretch[-1]}"))
        yield node, (place, tuple(wish.number for wish in active))


def _altered(node: Mapping, wish: _Wish) -> Mapping:
    """A slot with one change made: another movement, other values, or both."""
    to, keys = wish.node.value("to"), wish.node.value("with")
    if isinstance(to, Scalar) and to.text.lower() != _text(node, "movement").lower():
        node = _swapped(node, to)
    return _over(node, keys) if isinstance(keys, Mapping) else node


def _swapped(node: Mapping, to: Node) -> Mapping:
    """Another movement in the place of a slot's own: what was said of that one, a first load too, goes with it."""
    kept = tuple((key, value) for key, value in node.items if key.text not in _OF_A_MOVEMENT)
    swapped = _with(Mapping(node.span, kept), "movement", to)
    rule = swapped.value("progression")
    if isinstance(rule, Mapping) and not _text(rule, "start").endswith("%"):
        swapped = _with(swapped, "progression", _without(rule, {"start"}))
    return swapped


def _over(node: Mapping, keys: Mapping) -> Mapping:
    """Keys laid over a slot; a progression of another kind takes the place of the slot's own."""
    rule, new = node.value("progression"), keys.value("progression")
    if isinstance(rule, Mapping) and isinstance(new, Mapping):
        kind = _text(new, "kind")
        if kind and kind != _text(rule, "kind"):
            node = _without(node, {"progression"})
        else:
            given = {key.text for key, _ in new.items}
            gone = {word for group in _EXCLUSIVE if group & given for word in group - given}
            node = _with(node, "progression", _without(rule, gone))
    laid = overlay(node, keys)
    assert isinstance(laid, Mapping)
    return laid


def _with(node: Mapping, word: str, value: Node) -> Mapping:
    """A mapping with another value under a key, at its end where it did not have it."""
    if node.key(word) is None:
        return Mapping(node.span, (*node.items, (Scalar(value.span, word), value)))
    return Mapping(node.span, tuple((key, value if key.text == word else old) for key, old in node.items))


def _without(node: Mapping, words: set[str]) -> Mapping:
    return Mapping(node.span, tuple((key, value) for key, value in node.items if key.text not in words))


def _made(wish: _Wish, last: int) -> ChangeMade:
    change = wish.change
    met = [spot for spot in wish.spots if _touches(wish, spot)]
    titles = tuple(dict.fromkeys(spot.title for spot in met)) or ((change.day,) if change.day else ())
    movement = met[0].movement if met else ""
    weeks = change.weeks
    if change.add is not None:
        movement, weeks = change.add.called, change.weeks or change.add.weeks
    whole = weeks is None or all(weeks.low <= spot.weeks.low and weeks.high >= spot.weeks.high for spot in met)
    whole = whole and (change.add is None or weeks is None or (weeks.low <= 1 and weeks.high >= last))
    written = ", ".join(f"{' '.join(path)} {_at(change.with_ or {}, path)}" for path in _leaves(change.with_ or {}))
    return ChangeMade(change.verb, movement, change.to or "", titles, None if whole else weeks, change.why, written)


def _at(data: Any, path: Leaf) -> str:
    for step in path:
        data = data[step]
    return ", ".join(map(str, data)) if isinstance(data, list) else str(data)


def _text(node: Node, key: str) -> str:
    value = node.value(key) if isinstance(node, Mapping) else None
    return value.text.strip() if isinstance(value, Scalar) else ""


__all__ = ["CHANGE_CODES", "Changed", "changed"]
