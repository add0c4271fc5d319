"""What a retest changed, told as aligned text for the terminal and as JSON, format 1."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Any

from builder.pages.changed import REASONS, change_head, change_rows, test_sentences
from builder.pages.numbers import expected_text
from builder.plan import LiftChange, Plan
from builder.plan.change import Both, TopLoad
from builder.training.expected import Expected
from builder.values.formats import TOLD_FORMAT
from builder.values.quantity import Unit, in_unit, plain, to_places
from builder.words import Words

Row = tuple[str, ...]


def change_text(changes: Sequence[LiftChange], now: Plan, words: Words) -> Iterator[str]:
    """Lines for each lift: what was tested, then the numbers before and now side by side; the usual reasons last."""
    rows = [_cells(words, change) for change in changes]
    every = [("", *change_head(words)), *(row for lift in rows for row in lift)]
    widths = tuple(max(len(row[column]) for row in every) for column in range(4))
    for change, lift in zip(changes, rows, strict=True):
        numbers = now.lift(change.movement)
        assert numbers is not None
        yield words.movement(change.movement)
        yield "  " + " ".join(test_sentences(words, numbers, now.client.revision))
        yield from (_line(row, widths) for row in (every[0], *lift))
        yield "  " + _expected(words, change.expected)
        yield ""
    if any(change.worse for change in changes):
        yield words("change.lower.title")
        yield "  " + words("change.lower.lead")
        yield from ("  - " + words(f"change.lower.{reason}") for reason in REASONS)
        yield "  " + words("change.lower.clinician")


def change_json(changes: Sequence[LiftChange], now: Plan) -> dict[str, Any]:
    """The same as JSON values: loads are decimal strings in the client's unit, null where there is none."""
    lifts = [_lift_json(change, now.unit) for change in changes]
    return {"format": TOLD_FORMAT, "revision": now.client.revision, "units": str(now.unit), "lifts": lifts}


def _cells(words: Words, change: LiftChange) -> list[Row]:
    return [(row.label, row.before, row.now, row.difference) for row in change_rows(words, change)]


def _expected(words: Words, both: Both[Expected]) -> str:
    """What test and log together say, beside what was said without them."""
    now, before = (expected_text(words, one) if one else "" for one in (both.now, both.before))
    return words("change.expected", now=now, before=before) if before else words("change.expected-new", now=now)


def _line(row: Row, widths: tuple[int, ...]) -> str:
    label, *values = row
    shown = (value.rjust(width) for value, width in zip(values, widths[1:], strict=True))
    return "  " + "   ".join((label.ljust(widths[0]), *shown))


def _lift_json(change: LiftChange, unit: Unit) -> dict[str, Any]:
    return {
        "movement": change.movement,
        "estimate": _masses(change.estimate, unit),
        "expected": {"before": _range(change.expected.before, unit), "now": _range(change.expected.now, unit)},
        "working_max": _masses(change.working, unit),
        "first_week": _tops(change.first, unit),
        "last_week": _tops(change.last, unit),
    }


def _masses(both: Both[Decimal], unit: Unit) -> dict[str, str | None]:
    return {"before": _mass(both.before, unit), "now": _mass(both.now, unit)}


def _tops(both: Both[TopLoad], unit: Unit) -> dict[str, Any]:
    return {"before": _top(both.before, unit), "now": _top(both.now, unit)}


def _top(top: TopLoad | None, unit: Unit) -> dict[str, Any] | None:
    return None if top is None else {"week": top.week, "load": _mass(top.load, unit), "reps": top.reps}


def _range(one: Expected | None, unit: Unit) -> dict[str, str | None] | None:
    if one is None:
        return None
    return {"about": _mass(one.about, unit), "low": _mass(one.low, unit), "high": _mass(one.high, unit)}


def _mass(mass: Decimal | None, unit: Unit) -> str | None:
    return None if mass is None else plain(to_places(in_unit(mass, unit), 3))
