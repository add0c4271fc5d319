"""Where the parts of a YAML text stand, to the character, so that something can be added between them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

import yaml


@dataclass(frozen=True, slots=True)
class TextPlace:
    """A part from `start` to behind its last character, `end`; an anchor belongs to it, a comment after it does not.

    `items` holds (key, value) for a mapping and (None, value) for a list. `flow` is written in brackets.
    """

    kind: Literal["scalar", "list", "mapping", "alias"]
    start: int
    end: int
    text: str = ""
    flow: bool = False
    items: tuple[tuple[TextPlace | None, TextPlace], ...] = ()

    @property
    def blank(self) -> bool:
        """Whether nothing at all stands there."""
        return self.kind == "scalar" and self.start == self.end

    def entry(self, key: str) -> tuple[TextPlace | None, TextPlace] | None:
        """Key and value of an entry of a mapping."""
        return next(((k, value) for k, value in self.items if k is not None and k.text == key), None)


_PARSER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def placed(text: str, parser: Any = _PARSER) -> TextPlace:
    """The places of the one document of `text`, which must be sound YAML without a byte order mark."""
    events = iter(yaml.parse(text, Loader=parser))
    for event in events:
        if isinstance(event, yaml.NodeEvent):
            return _place(event, events, text)
    raise ValueError("the text holds no document")


def line_start(text: str, at: int) -> int:
    """Where the line of a character begins."""
    return max(text.rfind("\n", 0, at), text.rfind("\r", 0, at)) + 1


def line_end(text: str, at: int) -> int:
    """Where the line of a character ends, before its line break; the end of the text on its last line."""
    ends = [found for found in (text.find("\n", at), text.find("\r", at)) if found >= 0]
    return min(ends, default=len(text))


def column(text: str, at: int) -> int:
    """How many characters stand before one on its line."""
    return at - line_start(text, at)


def line_break(text: str) -> str:
    """The line break that the text uses first, `\\n` where it has one line."""
    end = line_end(text, 0)
    return "\r\n" if text.startswith("\r\n", end) else text[end : end + 1] or "\n"


def _place(event: Any, events: Iterator[Any], text: str) -> TextPlace:
    start, end = event.start_mark.index, event.end_mark.index
    if isinstance(event, yaml.AliasEvent):
        return TextPlace("alias", start, end)
    if isinstance(event, yaml.ScalarEvent):
        if event.style in ("|", ">"):
            # To the parser the blank lines below belong to such a text; what is added must stand above them.
            end = start + len(text[start:end].rstrip())
        if start == end:
            # One parser puts a value that is left out before the space, the other behind it.
            start = end = len(text[:end].rstrip(" "))
        return TextPlace("scalar", start, end, event.value)
    if isinstance(event, yaml.SequenceStartEvent):
        values, closed = _inside(events, text, yaml.SequenceEndEvent)
        items: tuple[tuple[TextPlace | None, TextPlace], ...] = tuple((None, value) for value in values)
        kind: Literal["list", "mapping"] = "list"
    else:
        parts, closed = _inside(events, text, yaml.MappingEndEvent)
        items = tuple(zip(parts[::2], parts[1::2], strict=True))
        kind = "mapping"
    flow = bool(event.flow_style)
    # Without brackets nothing closes it: the parser names the place where the next part begins.
    return TextPlace(kind, start, closed if flow else items[-1][1].end, "", flow, items)


def _inside(events: Iterator[Any], text: str, closing: type[Any]) -> tuple[list[TextPlace], int]:
    found = []
    while not isinstance(event := next(events), closing):
        found.append(_place(event, events, text))
    return found, event.end_mark.index
