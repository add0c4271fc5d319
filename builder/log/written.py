"""How a log's masses are written into sources."""

from __future__ import annotations

from decimal import Decimal

from builder.values.quantity import Unit, in_unit, plain, to_places

SHORT = 8


def mass_text(kg: Decimal) -> str:
    """A mass as sources write it: exact in kilograms or in pounds, whichever is short, else to the gram."""
    # A mass is short in the unit in which it was loaded: 147.5 kg, or 325 lb.
    for unit in Unit:
        text = plain(in_unit(kg, unit))
        if len(text) <= SHORT:
            return f"{text} {unit}"
    return f"{plain(to_places(kg, 3))} kg"
