"""Signs that nobody sees in a name, told where they stand: two names that look alike may differ by one."""

from __future__ import annotations

from unicodedata import category, name

from builder.intake.reader import control_sign
from builder.values.mouth import visible
from builder.values.nodes import Mapping, Scalar, scalars
from builder.values.problem import Problem, Severity

MOST_SIGNS = 120
"""Signs of a name, a title or a cue; in longer texts such a sign does no harm."""
MOST_TOLD = 20
_JOINERS = "\u200c\u200d"
"""They belong to the writing of some languages and to pictures, between letters beyond ASCII."""


def unseen_signs(tree: Mapping) -> tuple[Problem, ...]:
    """A warning for each short text that holds a soft hyphen, a tag character or another sign that prints nothing."""
    found = ((scalar, sign) for scalar in scalars(tree) if (sign := _unseen(scalar.text)))
    told = [Problem("unseen-sign", scalar.span, *_told(scalar, sign), Severity.WARNING) for scalar, sign in found]
    return tuple(told[:MOST_TOLD])


def _told(scalar: Scalar, sign: str) -> tuple[str, str]:
    fact = f'"{visible(scalar.text)}" holds a sign that nobody sees: {name(sign, "without a name").lower()}'
    return f"{fact} (U+{ord(sign):04X})", "Type the text again, unless you mean it."


def _unseen(text: str) -> str:
    """The first such sign, "" where there is none; one that may not stand anywhere has its own problem."""
    if text.isascii() or len(text) > MOST_SIGNS or "\n" in text or control_sign(text):
        return ""
    for before, sign, after in zip(" " + text, text, text[1:] + " ", strict=False):
        joins = sign in _JOINERS and not (before.isascii() or after.isascii())
        if category(sign) == "Cf" and not joins:
            return sign
    return ""
