"""One set of a log: its cells, or its one field, to what was done. What is left empty beside it is as printed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import TypeVar

from builder.log import typed
from builder.log.manifest import PlannedRow
from builder.log.model import Entry
from builder.log.said import FAR_ABOVE, FAR_BELOW, MOST_MORE, MOST_TIMES, SMALL, counted, said
from builder.log.typed import Load, TypedCount, Unclear
from builder.values.quantity import OnBar, Unit, in_unit, plain, to_kg, to_places

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class RowTexts:
    """What stands in the cells of one row, or in its one field `did`; `done` is true for a tick."""

    load: str = ""
    reps: str = ""
    rir: str = ""
    done: bool = False
    did: str = ""

    @property
    def blank(self) -> bool:
        """Whether nothing was written."""
        return not (self.load or self.reps or self.rir or self.done or self.did)


@dataclass(frozen=True, slots=True)
class Fault:
    """A cell (its part of the row) that cannot be read."""

    part: str
    fact: str
    help: str


def read_row(row: PlannedRow, texts: RowTexts, unit: Unit, *, rated: bool = False) -> tuple[Entry, tuple[Fault, ...]]:
    """What was done of a planned row; with a fault the entry is "unclear" and counts for nothing.

    Cells left empty beside a tick, reps or a reserve are as printed; the reserve itself is never taken as printed. An
    x or a dash for load or reps means that the set was left out. A load alone does not say that it was lifted.
    `rated` booklets ask for ratings in place of reserves.
    """
    if texts.blank:
        return Entry(row, "blank"), ()
    if texts.did:
        return _read_field(row, texts, unit)
    crossed = [part for part in ("load", "reps") if typed.plainly(getattr(texts, part)) in typed.NOT_DONE]
    if crossed:
        return _crossed(row, texts, crossed)
    faults: list[Fault] = []
    load = _heard(faults, "load", texts.load, lambda text: _load(row, text, unit))
    count = _heard(faults, "reps", texts.reps, lambda text: _count(row, text))
    rir = _heard(faults, "rir", texts.rir, lambda text: _reserve(text, rated=rated))
    # A printed load may be corrected before the set, which then never comes.
    if not faults and load and count is None and rir is None and not texts.done:
        help_ = 'Tick the set, or write its reps; "x" if it was left out.'
        faults.append(Fault("load", "stands alone: whether the set was done is not said", help_))
    if faults:
        return Entry(row, "unclear"), tuple(faults)
    return _done(row, load, count, rir), ()


def _read_field(row: PlannedRow, texts: RowTexts, unit: Unit) -> tuple[Entry, tuple[Fault, ...]]:
    """What one field says of a set, its tick beside it."""
    # Only copies of two layouts can do that, and which of them was written last nobody knows.
    if texts.load or texts.reps or texts.rir:
        fact = "stands beside cells of another copy that speak of the same set"
        return Entry(row, "unclear"), (Fault("did", fact, "Clear one of the two."),)
    try:
        heard = said(texts.did, row, unit)
        if heard.left_out and texts.done:
            raise Unclear("says that the set was left out, and its tick that it was done", "Clear what is not true.")
        if heard.load and heard.count is None and heard.rir is None and not texts.done:
            help_ = 'Tick the set, or write its reps too; "x" if it was left out.'
            raise Unclear("is a load alone: whether the set was done is not said", help_)
    except Unclear as unclear:
        return Entry(row, "unclear"), (Fault("did", str(unclear), unclear.help),)
    if heard.left_out:
        return Entry(row, "left out"), ()
    rir = None if heard.rir is None else TypedCount(heard.rir)
    return _done(row, heard.load.kg if heard.load else None, heard.count, rir), ()


def _crossed(row: PlannedRow, texts: RowTexts, crossed: list[str]) -> tuple[Entry, tuple[Fault, ...]]:
    others = [part for part in ("load", "reps", "rir") if part not in crossed and getattr(texts, part)]
    if texts.done or "rir" in others or (others == ["reps"]):
        fact = "says that the set was left out, and other cells say that it was done"
        return Entry(row, "unclear"), (Fault(crossed[0], fact, "Clear what is not true."),)
    return Entry(row, "left out"), ()


def _heard(faults: list[Fault], part: str, text: str, read: Callable[[str], T]) -> T | None:
    """What a cell says, None when it is empty; a refusal is kept in `faults`."""
    if not text:
        return None
    try:
        return read(text)
    except Unclear as unclear:
        faults.append(Fault(part, str(unclear), unclear.help))
        return None


def _load(row: PlannedRow, text: str, unit: Unit) -> OnBar:
    load = typed.load(text, unit)
    if load.added and not row.bodyweight:
        raise Unclear("is bodyweight, and this set has a load of its own", "Write the load that was lifted.")
    # Who names the unit means what is written, however far from the plan.
    if not load.named:
        _likely(row, load, unit)
    return load.kg


def _likely(row: PlannedRow, load: Load, unit: Unit) -> None:
    """Refuses a bare number far from the plan: a digit slipped, or the other unit was meant."""
    planned = row.load
    # From 5 to 10 kg is a step or two of a rack of dumbbells, and no slip.
    if planned is None or max(planned, load.kg) < SMALL or not planned:
        return
    times = load.kg / planned
    if FAR_BELOW < times < FAR_ABOVE:
        return
    # The other one of two: with a third unit each has to be asked.
    other = Unit.LB if unit is Unit.KG else Unit.KG
    number = in_unit(load.kg, unit)
    meant = to_kg(number, other)
    hint = f' or "{plain(number)} {other}"' if FAR_BELOW < meant / planned < FAR_ABOVE else ""
    shown = plain(to_places(in_unit(planned, unit), 2))
    help_ = f'Name the unit if it is right: "{plain(to_places(number, 3))} {unit}"{hint}.'
    raise Unclear(f"lies far from the planned {shown} {unit}", help_)


def _count(row: PlannedRow, text: str) -> TypedCount:
    count, planned = counted(text, row), row.planned
    # As in `said`, so that a text means the same in a cell and in the one field of a set.
    if count.value > planned * MOST_TIMES and count.value > planned + MOST_MORE:
        what = f"{planned} reps" if row.unit is None else row.told(planned)
        raise Unclear(f"lies far from the planned {what}", "Write the number again.")
    return count


def _reserve(text: str, *, rated: bool) -> TypedCount | None:
    """The reps in reserve; a dash means that they are not known."""
    return None if typed.plainly(text) in typed.NOT_DONE - {"x"} else typed.effort(text, rated=rated)


def _done(row: PlannedRow, load: OnBar | None, count: TypedCount | None, rir: TypedCount | None) -> Entry:
    planned = row.planned
    failed = count is not None and count.failed
    # Never the printed one: it was the aim, and taken as done it would confirm itself. A rep that failed left nothing.
    reserve = rir.value if rir else Decimal(0) if failed else None
    return Entry(
        row,
        "done",
        load=row.load if load is None else load,
        reps=planned if count is None else int(count.value),
        rir=reserve,
        as_planned=load is None and count is None,
        # A tick on an open set says that it reached its reps, and not how many more there were.
        at_least=count.at_least if count else row.open_ended,
        failed=failed,
    )


__all__ = ["Fault", "RowTexts", "read_row"]
