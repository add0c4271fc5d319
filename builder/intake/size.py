"""Plans that would be too large to make: too many sets in a block, too many loads in a gym.

A plan is made set by set, and a gym load by load: a few lines of a file can ask for more than a machine can hold. So
it is counted, cheaply, before anything is made.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from math import gcd, prod

from builder.given import Block, Client, Hold, Pins, Progression, Slot, TopSet, Volume, Wave
from builder.given.rules import Further
from builder.given.sources import Sources
from builder.training.loading import MOST_ON_A_BAR
from builder.training.plates import batches
from builder.values.problem import Problem
from builder.values.scalars import Range

MOST_SETS = 10_000
"""Working sets of one block: a year of six sessions a week with 32 sets each is 9,984."""
MOST_LOADS = 120_000
"""Loads of one bar. A gym with two full sets of plates in kg and two in lb has 36,746, with four of each 101,254."""
MOST_LADDERS = 4 * MOST_LOADS
"""Loads of all bars together."""

_UNITS = Decimal(10) ** 12
"""In a kilogram. A load has at most eight decimals, as many as a pound in kilograms has; twelve leave room."""

Found = Iterator[Problem]


def too_large(sources: Sources) -> Found:
    """What would take a run far more time and memory than any lifter can use."""
    if sources.client is not None:
        yield from _gym(sources, sources.client)
    if sources.block is not None:
        yield from _sets(sources, sources.block)


def _gym(sources: Sources, client: Client) -> Found:
    gym, unit = client.gym, client.unit
    plates = [(amount.kg(unit), count) for amount, count in gym.pairs.items() if count]
    loads = _sums(plates, MOST_ON_A_BAR / 2)
    # From a belt plates hang one by one, so both of a pair count.
    belt = _sums([(mass, 2 * count) for mass, count in plates], MOST_ON_A_BAR / 8)
    # Each bar has all its loads to itself.
    if loads > MOST_LOADS or belt > MOST_LOADS or loads * len(gym.bars) > MOST_LADDERS:
        help_ = "Leave out the plates that are hardly used: the smallest, or those of the other unit."
        yield Problem("too-many-loads", sources.at("gym", "pairs"), "these plates make too many loads", help_)


def _sums(plates: Iterable[tuple[Decimal, int]], most: Decimal) -> int:
    """How many masses up to `most` kg the plates make; just above `MOST_LOADS` when it is more than that."""
    stock = [(int(mass * _UNITS), count) for mass, count in plates]
    step = gcd(*(mass for mass, _ in stock)) or 1
    bound = min(prod(count + 1 for _, count in stock), int(most * _UNITS) // step + 1)
    # Counted out only where the cheap bound does not do.
    return bound if bound <= MOST_LOADS else _counted(stock, int(most * _UNITS))


def _counted(stock: Iterable[tuple[int, int]], most: int) -> int:
    sums = {0}
    for mass, count in stock:
        for batch in batches(count):
            sums |= {new for before in sums if (new := before + batch * mass) <= most}
            if len(sums) > MOST_LOADS:
                return len(sums)
    return len(sums)


def _sets(sources: Sources, block: Block) -> Found:
    most = sum(
        _most_sets(slot) * _weeks(block.block.weeks, day.weeks, slot.weeks) for day in block.days for slot in day.slots
    )
    if block.block.rolling:
        # Seven days at most are trained in a week, whatever the number of days to go through.
        most = most * min(len(block.days), 7) // len(block.days)
    if most > MOST_SETS:
        fact = f"this block has about {most} working sets, and more than {MOST_SETS} cannot be planned in one"
        help_ = "Make two blocks of it, or write fewer sets."
        yield Problem("too-many-sets", sources.at("block", key=True), fact, help_)


def _weeks(last: int, *given: Range | None) -> int:
    """In how many weeks of a block of `last` weeks something is trained that stands in all these weeks."""
    spans = [one for one in given if one is not None]
    return max(0, min([last, *(one.high for one in spans)]) - max([1, *(one.low for one in spans)]) + 1)


def _most_sets(slot: Slot) -> int:
    rule: Progression = slot.progression
    if isinstance(rule, Wave):
        return max(entry.sets + _further(entry.then) for entry in rule.weeks)
    if isinstance(rule, Hold | Pins):
        return rule.sets
    if isinstance(rule, Volume):
        return rule.sets.high + _further(rule.then)
    if isinstance(rule, TopSet):
        return 1 + (rule.backoff.sets if rule.backoff else 0) + _further(rule.then)
    return rule.sets + _further(rule.then)


def _further(then: Iterable[Further]) -> int:
    return sum(each.sets for each in then)
