"""Rules found once: elements that no selector tells apart have the same values from all sheets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import Any

from weasyprint import css

from builder.pdf.fast.sieve import Asks, signs

OWN = "own-"
"""How the classes begin that stand for style attributes: each has one rule, that for the class alone."""
SIZES = frozenset(
    (*(f"{most}{way}" for most in ("", "min_", "max_") for way in ("width", "height")),
     *(f"margin_{side}" for side in ("top", "right", "bottom", "left")), "top", "right", "bottom", "left")
)  # fmt: skip
"""Properties that nothing below an element takes over by itself: those of our style attributes."""
# The empty set lies in the signs of every element, so each gets a number of its own.
_ANYTHING = Asks(deeper=(frozenset(),))


@dataclass(frozen=True, slots=True)
class Cascade:
    """What sheets say of an element: by None of itself, by a name of what stands before or after it.

    The values are those of the typesetter: by the name of a property, each with its weight. Sizes are `passed` on
    where one is taken from above.
    """

    values: Mapping[str | None, dict[str, Any]]
    passed: bool


class Matched:
    """What some sheets have for elements, found once for all that are alike.

    An element is known by its tag, by its classes and those of our attributes that some selector asks for, by those
    above it, and, where a selector asks how it stands among those beside it, by all of these. Sheets that get rules
    later get none but for classes that no element had before.
    """

    def __init__(self, sheets: Sequence[Any], asked: Sequence[Asks]) -> None:
        self.sheets = tuple(sheets)
        self.names = frozenset(name for one in asked for name in one.ids)
        self.places = tuple({place for one in asked for place in one.places})
        self.deeper = tuple({place for one in asked for place in one.deeper})
        # The language always: the sieve counts :lang() as plain, though it reads an attribute.
        self.attributes = frozenset({"lang"}).union(*(one.attributes for one in asked))
        self.numbers: dict[Any, int] = {}
        self.asked: dict[int, tuple[bool, bool]] = {}
        self.looks: dict[tuple[Any, ...], tuple[Any, tuple[str, ...]]] = {}
        self.found: dict[tuple[int, tuple[str, ...]], Cascade] = {}
        self.matches: dict[int, list[tuple[Any, ...]]] = {}

    @classmethod
    def of(cls, sheets: Sequence[Any]) -> Matched:
        """What is known of elements that these sheets are for, which is nothing yet: sheet, origin and weight each."""
        tests = (test for sheet, *_ in sheets for test in _tests(sheet.matcher))
        return cls(sheets, [getattr(test, "asks", _ANYTHING) for test in tests])

    def cascade(self, element: Any) -> tuple[tuple[Any, ...], Cascade]:
        """What the sheets say of an element, and what it is known by."""
        number, own = self.number(element), self.look(element.etree_element)[1]
        known = self.found.get((number, own))
        if known is None:
            known = self.found[number, own] = self._cascade(element, number, own)
        return (number, own), known

    def _cascade(self, element: Any, number: int, own: tuple[str, ...]) -> Cascade:
        if number not in self.matches:
            self.matches[number] = [sheet.matcher.match(element) for sheet, *_ in self.sheets]
        values: dict[str | None, dict[str, Any]] = {None: {}}
        for (sheet, origin, weight), usual in zip(self.sheets, self.matches[number], strict=True):
            # The rules of our classes were not matched: they are put in here, and all sorted as the typesetter sorts
            # its own.
            ours = (rule[1:] for name in own for rule in sheet.matcher.class_selectors.get(name, ()))
            for specificity, _, pseudo, (declarations, layer) in sorted((*usual, *ours), key=lambda rule: rule[:2]):
                place = inf if layer is None else sheet.layers.index(layer)
                style = values.setdefault(pseudo, {})
                for name, value, importance in declarations:
                    heavy = (css.declaration_precedence(origin, importance), place, weight or specificity)
                    # Of two that weigh the same the later wins, and they come in the order of their sheet.
                    if name not in style or style[name][1] <= heavy:
                        style[name] = value, heavy
        return Cascade(values, any(values[None][name][0] == "inherit" for name in SIZES.intersection(values[None])))

    def number(self, element: Any) -> int:
        """The same for elements that no selector tells apart, but for the classes that stand for style attributes."""
        known: int | None = element.__dict__.get("number")
        if known is None:
            above = element.parent
            look, _ = self.look(element.etree_element)
            # The matcher sees an element without the classes that stand for style attributes. So elements that differ
            # in these alone are matched once, and each gets the rules of its own in `_cascade`.
            element.classes = set(look[1])
            known = self._numbered((None if above is None else self.number(above), look))
            if known not in self.asked:
                told = signs(element)
                self.asked[known] = _any(self.places, told) and above is not None, _any(self.deeper, told)
            beside, deeper = self.asked[known]
            if beside:
                # With the looks of all children, not only of those before it: :last-child and its like count from the
                # end.
                known = self._numbered((known, element.index, self.children(above)))
            # What an element holds is not looked into; where a selector does, no other element is like it.
            element.number = known = self._numbered(object()) if deeper else known
        return known

    def children(self, element: Any) -> int:
        """The same for elements whose children look alike, one after the other."""
        known: int | None = element.__dict__.get("children_number")
        if known is None:
            looks = tuple(self.look(child)[0] for child in element.etree_element)
            known = element.children_number = self._numbered(looks)
        return known

    def look(self, element: Any) -> tuple[tuple[Any, ...], tuple[str, ...]]:
        """Its tag, classes and what else selectors ask for; then the classes that stand for style attributes."""
        told = element.attrib
        classes, name = told.get("class", ""), told.get("id")
        others = tuple(pair for pair in told.items() if _bare(pair[0]) in self.attributes)
        key = (element.tag, classes, name if name in self.names else None, others)
        known = self.looks.get(key)
        if known is None:
            split = classes.split()
            ours = tuple(one for one in split if one.startswith(OWN))
            rest = tuple(one for one in split if not one.startswith(OWN))
            known = self.looks[key] = (element.tag, rest, *key[2:]), ours
        return known

    def _numbered(self, value: Any) -> int:
        return self.numbers.setdefault(value, len(self.numbers))


def _any(places: Iterable[frozenset[str]], told: frozenset[str]) -> bool:
    return any(place <= told for place in places)


def _bare(name: str) -> str:
    """The name of an attribute without its namespace, in small letters."""
    return name.rpartition("}")[2].lower()


def _tests(matcher: Any) -> Iterator[Any]:
    """The tests of all selectors of a sheet."""
    lists = (
        *matcher.id_selectors.values(), *matcher.class_selectors.values(),
        *matcher.lower_local_name_selectors.values(), *matcher.namespace_selectors.values(),
        matcher.lang_attr_selectors, matcher.other_selectors,
    )  # fmt: skip
    return (test for entries in lists for test, *_ in entries)


__all__ = ["OWN", "SIZES", "Cascade", "Matched"]
