"""Selectors with a sieve match what they matched without one, and are tried less often."""

from __future__ import annotations

from xml.etree import ElementTree

from weasyprint.css import cssselect2

from builder.pdf.fast.sieve import sieved

PAGE = ElementTree.fromstring(
    "<html><body class='a'><div class='b c'><p>x<b class='d'>y</b><i>z</i></p><p class='d'>w</p><table><tr><th/>"
    "<td class='e'><p/></td></tr></table></div><section><p class='a d'/><DIV class='b'><p/></DIV></section>"
    "</body></html>"
)
SELECTORS = (
    "p", ".a p", ".b.c > p", ".b .d", "body > p", ".a > .b p > .d", "p + p", ".b p + p", "p ~ table td", ".c p ~ .d",
    "div p", "DIV p", ".e > p",
    ":is(.e, .b) > p", ":not(.b) > p", "section .d, .nowhere p", ".a .nowhere th", "tr td.e p",
    "table + p", ".d ~ i", "html.a p", "* p", ".b * b", ":root .d",
)  # fmt: skip


def test_every_selector_matches_the_elements_that_it_did() -> None:
    elements = list(cssselect2.ElementWrapper.from_html_root(PAGE).iter_subtree())
    for text in SELECTORS:
        plain = cssselect2.compile_selector_list(text)
        with sieved():
            ours = cssselect2.compile_selector_list(text)
        for one, other in zip(plain, ours, strict=True):
            assert [other.test(el) for el in elements] == [one.test(el) for el in elements], text
    assert cssselect2.compile_selector_list("p")[0].__class__.__name__ == "CompiledSelector"
