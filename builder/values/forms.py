"""What an editor is told of single values: how they may be written, as JSON Schema."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from pydantic import WithJsonSchema
from pydantic.config import JsonDict, JsonValue

from builder.values.quantity import Unit


@dataclass(frozen=True, slots=True)
class Or:
    """Marks a type that may also be written as another one alone: a list of one entry, a bar that is only a weight."""

    form: Any


def schema(pattern: str, form: str, *, bare: bool = True, **more: Any) -> WithJsonSchema:
    """The JSON Schema of a value that is written as text, or bare as a number; `form` says how in a few words."""
    kind = ["string", "number"] if bare else "string"
    return WithJsonSchema({"type": kind, "pattern": rf"^\s*{pattern}\s*$", "form": form, **more})


def offered(*what: str) -> WithJsonSchema:
    """The JSON Schema of a text for which an editor offers names; others are texts too."""
    return WithJsonSchema({**TEXT, "offered": list(what)})


def one_key(*keys: str, none: bool = False) -> JsonDict:
    """The JSON Schema of a part that has exactly one of these keys, or at most one."""
    each: list[JsonValue] = [{"required": [key]} for key in keys]
    return {"oneOf": [*each, {"not": {"anyOf": each}}] if none else each}


def words(*known: str) -> str:
    """A pattern for some words in small or large letters, which JSON Schema has no sign for."""
    return f"({'|'.join(map(_any_case, known))})"


def _any_case(word: str) -> str:
    return "".join(f"[{sign.upper()}{sign}]" if sign.isalpha() else sign for sign in word)


TEXT = {"type": ["string", "number", "boolean"], "minLength": 1, "maxLength": 120}
_UNITS = "|".join("".join(f"[{letter.upper()}{letter}]" for letter in unit) for unit in Unit)
MASS = rf"\+?\d+(\.\d+)?(\s*({_UNITS}))?"
PERCENT = r"[+-]?\d+(\.\d+)?\s*%"
DATE = r"\d{4}-\d{2}-\d{2}"
SPREAD = r"\d{1,3}(\s*[-–]\s*\d{1,3})?"
LENGTH = r"\d+(\.\d+)?\s*" + words("s", "sec", "second", "seconds", "min", "minute", "minutes")
TURNS = r"\d{1,2}\s+" + words("week", "weeks", "exposure", "exposures")
RISING: JsonDict = {"type": "string", "pattern": r"^\s*\d{1,3}\s*[-–]\s*\d{1,3}\s*$"}
"""A range that is more than one number."""
