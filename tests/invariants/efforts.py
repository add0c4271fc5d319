"""How many reps to failure a rule's load is worked out from, by the README: past fifteen it is found by feel."""

from __future__ import annotations

from fractions import Fraction

from made.masses import Data

MOST_TO_FAILURE = 15
USUAL_RESERVE = {"volume": 3}


def worked_out(rule: Data, exposure: int) -> bool:
    """Whether an exposure (from 0) of a rule has a load where the max is known: a start, a share or a short set."""
    if rule.get("start") is not None or rule["kind"] in ("hold", "pins"):
        return True
    match rule["kind"]:
        case "wave":
            entry = rule["weeks"][exposure % len(rule["weeks"])]
            return "share" in entry or _short(entry["reps"], entry["rir"])
        case "top_set":
            return _short(_turn(rule["reps"], exposure), _turn(rule["rir"], exposure))
        case "double":
            return _short(int(rule["reps"].split("-")[1]), rule.get("rir", 2))
    return _short(rule["reps"], rule.get("rir", USUAL_RESERVE.get(rule["kind"], 2)))


def _short(reps: object, rir: object) -> bool:
    return Fraction(str(reps)) + Fraction(str(rir)) <= MOST_TO_FAILURE


def _turn(values: object, exposure: int) -> object:
    return values[min(exposure, len(values) - 1)] if isinstance(values, list) else values
