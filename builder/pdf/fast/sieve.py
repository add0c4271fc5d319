"""Selectors sieved: one that asks for classes and tags around an element is not tried where these are not around it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from weasyprint.css import cssselect2

from builder.pdf.fast.patches import replaced

parser = cssselect2.parser


@contextmanager
def sieved() -> Iterator[None]:
    """While this lasts, the selectors of the sheets that are read get a sieve."""
    with replaced(cssselect2.compiler, {"CompiledSelector": _Sieved}):
        yield


class _Sieved(cssselect2.compiler.CompiledSelector):  # type: ignore[misc]  # no types
    """A selector that first looks at what is around an element, which is known for all children of one at once."""

    def __init__(self, parsed: Any) -> None:
        super().__init__(parsed)
        if needed := frozenset(_around(parsed.parsed_tree)):
            test = vars(self)["test"]
            self.test = lambda el: el.parent is not None and needed <= _signs(el.parent) and test(el)


def _around(node: Any) -> Iterator[str]:
    """The signs that some element around must have, one or the other: what stands before a space or a >."""
    while isinstance(node, parser.CombinedSelector):
        above = node.left.right if isinstance(node.left, parser.CombinedSelector) else node.left
        for simple in above.simple_selectors if node.combinator in (" ", ">") else ():
            if isinstance(simple, parser.ClassSelector):
                yield f".{simple.class_name}"
            elif isinstance(simple, parser.LocalNameSelector) and simple.local_name == simple.lower_local_name:
                yield simple.local_name
        node = node.left


def _signs(element: Any) -> frozenset[str]:
    """The tags and classes of an element and of all that it lies in."""
    known: frozenset[str] | None = element.__dict__.get("signs")
    if known is None:
        above = _signs(element.parent) if element.parent is not None else frozenset[str]()
        known = element.signs = above.union((element.local_name, *(f".{name}" for name in element.classes)))
    return known
