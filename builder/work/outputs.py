"""The JSON Schemas of what the commands print for programs: the plan, a log, a check, and the list of a roster."""

from __future__ import annotations

import re
from typing import Any, get_args

from builder.given.changes import VERBS
from builder.given.schema import DRAFT
from builder.log.model import State
from builder.plan.model import Role, WeekKind
from builder.review.finding import Gravity
from builder.training.estimate import Evidence
from builder.values.formats import TOLD_FORMAT
from builder.values.problem import Severity
from builder.values.quantity import Unit
from builder.work.roster.delivery import HEAD
from builder.work.topics import reference

Json = dict[str, Any]
TEXT: Json = {"type": "string"}
WHOLE: Json = {"type": "integer"}
NUMBER: Json = {"type": "number"}
YES_NO: Json = {"type": "boolean"}
DAY: Json = {"type": "string", "format": "date"}
MASS: Json = {"type": "string", "pattern": r"^-?[0-9]+(\.[0-9]+)?$"}
"""Masses, and shares of a log, are decimal texts, so that no digit is lost on the way."""
FORMAT: Json = {"const": TOLD_FORMAT}
UNIT: Json = {"enum": [*map(str, Unit)]}


def _or_null(kind: Json) -> Json:
    return {"anyOf": [kind, {"type": "null"}]}


def _list(kind: Json) -> Json:
    return {"type": "array", "items": kind}


def _part(name: str) -> Json:
    return {"$ref": f"#/$defs/{name}"}


def _by_name(kind: Json) -> Json:
    return {"type": "object", "additionalProperties": kind}


def _told(kind: Json, about: str) -> Json:
    return {**kind, "description": about}


def _words(*known: str) -> Json:
    return {"enum": [*map(str, known)]}


