"""What the sets of a log show of each lift's max, as lines of a profile: of each day the heaviest of a kind."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from builder.given import LoggedSet, Sources
from builder.log.model import Entry, Log, SessionLog
from builder.log.written import mass_text
from builder.values.quantity import Unit, plain

MOST_LOGGED = 400


@dataclass(frozen=True, slots=True)
class _Seen:
    """One row: load in kg on the implement, reps, the reserve where it was written, and whether reps were missed."""

    on: date
    load: Decimal
    reps: int
    rir: Decimal | None
    missed: bool


def logged(sources: Sources, log: Log | None) -> Iterator[tuple[str, list[str]]]:
    """For each lift with something new: what the profile calls it, its logged sets and the new ones."""
    assert sources.client is not None
    for word, lift in sources.client.lifts.items():
        name = sources.movements.named(word)
        rows = ((entry, one) for one in (log.sessions if log else ()) for entry in one.entries)
        seen = [_seen(entry, one) for entry, one in rows if name is not None and _counts(entry, name)]
        before = [_known(one, sources.client.unit) for one in lift.logged]
        if new := [text for text in map(_text, _heaviest(seen)) if text not in before]:
            yield word, [*before, *new][-MOST_LOGGED:]


def _counts(entry: Entry, name: str) -> bool:
    done = entry.state == "done" and bool(entry.load) and bool(entry.reps)
    return done and entry.row.lift == name and entry.row.unit is None


def _seen(entry: Entry, session: SessionLog) -> _Seen:
    assert entry.load is not None and entry.reps is not None
    if entry.failed:
        return _Seen(session.when, entry.load, entry.reps, Decimal(0), missed=False)
    if entry.missed:
        return _Seen(session.when, entry.load, entry.row.reps, None, missed=True)
    return _Seen(session.when, entry.load, entry.reps, None if entry.at_least else entry.rir, missed=False)


def _heaviest(seen: Sequence[_Seen]) -> list[_Seen]:
    """Of each day the heaviest set with a reserve, the heaviest without, and the lightest miss."""
    best: dict[tuple[date, bool, bool], _Seen] = {}
    for one in seen:
        key = (one.on, one.missed, one.rir is None)
        best[key] = max(best.get(key, one), one, key=_weighs)
    return list(best.values())


def _weighs(one: _Seen) -> tuple[Decimal, Decimal]:
    sign = -1 if one.missed else 1
    return sign * one.load, sign * (one.reps + (one.rir or Decimal(0)))


def _text(one: _Seen) -> str:
    more = ("" if one.rir is None else f", rir: {plain(one.rir)}") + (", missed: true" if one.missed else "")
    return f"{{date: {one.on.isoformat()}, load: {mass_text(one.load)}, reps: {one.reps}{more}}}"


def _known(one: LoggedSet, unit: Unit) -> str:
    return _text(_Seen(one.day, one.load.kg(unit), one.reps, one.rir, one.missed))
