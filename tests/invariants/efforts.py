"""Where a rule's load is worked out: from at most fifteen reps to failure, by the README; past that by feel."""

from __future__ import annotations

from fractions import Fraction

from made.masses import Data

MOST_TO_FAILURE = 15
USUAL_RESERVE = {"volume": 3}


def worked_out(rule: Data, exposure: int) -> bool:
    """Whether an exposure (from 0) of a rule has a load where the max is known: a start, a share or a short set."""
    if rule.get("start") is not None or rule["kind"] in ("hold", "pins"):
        return True
    if lengthy(rule):
        return False
    match rule["kind"]:
        case "wave":
            entry = rule["weeks"][exposure % len(rule["weeks"])]
            return "share" in entry or _short(entry["reps"], entry["rir"])
        case "top_set":
            return _short(_turn(rule["reps"], exposure), _turn(rule["rir"], exposure))
        case "double":
            return _short(int(rule["reps"].split("-")[1]), rule.get("rir", 2))
    return _short(rule["reps"], rule.get("rir", USUAL_RESERVE.get(rule["kind"], 2)))


def lengthy(rule: Data) -> bool:
    """Whether its sets are counted in time or distance."""
    return "time" in rule or "distance" in rule


def further(rule: Data, exposure: int) -> list[Data]:
    """The sets after those of the rule itself, one by one."""
    told = rule["weeks"][exposure % len(rule["weeks"])] if rule["kind"] == "wave" else rule
    return [each for each in told.get("then", ()) for _ in range(int(each.get("sets", 1)))]


def further_known(rule: Data, exposure: int, *, known: bool, max_known: bool) -> list[bool]:
    """Which of the further sets have a load: by a share or a reserve of the max, else where the set before has one."""
    found: list[bool] = []
    for each in further(rule, exposure):
        if "share" in each or "rir" in each:
            known = max_known and ("share" in each or _short(each["reps"], each["rir"]))
        found.append(known)
    return found


def wanted_sets(rule: Data, exposure: int) -> int:
    """How many sets there are."""
    match rule["kind"]:
        case "volume":
            low, high = (int(end) for end in rule["sets"].split("-"))
            turn = exposure // rule.get("every", 1)
            ends = lengthy(rule) and not {"add", "longer"} & set(rule)
            return low + (min(turn, high - low) if ends else turn % (high - low + 1))
        case "wave":
            return int(rule["weeks"][exposure % len(rule["weeks"])]["sets"])
        case "top_set":
            return 1 + int(rule.get("backoff", {}).get("sets", 0))
        case "hold":
            return int(rule.get("sets", 1))
    return int(rule.get("sets", 3))


def _short(reps: object, rir: object) -> bool:
    return Fraction(str(reps)) + Fraction(str(rir)) <= MOST_TO_FAILURE


def _turn(values: object, exposure: int) -> object:
    return values[min(exposure, len(values) - 1)] if isinstance(values, list) else values
