"""The one mouth: what strangers wrote is shown with its unseen signs spelled out, on a terminal and in every format."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from unicodedata import category

# Format signs are among them: they turn the text around, so that what is shown is not what is written.
_UNSEEN = {"Cc", "Cf", "Cs", "Cn", "Zl", "Zp"}
_SEPARATORS = ";\t|\n\r"
"""Where a spreadsheet may split a line that commas part, whatever quotes stand around it."""
_FORMULA = re.compile(rf"(^|[{_SEPARATORS}])([\s\"']*)(?=[=+\-@＝＋－＠])")


def unseen(character: str) -> bool:
    """Whether a sign prints nothing, moves the cursor or turns the text after it: control, format and unknown signs."""
    return category(character) in _UNSEEN


def visible(text: str, keep: str = "") -> str:
    """The text for a terminal, unseen signs as `\\x1b` or `\\u202e`; those in `keep` stay."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_spelled(c) if unseen(c) and c not in keep else c for c in text)


def as_json(value: object, *, ascii_only: bool = False, default: Callable[[object], object] | None = None) -> str:
    """JSON, unseen signs as escapes, so that it is safe to look at and reads as what it was."""
    text = json.dumps(value, ensure_ascii=ascii_only, indent=2, default=default)
    return "".join(_halves(c) if unseen(c) and c != "\n" else c for c in text)


def as_quoted_yaml(text: str) -> str:
    """YAML in which unseen signs stand between double quotes only, there as escapes that give them back."""
    return "".join(_spelled(c) if unseen(c) and c != "\n" else c for c in text)


def csv_cell(text: str) -> str:
    """A text for a cell of a table: unseen signs spelled out, and an apostrophe before what could be a formula.

    That is a sign out of `= + - @` at the start, or after a sign at which a spreadsheet may split the cell, blanks
    and quotes passed over. An apostrophe that stands there already is doubled, so that taking one away at each such
    place gives the text back.
    """
    return _FORMULA.sub(r"\1\2'", visible(text, "\n\t"))


def _spelled(character: str) -> str:
    code = ord(character)
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"


def _halves(character: str) -> str:
    """A character as JSON writes it; beyond the first plane two halves (RFC 8259, 7)."""
    code = ord(character)
    if code < 0x10000:
        return f"\\u{code:04x}"
    return f"\\u{0xD800 + (code - 0x10000 >> 10):04x}\\u{0xDC00 + (code - 0x10000 & 0x3FF):04x}"
