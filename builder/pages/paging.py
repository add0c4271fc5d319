"""How a session is shared out over pages: in runs of whole slots, supersets unbroken, no run too long for its page.

Every way is tried, since to fill one page after the other may leave the last with a single lift.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import combinations, pairwise

from builder.plan.model import PlannedSlot

Run = tuple[int, ...]
"""Slot numbers, counted from 1, that share a page."""


def shared_out(
    numbers: Run, slots: Sequence[PlannedSlot], fill: Callable[[Run], float]
) -> tuple[Run, ...]:
    """The fewest runs of `numbers` whose `fill` (1 is a full page) stays within the page.

    Of these the ones whose emptiest page is fullest. A slot or superset that is too long by itself gets a page of its
    own.
    """
    blocks = _blocks(numbers, slots)
    # Fewer pages before fuller ones: who trains should not have to turn over.
    for count in range(1, len(blocks)):
        if within := [runs for runs in _splits(blocks, count) if max(map(fill, runs)) <= 1]:
            return max(within, key=lambda runs: min(map(fill, runs)))
    return tuple(blocks)


def _splits(blocks: Sequence[Run], count: int) -> list[tuple[Run, ...]]:
    """Every way to cut the blocks into `count` runs."""
    ways = []
    # Every way, since a session has few slots.
    for cuts in combinations(range(1, len(blocks)), count - 1):
        ends = (0, *cuts, len(blocks))
        ways.append(tuple(sum(blocks[a:b], ()) for a, b in pairwise(ends)))
    return ways


def _blocks(numbers: Run, slots: Sequence[PlannedSlot]) -> list[Run]:
    """Slot numbers, the members of a superset together."""
    blocks: list[Run] = []
    for number in numbers:
        letter = slots[number - 1].superset
        if blocks and letter is not None and letter == slots[blocks[-1][-1] - 1].superset:
            blocks[-1] = (*blocks[-1], number)
        else:
            blocks.append((number,))
    return blocks
