"""Rules found once: elements that stand alike among their like, below such that do, match the same selectors."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any

from weasyprint.css import cssselect2

from builder.pdf.fast.patches import replaced

_DEEPER = re.compile(r":(?:empty|has|target)\b|\[\s*(?:id|data-)")
"""Selectors that ask for more of an element than `Matched` knows it by: its text, what lies below it, its marks."""
_NAMED = re.compile(r"#([-\w]+)[^{};]*\{")
_DEEP = {"select", "option", "textarea"}
"""Elements for which the built-in sheet has such selectors."""


class Matched:
    """What sheets have for elements. An element is known by those above it, its place, and tags and attributes of all
    beside it.
    """

    def __init__(self, names: Iterable[str] = ()) -> None:
        self.names = frozenset(names)
        self.usual = cssselect2.Matcher.match
        self.numbers: dict[Any, int] = {}
        self.found: dict[tuple[int, int], Any] = {}

    @classmethod
    def of(cls, sheets: Sequence[str]) -> Matched | None:
        """What is known, which is nothing yet, where these and the built-in sheet are used; None where they ask for
        more. Rules that they get later must be for classes that no element had before.
        """
        if any(_DEEPER.search(sheet) for sheet in sheets):
            return None
        return cls(name for sheet in sheets for name in _NAMED.findall(sheet))

    @contextmanager
    def once(self) -> Iterator[None]:
        """While this lasts, what sheets have for elements is looked up in what is known."""
        with replaced(cssselect2.Matcher, {"match": lambda matcher, element: self.match(matcher, element)}):
            yield

    def match(self, matcher: Any, element: Any) -> Any:
        """As the matcher does; each outlives what is known of it here."""
        key = id(matcher), self.number(element)
        if element.local_name in _DEEP:
            return self.usual(matcher, element)
        if key not in self.found:
            self.found[key] = self.usual(matcher, element)
        return self.found[key]

    def number(self, element: Any) -> int:
        """The same for elements that no selector tells apart."""
        known: int | None = element.__dict__.get("number")
        if known is None:
            above = element.parent
            like = self.look(element.etree_element) if above is None else (self.number(above), self.children(above))
            known = element.number = self._numbered((element.index, like))
        return known

    def children(self, element: Any) -> int:
        """The same for elements whose children look alike, one after the other."""
        known: int | None = element.__dict__.get("children_number")
        if known is None:
            known = element.children_number = self._numbered(tuple(map(self.look, element.etree_element)))
        return known

    def look(self, element: Any) -> tuple[Any, ...]:
        """Its tag and attributes, without marks of fields and without a name that no sheet knows."""
        told = ((name, text) for name, text in element.attrib.items() if not name.startswith("data-"))
        return element.tag, *(pair for pair in told if pair[0] != "id" or pair[1] in self.names)

    def _numbered(self, value: Any) -> int:
        return self.numbers.setdefault(value, len(self.numbers))
