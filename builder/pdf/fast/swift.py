"""What makes the typesetter faster and leaner without changing a page; each gain was measured on a whole booklet."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack, suppress
from functools import lru_cache, partial
from itertools import islice
from typing import Any, ClassVar
from xml.etree import ElementTree

import weasyprint
from weasyprint import CSS, HTML, Document, css
from weasyprint.css.counters import CounterStyle
from weasyprint.html import UA
from weasyprint.layout import page as page_layout

from builder.pdf.fast.patches import replaced
from builder.pdf.fast.resolved import resolved_once
from builder.pdf.fast.shaping import shaped_once
from builder.pdf.fast.sieve import sieved

_STYLED = re.compile(r'<(p|div|section|h[1-6]|table|t[dhr]|span|b|i)((?: [^<>]*?)?) style="([^"]*)"([^<>]*)>')
_IMPLIED = (".//svg", ".//math", ".//table/tr")
"""What only an HTML parser completes: the namespace of drawings and formulas, the body of a table."""
SIZES = frozenset(
    (*(f"{most}{way}" for most in ("", "min_", "max_") for way in ("width", "height")),
     *(f"margin_{side}" for side in ("top", "right", "bottom", "left")), "top", "right", "bottom", "left")
)  # fmt: skip
"""Properties that nothing below an element takes over by itself: those of our style attributes."""
_NOTES = re.compile(r"^::(?:footnote|note)-[a-z]+ \{.*\}\n", re.MULTILINE)


class Page(HTML):  # type: ignore[misc]  # the typesetter has no types
    """A document whose built-in style sheet has no rules for footnotes, and list marks for list items only.

    Those rules match every element, and each match costs a style of its own: a fifth of the memory.
    """

    def __init__(self, string: str, **options: Any) -> None:
        with replaced(weasyprint.tinyhtml5, {"parse": partial(_read, string, weasyprint.tinyhtml5.parse)}):
            super().__init__(string=string, **options)

    def render(self, *arguments: Any, **options: Any) -> Document:
        """The laid-out document, without what only the layout needed: a sixth of the memory."""
        contexts: list[Any] = []
        build = Document._build_layout_context

        def noted(*parts: Any) -> Any:
            contexts.append(build(*parts))
            return contexts[0]

        styled = {"set_page_type_computed_styles": PageStyles()}
        with ExitStack() as stack:
            stack.enter_context(replaced(css, {"StyleFor": SharedBelowAnchors}))
            stack.enter_context(replaced(Document, {"_build_layout_context": noted}))
            stack.enter_context(replaced(page_layout, styled))
            stack.enter_context(shaped_once())
            stack.enter_context(resolved_once())
            document = super().render(*arguments, **options)
        for context in contexts:
            context.target_collector = context.style_for = None
            context.tables.clear()
        return document

    def _ua_stylesheets(self, forms: bool = False) -> list[CSS]:
        return [_built_in()]


def _read(html: str, usual: Callable[..., Any], *source: Any, **options: Any) -> Any:
    """The tree of a page: our templates are well-formed, and the XML parser takes a fortieth of the time for them."""
    with suppress(ElementTree.ParseError):
        tree = ElementTree.fromstring(html)
        if tree.tag == "html" and all(tree.find(implied) is None for implied in _IMPLIED):
            return tree
    return usual(*source, **options)


@lru_cache(maxsize=1)
def _built_in() -> CSS:
    with sieved():
        return CSS(string=_NOTES.sub("", UA).replace("\n::marker {", "\nli::marker {"), counter_style=CounterStyle())


def shared_styles(html: str, classes: dict[str, str]) -> str:
    """The page with its style attributes turned into classes.

    `classes` are those of other pages by their style, and grow by those of this one. Elements with a style attribute,
    and all that they hold, share no computed style with their like.
    """

    def named(found: re.Match[str]) -> str:
        tag, before, style, after = found.groups()
        name, rest = classes.setdefault(style, f"own-{len(classes)}"), before + after
        if ' class="' not in rest:
            return f'<{tag}{rest} class="{name}">'
        return f"<{tag}" + rest.replace(' class="', f' class="{name} ', 1) + ">"

    return _STYLED.sub(named, html)


def class_rules(classes: Mapping[str, str], known: int = 0) -> str:
    """The rules of these classes but for the first, which are `known`."""
    new = islice(classes.items(), known, None)
    return "\n".join(f".{name} {{ {_important(style)} }}" for style, name in new)


def _important(style: str) -> str:
    """Declarations that win over those of any other class, as they did in the attribute."""
    return "".join(f"{part.strip()} !important; " for part in style.split(";") if part.strip())


class SharedBelowAnchors(css.StyleFor):  # type: ignore[misc]
    """Computed styles where an id belongs to its element alone.

    The typesetter makes it a property, so that nothing in one session shares a style with its like in another.
    Where the same values meet the same style above, one style serves all: in one document, and in all that share
    `known`, whose sheets, fonts and pages must be the same. Styles that differ in sizes alone are one to what is below
    them, their `heir`: it takes no size from above unless it says so.
    """

    known: ClassVar[dict[tuple[Any, ...], Any] | None] = None

    def __init__(self, html: Any, sheets: Any, hints: Any, fonts: Any, targets: Any) -> None:
        self.shared = {} if self.known is None else self.known
        with replaced(css, {"find_style_attributes": partial(_without_ids, css.find_style_attributes)}):
            super().__init__(html, sheets, hints, fonts, targets)
        computed = self.get_computed_styles()
        for element in html.etree_element.iter():
            if name := element.get("id"):
                computed[element, None] = own = computed[element, None].copy()
                own["anchor"] = name
                targets.collect_anchor(name)

    def set_computed_styles(self, element: Any, parent: Any, *rest: Any, **named: Any) -> None:
        """The style of an element or of what CSS puts before or after it; found again by what it is made from."""
        if isinstance(element, tuple):  # a kind of page
            super().set_computed_styles(element, parent, *rest, **named)
            return
        pseudo, computed = named.get("pseudo_type"), self.get_computed_styles()
        values = self.get_cascaded_styles().get((element, pseudo), {})
        above = None if parent is None else computed[parent, None]
        if above is not None and not any(values[name][0] == "inherit" for name in SIZES.intersection(values)):
            above = above.heir
        # Styles keep their values and the style above, so that no other can take the place of one in memory.
        told = [
            (name, value if name == "lang" else id(value), weight) for name, (value, weight) in values.items()
        ]  # the language is read anew from each document
        key = (id(above), pseudo, *told)
        known = self.shared.get(key)
        if known is None:
            super().set_computed_styles(element, parent, *rest, **named)
            self.shared[key] = style = computed[element, pseudo]
            passed = (id(above), pseudo, "passed", *(one for one in told if one[0] not in SIZES))
            style.heir = self.shared.setdefault(passed, style)
            return
        computed[element, pseudo] = known
        if named.get("target_collector") and known["anchor"]:
            named["target_collector"].collect_anchor(known["anchor"])


def _without_ids(usual: Callable[..., Any], *arguments: Any) -> Iterator[Any]:
    for found in usual(*arguments):
        _, element, declarations, _ = found
        names = [getattr(declaration, "name", "") for declaration in declarations]
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
