"""The tested set of a lift as it is written into a profile: the result, its conditions, attempts and revision."""

from __future__ import annotations

from collections.abc import Sequence

from builder.given import Block, Client, Conditions, Movements, TestedSet
from builder.log.results import DayOutcome, LiftOutcome, amount_text
from builder.values.quantity import plain
from builder.values.scalars import Amount
from builder.work.retest.written import Value

CONDITIONS = ("bar", "depth", "belt", "sleeves")


def entry_of(outcome: DayOutcome, one: LiftOutcome, conditions: Conditions, revision: int) -> dict[str, Value]:
    """Keys and values of one test, in the order in which they are written.

    Where nothing was good, the first missed attempt stands as the missed set.
    """
    entry: dict[str, Value] = {"date": outcome.day_of(one).isoformat()}
    if one.result is not None:
        entry |= {"load": amount_text(one.result.load), "reps": str(one.result.reps), "rir": plain(one.result.rir)}
    else:
        entry |= {"load": amount_text(one.missed[0]), "reps": "1"}
    for key in CONDITIONS:
        value = getattr(conditions, key)
        if value is not None:
            entry[key] = value if isinstance(value, str) else str(value).lower()
    if one.result is None:
        entry["missed"] = "true"
    attempts = {key: _loads(loads) for key, loads in (("made", one.made), ("missed", one.missed)) if loads}
    if attempts:
        entry["attempts"] = attempts
    if outcome.bodyweight is not None:
        entry["bodyweight"] = amount_text(outcome.bodyweight)
    entry["revision"] = str(revision)
    if one.note is not None:
        entry["note"] = one.note
    return entry


def conditions_of(one: LiftOutcome, movement: str, client: Client | None, trained: Sequence[Conditions]) -> Conditions:
    """How the lift was tested: what was said, else as in its last test that was made.

    What the block trains (`trained`) otherwise than that test is left out, since it is not known then. `movement` is
    what the profile calls the lift.
    """
    last = _last(client, movement)
    found = {}
    for key in CONDITIONS:
        said, before = getattr(one.conditions, key), getattr(last, key, None)
        planned = {value for slot in trained if (value := getattr(slot, key)) is not None}
        found[key] = said if said is not None else before if planned <= {before} else None
    return Conditions.model_validate({key: value for key, value in found.items() if value is not None})


def trained_conditions(block: Block | None, movement: str, library: Movements) -> tuple[Conditions, ...]:
    """What the slots of a block say of how a movement is done."""
    slots = [slot for day in block.days for slot in day.slots] if block is not None else []
    return tuple(slot.trained for slot in slots if slot.movement and library.named(slot.movement) == movement)


def _last(client: Client | None, word: str) -> TestedSet | None:
    lift = client.lifts.get(word) if client is not None else None
    made = [test for test in lift.tests if not test.missed] if lift is not None else []
    return max(made, key=lambda test: test.day, default=None)


def _loads(loads: Sequence[Amount]) -> list[str]:
    return [amount_text(load) for load in loads]
