"""What sheets have for an element is found once for all that no selector tells apart, and is what the matcher finds."""

from __future__ import annotations

from typing import Any
from xml.etree import ElementTree

import pytest
from weasyprint.css import cssselect2

from builder.pdf.fast.matched import Matched

SHEET = """p { a: 1 } .x p { a: 2 } p + p { a: 3 } p:last-child { a: 4 } p:nth-child(2) { a: 5 } #one p { a: 6 }
a[href^="https"] { a: 7 } p ~ i { a: 8 } p:not(.y) { a: 9 } .x > * i { a: 10 }"""
PAGE = """<html><body><section id="one" class="x"><p>a</p><p class="y">b</p><i>c</i></section>
<section id="two" class="x"><p data-field="f">other</p><p class="y">b <i>d</i></p><i>c</i></section>
<section id="two-a" class="x"><p>a</p><p class="y">b <i>e</i></p><i>c</i></section>
<section><p><a href="https://a.example"/></p><p><a href="#one"/></p></section></body></html>"""


def matcher() -> Any:
    made = cssselect2.Matcher()
    for rule in SHEET.split("}")[:-1]:
        selector, _, declared = rule.partition("{")
        for compiled in cssselect2.compile_selector_list(selector.strip()):
            made.add_selector(compiled, declared.strip())
    return made


def elements(page: str) -> list[Any]:
    return list(cssselect2.ElementWrapper.from_html_root(ElementTree.fromstring(page)).iter_subtree())


def test_every_element_gets_what_the_matcher_finds_and_like_ones_are_looked_up_once() -> None:
    sheets, known = matcher(), Matched.of((SHEET,))
    assert known is not None and known.names == {"one"}
    expected = [sheets.match(element) for element in elements(PAGE)]
    assert len({str(found) for found in expected}) == 10
    with known.once():
        assert [sheets.match(element) for element in elements(PAGE)] == expected
        looked_up = len(known.found)
        other = PAGE.replace('"two"', '"three"').replace('"f"', '"g"').replace("other", "another text")
        assert [sheets.match(element) for element in elements(other)] == expected
        assert len(known.found) == looked_up
        apart = elements(PAGE.replace('id="two"', 'id="one"'))
        assert [sheets.match(element) for element in apart] != expected
    assert sheets.match(apart[5]) == known.match(sheets, apart[5])


@pytest.mark.parametrize("rule", ["p:empty { a: 1 }", "p:has(i) { a: 1 }", "[data-field] { a: 1 }", "p[id] { a: 1 }"])
def test_sheets_that_ask_for_more_are_left_to_the_matcher(rule: str) -> None:
    assert Matched.of((SHEET, rule)) is None
