"""Made-up changes for one client, each with the block as somebody would rewrite it by hand."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from random import Random

from made.masses import Data

Way = Callable[[Data, list[Data], Random], Data | None]
"""Rewrites a slot, or the slots of its day, and gives the change that says the same; None where it cannot."""

_OF_A_MOVEMENT = ("of", "ratio", "cues", "step", "stack", "barbell", "trained", "tempo")
"""What the README says to go with a movement that is swapped."""
ADDED: Data = {"movement": "push-up", "progression": {"kind": "double", "reps": "8-12", "add": "2.5 kg"}}


def _drop(slot: Data, slots: list[Data], dice: Random) -> Data | None:
    if len(slots) < 2:
        return None
    slots.remove(slot)
    return {"drop": slot["name"]}


def _rest(slot: Data, slots: list[Data], dice: Random) -> Data:
    slot["rest"] = "200 s"
    return {"alter": slot["name"], "with": {"rest": "200 s"}}


def _sets(slot: Data, slots: list[Data], dice: Random) -> Data | None:
    rule = slot["progression"]
    if rule["kind"] not in ("single", "double", "step", "rep_out") or rule.get("sets", 3) == 4:
        return None
    rule["sets"] = 4
    return {"alter": slot["name"], "with": {"progression": {"sets": 4}}}


def _rule(slot: Data, slots: list[Data], dice: Random) -> Data | None:
    if "movement" not in slot or slot["progression"]["kind"] == "double":
        return None
    slot["progression"] = {"kind": "double", "reps": "6-9", "add": "1 %"}
    return {"alter": slot["name"], "with": {"progression": dict(slot["progression"])}}


def _swap(slot: Data, slots: list[Data], dice: Random) -> Data | None:
    to = dice.choice(["front squat", "dip", "bench press", "good morning"])
    if slot.get("movement", to) == to:
        return None
    for key in _OF_A_MOVEMENT:
        slot.pop(key, None)
    slot["movement"] = to
    if not str(slot["progression"].get("start", "%")).endswith("%"):
        del slot["progression"]["start"]
    return {"swap": slot["name"], "to": to}


def _add(slot: Data, slots: list[Data], dice: Random) -> Data:
    slots.insert(slots.index(slot) + 1, deepcopy(ADDED))
    return {"add": deepcopy(ADDED), "after": slot["name"]}


WAYS: tuple[Way, ...] = (_drop, _rest, _sets, _rule, _swap, _add)


def rewritten(block: Data, dice: Random) -> tuple[list[Data], Data]:
    """Up to three changes of different slots, and the block with them made by hand."""
    by_hand, changes = deepcopy(block), list[Data]()
    named = [
        (day["slots"], slot)
        for day in by_hand["days"]
        for slot in day["slots"]
        if "name" in slot and not ("weeks" in day and "weeks" in slot)  # Together they may be no week at all.
    ]
    for slots, slot in dice.sample(named, min(3, len(named))):
        change = dice.choice(WAYS)(slot, slots, dice)
        changes += [change] if change is not None else []
    return changes, by_hand