_PLAN: dict[str, Json] = {
    "plan": {"format": FORMAT, "client": _part("client"), "block": _part("block"), "notes": _list(_part("reason")),
             "changes": _list(_part("change")), "weeks": _list(_part("week"))},
    "change": {"change": _told(_words(*VERBS), "what is done"),
               "movement": _told(TEXT, "the movement of the block, or the one that is added"),
               "to": _told(_or_null(TEXT), "the movement that comes in its place"),
               "with": _told(_or_null(TEXT), "keys with new values, as they are written"),
               "days": _told(_list(TEXT), "titles of the days that are changed"),
               "weeks": _told(_or_null(_list(WHOLE)), "the first and the last week, null for all"),
               "why": _told(_or_null(TEXT), "the reason")},
    "client": {"name": TEXT, "units": UNIT, "status": TEXT, "cautions": _list(TEXT), "lifts": _list(_part("lift"))},
    "lift": {"movement": TEXT, "equation": TEXT, "test": _part("test"), "estimate": MASS, "spread": _list(MASS),
             "expected": _part("expected"), "working_max": MASS},
    "test": {"date": DAY, "load": MASS, "reps": WHOLE, "rir": NUMBER, "evidence": _words(*Evidence)},
    "expected": {"about": MASS, "low": MASS, "high": MASS},
    "block": {"title": TEXT, "weeks": WHOLE, "suits": _list(TEXT)},
    "week": {"week": WHOLE, "kind": _words(*WeekKind), "starts": DAY,
             "phase": _or_null(TEXT), "volume": _part("volume"), "by_movement": _by_name(_part("volume")),
             "by_pattern": _by_name(_part("volume")), "sessions": _list(_part("session"))},
    "volume": {"sets": WHOLE, "lifts": WHOLE, "tonnage": MASS, "intensity": _or_null(NUMBER), "seconds": WHOLE,
               "metres": WHOLE},
    "session": {"day": WHOLE, "date": DAY, "title": TEXT, "minutes": WHOLE, "slots": _list(_part("slot"))},
    "slot": {"movement": TEXT, "kind": TEXT, "drill": _or_null(TEXT), "lift": _or_null(TEXT),
             "implement": _or_null(TEXT), "exposure": WHOLE, "estimated": YES_NO,
             "expected": _or_null(_part("expected")), "superset": _or_null(TEXT), "stress": _or_null(TEXT),
             "zone": _or_null(TEXT),
             "replaces": _or_null(TEXT), "changed": _list(_part("change")), "pin": _or_null(_part("pin")),
             "notes": _list(_part("reason")),
             "lessons": _list(_part("lesson")), "next": _list(_part("outcome")), "sets": _list(_part("set"))},
    "pin": {"hole": _or_null(WHOLE), "cm": _or_null(MASS)},
    "outcome": {"after": TEXT, "top": _or_null(MASS), "load": _or_null(MASS), "reps": _or_null(WHOLE),
                "at": _or_null(WHOLE), "sets": _or_null(WHOLE), "length": _or_null(TEXT), "more": _or_null(MASS),
                "more_share": _or_null(NUMBER)},
    "lesson": {"left": _or_null(NUMBER), "back_off": _or_null(MASS), "next_top": _or_null(MASS)},
    "set": {"role": _words(*Role), "reps": WHOLE,
            "most_reps": _or_null(WHOLE), "open_ended": YES_NO, "seconds": _or_null(WHOLE), "metres": _or_null(WHOLE),
            "rir": _or_null(NUMBER), "reserve": _or_null(_part("reserve")), "reach": _or_null(MASS), "held": YES_NO,
            "share": _or_null(NUMBER), "target": _or_null(MASS), "load": _or_null(MASS), "unit": UNIT,
            "side": _list({"type": "array", "prefixItems": [TEXT, WHOLE], "minItems": 2, "maxItems": 2}),
            "bracket": _or_null(_list(_or_null(MASS))), "rest": _or_null(WHOLE), "milestone": YES_NO,
            "record_mark": _or_null(_part("mark")), "why": _list(_part("reason"))},
    "reserve": {"reps": NUMBER, "exact": NUMBER, "least": YES_NO},
    "mark": {"reps": WHOLE, "basis": _words("estimate", "load"), "beats": _part("beats")},
    "beats": {"load": MASS, "reps": WHOLE, "date": _or_null(DAY)},
    "reason": {"step": TEXT, "text": TEXT, "facts": {"type": "object"}},
}  # fmt: skip
_CHECK: dict[str, Json] = {
    "check": {"format": FORMAT, "problems": _list(_part("problem")), "findings": _list(_part("finding")),
              "notes": _list(_part("finding"))},
    "problem": {"code": TEXT, "severity": _words(*Severity), "file": _or_null(TEXT), "line": _or_null(WHOLE),
                "column": _or_null(WHOLE), "fact": TEXT, "help": TEXT},
    "finding": {"code": TEXT, "gravity": _words(*Gravity), "place": _or_null(TEXT), "more": WHOLE,
                "fact": TEXT, "help": TEXT, "source": TEXT},
}  # fmt: skip
_COUNT: Json = {"sets_planned": WHOLE, "done": WHOLE, "missed": WHOLE, "left_out": WHOLE, "blank": WHOLE,
                "unclear": WHOLE, "adherence": _or_null(MASS)}  # fmt: skip
