"""Values as a profile writes them: in one line within brackets, or one key a line."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import TypeAlias

Value: TypeAlias = "str | Sequence[Value] | Mapping[str, Value]"
_PLAIN = re.compile(r"[^\W_][\w .%/+-]*(?<! )")


def flow(value: Value) -> str:
    """A value in one line: `{date: 2027-03-01, load: 147.5, reps: 1}`."""
    if isinstance(value, str):
        return scalar(value)
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{scalar(key)}: {flow(part)}" for key, part in value.items()) + "}"
    return "[" + ", ".join(flow(part) for part in value) + "]"


def scalar(text: str) -> str:
    """A text plain where that is safe, else in quotes."""
    if _PLAIN.fullmatch(text):
        return text
    return '"' + "".join(_sign(c) for c in text) + '"'


def _sign(character: str) -> str:
    """One character between double quotes: what cannot be seen is written by its number."""
    if character in '"\\':
        return f"\\{character}"
    return character if character.isprintable() else f"\\U{ord(character):08x}"


def block(value: Value, indent: int, step: int) -> list[str]:
    """The lines of a mapping whose parts nest by `step`; tested sets stay in one line each."""
    if not isinstance(value, Mapping):
        assert not isinstance(value, str)
        return [" " * indent + "- " + flow(part) for part in value]
    lines = []
    for key, part in value.items():
        if isinstance(part, str):
            lines.append(" " * indent + f"{scalar(key)}: {scalar(part)}")
        else:
            lines += [" " * indent + f"{scalar(key)}:", *block(part, indent + step, step)]
    return lines
