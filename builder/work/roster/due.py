"""Which orders have to be made, and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from builder.work.roster.orders import Order, Texts
from builder.work.roster.press import inputs_of
from builder.work.roster.state import State

NEW, CHANGED, GONE, KEPT = "new", "changed", "missing", "unchanged"


@dataclass(frozen=True, slots=True)
class Due:
    """An order with why it is made, or that it is not (`KEPT`), and the digest of what it is made from."""

    order: Order
    why: str
    inputs: str


def due(orders: Sequence[Order], shared: Texts, password: str, state: State, folder: Path) -> tuple[Due, ...]:
    """For each order whether its booklet has to be made."""
    found = []
    for order in orders:
        inputs, before = inputs_of(order, shared, password), state.made.get(order.file)
        if before is None:
            why = NEW
        elif before.inputs != inputs:
            why = CHANGED
        else:
            why = KEPT if (folder / order.file).is_file() else GONE
        found.append(Due(order, why, inputs))
    return tuple(found)
