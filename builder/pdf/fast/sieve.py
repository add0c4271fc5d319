"""Selectors sieved: one that asks for classes and tags around an element is not tried where these are not around it.

Each also says what it asks for, so that elements can be told alike by no more than that.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
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
            # The signs know no order and no depth, so they let some through that do not match; the selector's own test
            # follows. What they turn away could never match, since each must lie somewhere above.
            self.test = lambda el: el.parent is not None and needed <= signs(el.parent) and test(el)
        # On the function, which is all that the typesetter keeps of a selector when it sorts them.
        vars(self)["test"].asks = Asks.of(parsed.parsed_tree)


@dataclass(frozen=True, slots=True)
class Asks:
    """What a selector asks for besides tags, classes and what lies around.

    `places` are the signs of elements of which it asks how they stand among those beside them, `deeper` of those of
    which it asks what they hold; all with the signs of what lies around. `attributes` and `ids` are those it names.
    """

    places: tuple[frozenset[str], ...] = ()
    deeper: tuple[frozenset[str], ...] = ()
    attributes: frozenset[str] = frozenset()
    ids: frozenset[str] = frozenset()

    @classmethod
    def of(cls, tree: Any) -> Asks:
        """What a parsed selector asks for."""
        every = [(part, frozenset((*_signs_of(_end(part)), *_around(part)))) for part in _parts(tree)]
        return cls(
            places=tuple(found for part, found in every if _beside(part)),
            deeper=tuple(found for part, found in every if any(map(_inward, _end(part).simple_selectors))),
            attributes=frozenset(one.lower_name for one in _simple(tree) if isinstance(one, parser.AttributeSelector)),
            ids=frozenset(one.ident for one in _simple(tree) if isinstance(one, parser.IDSelector)),
        )


_PLAIN = {"root", "link", "visited", "any-link", "local-link", "lang"}
"""Pseudo-classes for which it does not matter how an element stands among others."""
_INWARD = {"empty", "target"}
_PSEUDO = (parser.PseudoClassSelector, parser.FunctionalPseudoClassSelector)
_NESTED = (parser.NegationSelector, parser.MatchesAnySelector, parser.SpecificityAdjustmentSelector)


def _parts(tree: Any) -> Iterator[Any]:
    """A parsed selector, and what is left of it before each combinator."""
    while isinstance(tree, parser.CombinedSelector):
        yield tree
        tree = tree.left
    yield tree


def _end(part: Any) -> Any:
    """What a part asks of the element that it ends with."""
    return part.right if isinstance(part, parser.CombinedSelector) else part


def _inner(simple: Any) -> Iterator[Any]:
    """The parsed selectors within one."""
    if isinstance(simple, (*_NESTED, parser.RelationalSelector)):
        for inner in simple.selector_list:
            yield getattr(inner, "selector", inner).parsed_tree


def _simple(tree: Any) -> Iterator[Any]:
    """All simple selectors of a parsed one, with those within others."""
    for part in _parts(tree):
        for simple in _end(part).simple_selectors:
            yield simple
            for inner in _inner(simple):
                yield from _simple(inner)


def _beside(part: Any) -> bool:
    """Whether it matters how the elements that a part ends with stand among those beside them."""
    if isinstance(part, parser.CombinedSelector) and part.combinator in ("+", "~"):
        return True
    simple = _end(part).simple_selectors
    # One that is not listed counts as asking for the place: elements are then taken for less alike than they are, and
    # never for more.
    if any(isinstance(one, _PSEUDO) and one.name not in _PLAIN for one in simple):
        return True
    return any(_beside(inner) for one in simple for tree in _inner(one) for inner in _parts(tree))


def _inward(simple: Any) -> bool:
    """Whether it matters what an element holds."""
    if isinstance(simple, parser.RelationalSelector) or (isinstance(simple, _PSEUDO) and simple.name in _INWARD):
        return True
    return any(_inward(one) for inner in _inner(simple) for one in _simple(inner))


def _around(node: Any) -> Iterator[str]:
    """The signs that some element around must have, one or the other: what stands before a space or a >."""
    while isinstance(node, parser.CombinedSelector):
        above = node.left.right if isinstance(node.left, parser.CombinedSelector) else node.left
        # What an element must stand beside says nothing of what it lies in. What that one lies in does, since both have
        # one parent.
        if node.combinator in (" ", ">"):
            yield from _signs_of(above)
        node = node.left


def _signs_of(compound: Any) -> Iterator[str]:
    """The signs that an element must have itself."""
    for simple in compound.simple_selectors:
        if isinstance(simple, parser.ClassSelector):
            yield f".{simple.class_name}"
        # A tag with capitals is matched as written in XML and in small letters in HTML, so it is no sign.
        elif isinstance(simple, parser.LocalNameSelector) and simple.local_name == simple.lower_local_name:
            yield simple.local_name


def signs(element: Any) -> frozenset[str]:
    """The tags and classes of an element and of all that it lies in."""
    # Kept on the element: all that lies in it asks again.
    known: frozenset[str] | None = element.__dict__.get("signs")
    if known is None:
        above = signs(element.parent) if element.parent is not None else frozenset[str]()
        known = element.signs = above.union((element.local_name, *(f".{name}" for name in element.classes)))
    return known