_LOG: dict[str, Json] = {
    "log": {"format": FORMAT, "booklet": _part("booklet"), "sessions_planned": WHOLE, "sessions_done": WHOLE,
            "so_far": _part("count"), "whole": _part("count"), "weeks": _list(_part("week")),
            "estimates": _list(_part("estimate")), "records": _list(_part("record")), "tests": _list(_part("test")),
            "record_table": _list(_part("row")), "trend": _list(_part("trend")),
            "week_reviews": _list(_part("review")), "sessions": _list(_part("session")), "retest_note": _or_null(TEXT),
            "unclear": _list(_part("unclear")), "other_fields": _by_name(TEXT)},
    "booklet": {"code": TEXT, "revision": WHOLE, "client": TEXT, "title": TEXT, "unit": UNIT, "made_on": DAY},
    "count": _COUNT,
    "week": {"week": WHOLE, **_COUNT, "tonnage_planned": MASS, "tonnage_done": MASS, "tonnage_by_feel": MASS,
             "seconds_planned": WHOLE, "seconds_done": WHOLE, "metres_planned": WHOLE, "metres_done": WHOLE,
             "effort": _or_null(_part("effort")), "lifts_missed": _list(TEXT), "lifts_lighter": _list(TEXT),
             "light_week_due": YES_NO},
    "effort": {"sets": WHOLE, "rir_off": MASS},
    "estimate": {"movement": TEXT, "week": WHOLE, "date": _or_null(DAY), "estimate": MASS, "at_least": YES_NO,
                 "spread": _list(MASS), "from": _part("from")},
    "from": {"load": MASS, "reps": WHOLE, "rir": _or_null(MASS)},
    "record": {"movement": TEXT, "week": WHOLE, "date": _or_null(DAY), "load": MASS, "reps": WHOLE,
               "best_estimate": YES_NO, "beats": _part("beats")},
    "beats": {"load": MASS, "reps": WHOLE, "rir": _or_null(MASS), "date": _or_null(DAY)},
    "test": {"movement": TEXT, "date": _or_null(DAY), "attempts": _list(_part("attempt")), "load": _or_null(MASS),
             "reps": _or_null(WHOLE), "rir": _or_null(MASS), "note": _or_null(TEXT)},
    "attempt": {"number": WHOLE, "load": _or_null(MASS), "good": _or_null(YES_NO)},
    "row": {"movement": TEXT, "reps": WHOLE, "load": _or_null(MASS), "date": _or_null(DAY)},
    "trend": {"movement": TEXT, "week": WHOLE, "max": MASS},
    "review": {"week": WHOLE, "bodyweight": _or_null(MASS), "sleep_hours": _or_null(MASS), "good": _or_null(TEXT),
               "mend": _or_null(TEXT)},
    "session": {"week": WHOLE, "day": WHOLE, "date": DAY, "done_on": _or_null(DAY), "bodyweight": _or_null(MASS),
                "sleep_hours": _or_null(MASS), "note": _or_null(TEXT), "slots": _list(_part("slot"))},
    "slot": {"slot": WHOLE, "movement": TEXT, "note": _or_null(TEXT), "sets": _list(_part("set"))},
    "set": {"set": WHOLE, "planned": _part("planned"), "state": _words(*get_args(State)),
            "today": MASS, "written": _by_name(TEXT), "done": _part("planned"), "as_planned": YES_NO,
            "at_least": YES_NO, "missed": YES_NO},
    "planned": {"load": _or_null(MASS), "reps": _or_null(WHOLE), "seconds": _or_null(WHOLE), "metres": _or_null(WHOLE),
                "rir": _or_null(MASS)},
    "unclear": {"page": _or_null(WHOLE), "field": TEXT, "written": TEXT, "why": TEXT},
}  # fmt: skip
_SOMETIMES = {("log", "set"): ("today", "written", "done", "as_planned", "at_least", "missed"),
              ("log", "planned"): ("reps", "seconds", "metres")}  # fmt: skip
"""Keys of a log that are left out where they say nothing."""
_DELIVERY: dict[str, Json] = {
    "delivery": {word: WHOLE if word == "pages" else {**TEXT, "pattern": "^[0-9a-f]{64}$"} if word == "sha256" else TEXT
                 for word in HEAD}
}  # fmt: skip
_PARTS = {"plan": _PLAN, "log": _LOG, "check": _CHECK, "delivery": _DELIVERY}
_ABOUT = {
    "plan": "What `loadleaf explain --json` prints: every set of a plan with its reasons.",
    "log": "What `loadleaf read --format json` prints: what was done, set by set, and what it adds up to.",
    "check": "What `loadleaf check --json` prints: problems of the files, findings of the review, and notes.",
    "delivery": "One line of the `delivery.csv` of a roster, by the headings of its columns.",
}
OUTPUTS = tuple(_PARTS)


def output_schema(name: str) -> Json:
    """The JSON Schema of one of the outputs. Keys that a later version adds are no fault of a file."""
    parts = {part: _object(name, part, keys) for part, keys in _PARTS[name].items()}
    whole = parts.pop(name)
    return {"$schema": DRAFT, "title": f"Loadleaf: {name}", "description": _ABOUT[name], **whole, "$defs": parts}


def _object(name: str, part: str, keys: Json) -> Json:
    said = _said(part) if name == "plan" else {}
    described = {key: {**kind, "description": said[key]} if key in said else kind for key, kind in keys.items()}
    always = [key for key in keys if key not in _SOMETIMES.get((name, part), ())]
    return {"type": "object", "properties": described, "required": always}


def _said(part: str) -> dict[str, str]:
    """What the reference says of the keys of a part of the plan."""
    _, _, below = reference().partition(f"<!-- json: {part} -->\n")
    rows = [line.strip("|").split("|") for line in below.split("\n\n", 1)[0].splitlines()[2:]]
    return {key: text.strip() for keys, text in rows for key in re.findall(r"`([^`]+)`", keys)}
