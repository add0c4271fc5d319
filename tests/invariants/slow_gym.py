"""Every load that a gym can make, found by trying it all, from the profile's data and without the product's ladders."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from itertools import product
from typing import Any

from made.masses import Data, Mass

MOST_ON_A_BAR, MOST_ON_A_BELT = Decimal(500), Decimal(60)
"""kg; the README names the first, the second is the planner's own."""


def label(plate: Mass, unit: str) -> str:
    """What the plan must call a plate: its number, with the unit where the client counts in the other."""
    number = format(plate.number, "f")
    return number if plate.unit == unit else f"{number} {plate.unit}"


def stock(profile: Data) -> dict[str, tuple[Decimal, int]]:
    """Each plate's mass in kg and how many pairs there are, by label."""
    unit, pairs = profile["client"]["units"], profile["gym"]["pairs"]
    return {label(plate, unit): (plate.kg, count) for plate, count in pairs.items()}


PRESSED_OVER_THE_CHEST = (
    "bench press", "pause bench press", "close-grip bench press", "incline bench press", "floor press",
)  # fmt: skip


def bare(profile: Data, movement: str) -> bool:
    """Whether the pages tell the lifter to leave the collars off: alone under a bar over the chest."""
    return profile["gym"].get("spotter", "never") == "never" and movement in PRESSED_OVER_THE_CHEST


def empty_bar(profile: Data, name: str, movement: str) -> Decimal:
    """The bar, kg, with both its collars where they are on."""
    gym = profile["gym"]
    bar = gym["bars"][name]
    own = isinstance(bar, dict)
    collar = None if bare(profile, movement) else bar["collars"] if own else gym.get("collars")
    return (bar["weight"] if own else bar).kg + (2 * collar.kg if collar else 0)


def on_a_bar(profile: Data, name: str, movement: str, step: Decimal | None = None) -> set[Decimal]:
    """Every total of a bar up to 500 kg; in even steps above the empty bar where `step` is given and any exist."""
    empty = empty_bar(profile, name, movement)
    every = {empty} | {empty + 2 * side for side in _sums(stock(profile).values()) if empty + 2 * side <= MOST_ON_A_BAR}
    even = {load for load in every if step and (load - empty) % step == 0}
    return even if len(even) > 1 else every


def on_a_belt(profile: Data) -> set[Decimal]:
    """Every sum of single plates up to 60 kg."""
    sums = _sums((mass, 2 * pairs) for mass, pairs in stock(profile).values())
    return {load for load in sums if load <= MOST_ON_A_BELT}


def off_a_rack(steps: Any) -> set[Decimal]:
    """Bells or a stack: the listed ones, or the even steps, each with any of the small pieces."""
    if isinstance(steps, list):
        return {one.kg for one in steps}
    low, high, rise = (steps[key].kg for key in ("from", "to", "step"))
    plain = []
    while low <= high:
        plain.append(low)
        low += rise
    pieces = [piece.kg for piece in steps.get("add", ())]
    return {load + added for load in plain for added in _sums((piece, 1) for piece in pieces)}


def _sums(parts: Iterable[tuple[Decimal, int]]) -> set[Decimal]:
    sums = {Decimal(0)}
    for mass, most in parts:
        sums = {before + mass * count for before, count in product(sums, range(most + 1))}
    return sums


def choose(loads: set[Decimal], target: Decimal, rounding: str, ties: str) -> Decimal:
    """The load that is to be taken for a target, by looking at all of them."""
    below, above = [load for load in loads if load <= target], [load for load in loads if load >= target]
    if not below or not above:
        return min(loads) if not below else max(loads)
    low, high = max(below), min(above)
    if rounding != "nearest":
        return low if rounding == "down" else high
    if target - low == high - target:
        return low if ties == "lighter" else high
    return low if target - low < high - target else high
