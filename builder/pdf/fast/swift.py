"""What makes the typesetter faster and leaner without changing a page; each gain was measured on a whole booklet."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from contextlib import ExitStack, suppress
from functools import lru_cache, partial
from itertools import islice
from typing import Any
from xml.etree import ElementTree

import weasyprint
from weasyprint import CSS, HTML, Document, css
from weasyprint.css.counters import CounterStyle
from weasyprint.html import UA
from weasyprint.layout import page as page_layout

from builder.pdf.fast.matched import OWN
from builder.pdf.fast.patches import replaced
from builder.pdf.fast.resolved import resolved_once
from builder.pdf.fast.shaping import shaped_once
from builder.pdf.fast.sieve import sieved
from builder.pdf.fast.styled import PageStyles, SharedBelowAnchors
from builder.pdf.fast.unadorned import asked_once

# Tags of HTML only: a drawing reads its own style attributes, and the sheets of the page do not reach into it.
_STYLED = re.compile(r'<(p|div|section|h[1-6]|table|t[dhr]|span|b|i)((?: [^<>]*?)?) style="([^"]*)"([^<>]*)>')
_IMPLIED = (".//svg", ".//math", ".//table/tr")
"""What only an HTML parser completes: the namespace of drawings and formulas, the body of a table."""
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
            stack.enter_context(asked_once())
            document = super().render(*arguments, **options)
        # The document lives on until it is written, and would hold all this.
        for context in contexts:
            context.target_collector = context.style_for = None
            context.tables.clear()
        return document

    def _ua_stylesheets(self, forms: bool = False) -> list[CSS]:
        return [built_in()]


def _read(html: str, usual: Callable[..., Any], *source: Any, **options: Any) -> Any:
    """The tree of a page: our templates are well-formed, and the XML parser takes a fortieth of the time for them."""
    with suppress(ElementTree.ParseError):
        tree = ElementTree.fromstring(html)
        if tree.tag == "html" and all(tree.find(implied) is None for implied in _IMPLIED):
            return tree
    return usual(*source, **options)


@lru_cache(maxsize=1)
def built_in() -> CSS:
    """The typesetter's own sheet, without those rules."""
    # Under the sieve: a selector that does not say what it asks for makes every element one of its kind (`_ANYTHING`),
    # and nothing would be shared.
    with sieved():
        return CSS(string=_NOTES.sub("", UA).replace("\n::marker {", "\nli::marker {"), counter_style=CounterStyle())


def shared_styles(html: str, classes: dict[str, str]) -> str:
    """The page with its style attributes turned into classes.

    `classes` are those of other pages by their style, and grow by those of this one. Elements with a style attribute,
    and all that they hold, share no computed style with their like.
    """

    def named(found: re.Match[str]) -> str:
        tag, before, style, after = found.groups()
        name, rest = classes.setdefault(style, f"{OWN}{len(classes)}"), before + after
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
