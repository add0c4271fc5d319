"""Computed styles shared: where the same values meet the same style above, one style serves all."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from itertools import islice
from types import SimpleNamespace
from typing import Any, ClassVar

from weasyprint import css
from weasyprint.layout import page as page_layout

from builder.pdf.fast.matched import SIZES, Matched
from builder.pdf.fast.patches import replaced


class SharedBelowAnchors(css.StyleFor):  # type: ignore[misc]
    """Computed styles where an id belongs to its element alone.

    The typesetter makes it a property, so that nothing in one session shares a style with its like in another.
    Where the same values meet the same style above, one style serves all: in one document, and in all that share
    `known` and `matched`, whose sheets, fonts and pages must be the same. Styles that differ in sizes alone are one to
    what is below them, their `heir`: it takes no size from above unless it says so.
    """

    known: ClassVar[dict[tuple[Any, ...], Any] | None] = None
    matched: ClassVar[dict[tuple[Any, ...], Matched] | None] = None

    def __init__(self, html: Any, sheets: Any, hints: Any, fonts: Any, targets: Any) -> None:
        self.shared = {} if self.known is None else self.known
        self.alike = self._matched(sheets)
        # The typesetter goes through the elements once it has read their attributes: there ours are put in.
        ours = SimpleNamespace(iter_subtree=partial(self._cascade, html, targets))
        read = SimpleNamespace(etree_element=html.etree_element, base_url=html.base_url, wrapper_element=ours)
        with replaced(css, {"find_style_attributes": partial(_without_ids, css.find_style_attributes)}):
            super().__init__(read, sheets, hints, fonts, targets)
        computed = self.get_computed_styles()
        # Only now, as the last thing: a copy of the shared style for each element with an id, and what lies below it
        # still has the shared one above it.
        for element in html.etree_element.iter():
            if name := element.get("id"):
                computed[element, None] = own = computed[element, None].copy()
                own["anchor"] = name
                targets.collect_anchor(name)

    def _matched(self, sheets: Any) -> Matched:
        """What is known of elements under these sheets; those that a document brings along are its own."""
        if self.matched is None or any(origin == "author" for _, origin, _ in sheets):
            return Matched.of(sheets)
        # By the matcher, since a sheet and those that go on from it share theirs. `Matched` keeps the sheets, so that
        # no other matcher can come to lie in the same place of memory.
        key = tuple((id(sheet.matcher), *more) for sheet, *more in sheets)
        if key not in self.matched:
            self.matched[key] = Matched.of(sheets)
        return self.matched[key]

    def _cascade(self, html: Any, targets: Any) -> Iterator[Any]:
        """The styles of all elements, in their order; leaves none to the typesetter."""
        cascaded, computed = self.get_cascaded_styles(), self.get_computed_styles()
        named = {"root": html.etree_element, "base_url": html.base_url, "target_collector": targets}
        for element in html.wrapper_element.iter_subtree():
            one, parent = element.etree_element, element.parent and element.parent.etree_element
            known_by, found = self.alike.cascade(element)
            for pseudo, values in found.values.items():
                if pseudo is not None:
                    cascaded[one, pseudo] = values
            if (attributes := cascaded.get((one, None))) is not None:
                _weigh(attributes, found.values[None])
                self.set_computed_styles(one, parent, **named)
                continue
            key = (self._above(parent, found.passed), *known_by)
            if (style := self.shared.get(key)) is None:
                cascaded[one, None] = found.values[None]
                self.set_computed_styles(one, parent, **named)
                self.shared[key] = computed[one, None]
            else:
                self._take(one, None, style, targets)
        yield from ()

    def _above(self, parent: Any, passed: bool) -> int:
        """What the style above an element is known by; one for all that differ in sizes, unless these are passed on.

        Styles keep their values and the style above, so that no other can take the place of one in memory.
        """
        if parent is None:
            return id(None)
        style = self.get_computed_styles()[parent, None]
        return id(style if passed else style.heir)

    def _take(self, element: Any, pseudo: str | None, style: Any, targets: Any) -> None:
        self.get_computed_styles()[element, pseudo] = style
        if targets and style["anchor"]:
            targets.collect_anchor(style["anchor"])

    def set_computed_styles(self, element: Any, parent: Any, *rest: Any, **named: Any) -> None:
        """The style of an element or of what CSS puts before or after it; found again by what it is made from."""
        if isinstance(element, tuple):  # a kind of page
            super().set_computed_styles(element, parent, *rest, **named)
            return
        pseudo, targets = named.get("pseudo_type"), named.get("target_collector")
        values = self.get_cascaded_styles().get((element, pseudo), {})
        passed = any(values[name][0] == "inherit" for name in SIZES.intersection(values))
        above = self._above(parent, passed)
        told = [
            (name, value if name == "lang" else id(value), weight) for name, (value, weight) in values.items()
        ]  # the language is read anew from each document
        key = (above, pseudo, *told)
        if (known := self.shared.get(key)) is not None:
            self._take(element, pseudo, known, targets)
            return
        super().set_computed_styles(element, parent, *rest, **named)
        self.shared[key] = style = self.get_computed_styles()[element, pseudo]
        below = (above, pseudo, "passed", *(one for one in told if one[0] not in SIZES))
        style.heir = heir = self.shared.setdefault(below, style)
        if heir is not style:
            style.specified.update(heir.specified)
            # The typesetter computes a property when it is first asked for. What was asked of the heir is not computed
            # again.
            style.update((name, value) for name, value in heir.items() if name not in SIZES)


def _weigh(style: dict[str, Any], others: dict[str, Any]) -> None:
    """Add values to those of an element's attributes, where they weigh as much or more."""
    for name, (value, weight) in others.items():
        if name not in style or style[name][1] <= weight:
            style[name] = value, weight


def _without_ids(usual: Callable[..., Any], *arguments: Any) -> Iterator[Any]:
    for found in usual(*arguments):
        _, element, declarations, _ = found
        names = [getattr(declaration, "name", "") for declaration in declarations]
        # What the typesetter makes of an id, and of nothing else.
        if names != ["-weasy-anchor"] or not element.get("id"):
            yield found


class PageStyles:
    """Computes the styles of a page and its margins once for all pages of a kind; the typesetter does it for each."""

    def __init__(self) -> None:
        self.usual = page_layout.set_page_type_computed_styles
        self.known: dict[tuple[Any, ...], dict[str | None, Any]] = {}

    def __call__(self, page_type: Any, html: Any, style_for: Any) -> None:
        computed, kind = style_for.get_computed_styles(), _kind(page_type, style_for)
        if kind in self.known:
            computed.update({(page_type, part): style for part, style in self.known[kind].items()})
            return
        before = len(computed)
        self.usual(page_type, html, style_for)
        self.known[kind] = {part: computed[of, part] for of, part in islice(computed, before, None)}


def _kind(page_type: Any, style_for: Any) -> tuple[Any, ...]:
    """What page rules can tell apart: the number of a page only when some rule counts pages with :nth()."""
    rules = (rule for sheet, _, _ in style_for._sheets for rule in sheet.page_rules)
    if any(selector.index is not None for _, choices, _ in rules for _, _, selector in choices):
        return tuple(page_type)
    return (page_type.side, page_type.blank, page_type.index == 0, page_type.name)
