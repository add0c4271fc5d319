"""What sheets have for an element is found once for all that no selector tells apart, as the typesetter finds it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from weasyprint import CSS, css
from weasyprint.css import cssselect2
from weasyprint.css.targets import TargetCollector
from weasyprint.text.fonts import FontConfiguration

from builder.pdf.fast import swift
from builder.pdf.fast.matched import Matched
from builder.pdf.fast.patches import replaced
from builder.pdf.fast.sieve import Asks, sieved
from builder.pdf.fast.styled import SharedBelowAnchors

SELECTORS = (
    "p", ".x p", "p + p", "p:last-child", "p:nth-child(2)", "#one p", 'a[href^="https"]', "p ~ i", "p:not(.y)",
    ".x > * i", "section:empty", "section:has(a)", ".x p:not(:first-child)", "[data-field]", ":is(p, i):last-of-type",
    ".own-0", ".own-1", "p:lang(de)", "[class~=y]", "[id=two]", "section:not(:has(i)) p", ":root section",
    "section .y:nth-last-child(2) + i", "p::before", ".y::after", "i::before",
)  # fmt: skip
PROPERTIES = ("order", "orphans", "widows", "z_index", "min_width", "color")
BODIES = (
    '<section id="one" class="x"><p>a</p><p class="y">b</p><i>c</i></section>',
    '<section id="two" class="x"><p data-field="f">other</p><p class="y own-0">b <i>d</i></p><i>c</i></section>',
    '<section id="two-a" class="x"><p>a</p><p class="own-1 y">b <i>e</i></p><i class="own-0">c</i></section>',
    '<section><p><a href="https://a.example"/></p><p lang="de"><a href="#one"/></p></section><section/>',
    '<section class="x"><p style="order: 40">a</p><p class="y">b</p><i>c</i></section><p>a</p><p>b</p>',
)


def sheets() -> list[CSS]:
    """One rule for each selector, and one more for each other, so that weight and order both decide."""
    rules = [f"{one} {{ {PROPERTIES[n % 4].replace('_', '-')}: {n + 1} }}" for n, one in enumerate(SELECTORS)]
    more = [f"{one} {{ min-width: {n}px !important }}" for n, one in enumerate(SELECTORS[::2])]
    last = "i { color: red } p { color: blue } section p { order: 9 }"
    return [CSS(string="\n".join((*rules, *more))), CSS(string=last)]


def styles(body: str, kind: type[Any]) -> Iterator[tuple[object, ...]]:
    """What is computed for each element, and for what stands before and after it."""
    page = swift.Page(string=f"<html><body>{body}</body></html>")
    with sieved(), replaced(css, {"StyleFor": kind}):
        found = css.get_all_computed_styles(
            page, user_stylesheets=sheets(), font_config=FontConfiguration(), target_collector=TargetCollector()
        )
    computed = found.get_computed_styles()
    for element in page.etree_element.iter():
        for pseudo in (None, "before", "after"):
            if (style := computed.get((element, pseudo))) is not None:
                yield element.tag, pseudo, *(style[name] for name in PROPERTIES), style["anchor"]


@pytest.mark.parametrize("body", [*BODIES, "".join(BODIES)])
def test_every_element_gets_the_style_that_the_typesetter_gives_it(body: str) -> None:
    usual = list(styles(body, css.StyleFor))
    assert list(styles(body, SharedBelowAnchors)) == usual
    assert len(usual) > 6


def known_by(selectors: str, body: str) -> list[int]:
    """The numbers of the paragraphs of a page, told apart by what these selectors ask."""
    with sieved():
        known = Matched.of([(CSS(string=f"{selectors} {{ order: 1 }}"), "user", None)])
    page = swift.Page(string=f"<html><body>{body}</body></html>").wrapper_element
    return [known.number(one) for one in page.iter_subtree() if one.local_name == "p"]


@pytest.mark.parametrize(
    ("selectors", "different"),
    [
        ("p, .x > p, #three", 1),
        ("td p:first-child, .away p + p", 1),
        ("p + p", 2),
        ("p:empty", 4),
        ("section:has(i) p", 4),
        (".x p:last-child", 2),
        ("[data-field]", 2),
        ("#two p", 2),
    ],
)
def test_elements_are_told_apart_by_no_more_than_selectors_ask(selectors: str, different: int) -> None:
    body = '<section class="x"><p id="a" data-field="f">a</p><p class="own-3">b</p></section>'
    body += '<section class="x" id="two"><p>c</p><p>d</p></section>'
    assert len(set(known_by(selectors, body))) == different


def test_a_selector_says_what_it_asks_for() -> None:
    def asked(text: str) -> Asks:
        return Asks.of(cssselect2.parser.parse(text).__next__().parsed_tree)

    assert asked(".a b > i.c") == Asks()
    assert asked(".a tr:last-child th") == Asks(places=(frozenset({".a", "tr"}),))
    assert asked("p + .b i") == Asks(places=(frozenset({".b"}),))
    assert asked(":not(p:has(i))") == Asks(deeper=(frozenset(),))
    assert asked("#a #b i") == Asks(ids=frozenset({"a", "b"}))
    assert asked("a:link[href]:not([Name])") == Asks(attributes=frozenset({"href", "name"}))


def test_selectors_that_say_nothing_of_themselves_tell_all_elements_apart() -> None:
    known = Matched.of([(CSS(string="p { order: 1 }"), "user", None)])
    page = swift.Page(string="<html><body><p/><p/></body></html>").wrapper_element
    assert len({known.number(one) for one in page.iter_subtree()}) == 4
