"""What an intake form says of itself, and what a filled one holds."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from builder.log.filled import Value
from builder.values.quantity import Unit

INTAKE = "intake.json"
"""The name under which it travels in the form."""
FORMAT = 1


@dataclass(frozen=True, slots=True)
class IntakeFacts:
    """What is printed on a form: its language, the unit of its masses, and the lifts and plates row by row."""

    language: str
    unit: Unit
    lifts: tuple[str, ...]
    plates: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        """The same for a program."""
        return {
            "format": FORMAT, "language": self.language, "units": str(self.unit), "lifts": list(self.lifts),
            "plates": list(self.plates),
        }  # fmt: skip


@dataclass(frozen=True, slots=True)
class IntakeAnswers:
    """A filled form: no value is blank, and a tick that is set reads as any text."""

    file: str
    facts: IntakeFacts
    values: tuple[Value, ...]


def as_bytes(facts: IntakeFacts) -> bytes:
    """The facts as they travel."""
    return (json.dumps(facts.as_json(), ensure_ascii=False, indent=1) + "\n").encode()


def from_bytes(data: bytes) -> IntakeFacts:
    """The facts that a form carries. ValueError when they are none, or of a newer format."""
    try:
        told = json.loads(data)
        if told["format"] != FORMAT:
            raise ValueError(f"its format is {told['format']}, and {FORMAT} is known here")
        # Cut to a bound: the form comes back from a stranger.
        lifts, plates = (tuple(str(one)[:120] for one in told[key][:99]) for key in ("lifts", "plates"))
        return IntakeFacts(str(told["language"])[:20], Unit(told["units"]), lifts, plates)
    except (TypeError, KeyError, UnicodeDecodeError, RecursionError) as error:
        raise ValueError("it is not understood") from error
