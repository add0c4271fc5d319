"""Which plates make a mass: every sum that a finite set of plates can reach, with the fewest plates.

Why not the heaviest plate first: 30 kg a side are then 25 and 5 that the gym may not have, where two 15s would do.
Every sum is tried, and of its ways the one kept that a lifter would load.
"""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from decimal import Decimal, Inexact, localcontext
from math import lcm


@dataclass(frozen=True, slots=True)
class Plate:
    """One kind of plate: what the lifter reads on it, and its exact mass in kg."""

    label: str
    mass: Decimal


Side = tuple[tuple[str, int], ...]
"""Plates on one end of the bar: (label, count), heaviest first."""


@contextmanager
def exact_sums() -> Iterator[None]:
    """Within this block Decimal arithmetic that would have to round raises `decimal.Inexact`."""
    with localcontext() as context:
        context.traps[Inexact] = True
        yield


def fewest_plates(stock: Sequence[tuple[Plate, int]], most: Decimal) -> tuple[tuple[Decimal, Side], ...]:
    """Every sum (kg, rising, from 0) up to `most` that `stock` can make, each with its plates.

    `stock` holds (plate, how many there are). Among equal sums the fewest plates win, then the
    heavier plates (25 + 10 before 20 + 15), then the kind named first. Each plate costs
    R^m - R^i (m kinds, i rising with the mass, R above every count), so that the cheapest sum is
    exactly that choice and one bounded dynamic program over whole numbers finds it. Raises
    ValueError for a plate without mass or a negative count; `decimal.Inexact` where 28 digits
    cannot hold a sum, so that nothing is ever rounded unseen.
    """
    kinds = sorted((entry for entry in stock if entry[1]), key=lambda entry: entry[0].mass, reverse=True)
    if any(plate.mass <= 0 or count < 0 for plate, count in kinds):
        raise ValueError("plates need a mass above zero and a count of at least zero")
    # Pounds in kilograms have eight decimals: in a unit of which every plate is a whole number, sums are exact and
    # quick.
    scale = lcm(*(plate.mass.as_integer_ratio()[1] for plate, _ in kinds))
    # R of the docstring as a power of two: the counts can then be read back out of a cost as its digits (`_side`).
    bits = max((count for _, count in kinds), default=0).bit_length()
    powers = [1 << place * bits for place in reversed(range(len(kinds)))]
    whole = 1 << bits * len(kinds)
    costs = {0: 0}
    with exact_sums():
        for (plate, count), power in zip(kinds, powers, strict=True):
            _add_kind(costs, int(plate.mass * scale), whole - power, count, int(most * scale))
        return tuple(
            (Decimal(units) / scale, _side(costs[units], bits, kinds)) for units in sorted(costs)
        )


def _add_kind(costs: dict[int, int], units: int, cost: int, count: int, most: int) -> None:
    """Let up to `count` plates of one kind join every sum found so far, the cheaper way kept."""
    # Doubling batches reach every number of plates in as many rounds as it has binary digits.
    for batch in batches(count):
        heavier, dearer = batch * units, batch * cost
        # A copy: what this batch has made must not be joined by the same batch again.
        for before, paid in list(costs.items()):
            after = before + heavier
            if after > most:
                continue
            known = costs.get(after)
            if known is None or paid + dearer < known:
                costs[after] = paid + dearer


def batches(count: int) -> Iterator[int]:
    """1, 2, 4 … and the rest: parts whose sub-sums are exactly the numbers from 0 to `count`."""
    size = 1
    while count > 0:
        yield min(size, count)
        count -= size
        size *= 2


def _side(cost: int, bits: int, kinds: Sequence[tuple[Plate, int]]) -> Side:
    """Read the count of every kind back out of the cost of a sum: `bits` binary digits a kind, the heaviest on top."""
    digits = -cost % (1 << bits * len(kinds))
    side = []
    while digits:
        place = (digits.bit_length() - 1) // bits
        count = digits >> place * bits
        digits -= count << place * bits
        side.append((kinds[-1 - place][0].label, count))
    return tuple(side)
