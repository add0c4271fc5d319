"""Sizes that are resolved once are those of every box of their style."""

from __future__ import annotations

import inspect
import re

import pytest
from weasyprint import HTML
from weasyprint.layout import block, percent

from builder.pdf.fast import resolved

HTML_TEXT = """<style>
 p { margin: 5% 10%; padding: 1%; width: 60%; min-height: 3%; border: 1px solid; box-sizing: border-box }
 table { border-collapse: collapse } td { border: 2px solid; padding: 3% } .thick { border-width: 5px }
 div { width: 50%; height: 8em } div div { float: left; margin: auto } .at { position: absolute; left: 10%; width: 5% }
 ul { columns: 2 } span { display: inline-block; width: 20%; margin: 0 2% }
</style>"""
PART = """<p>one <span>two</span> <span>three</span></p><div><p>four</p><div><p>five</p></div></div>
<table><tr><td>a<td class=thick><p>b</p><tr><td>c<td>d</table><ul><li>six<li>seven</ul><p class=at>eight</p>"""


def places(html: str) -> list[tuple[object, ...]]:
    """Kind, place and all sizes of each box."""
    pages = HTML(string=f"<html lang=en><body>{HTML_TEXT}{html}").render().pages
    every = [box for page in pages for box in page._page_box.descendants()]
    return [
        (type(b).__name__, b.position_x, b.position_y, *(getattr(b, name, None) for name in resolved.SET))
        for b in every
    ]


def test_every_box_has_the_sizes_that_it_had() -> None:
    expected = places(PART * 5)
    with resolved.resolved_once():
        assert places(PART * 5) == expected


def test_a_style_is_resolved_once_for_each_size_around_it(monkeypatch: pytest.MonkeyPatch) -> None:
    usual, asked = percent.resolve_percentages, []
    monkeypatch.setattr(percent, "resolve_percentages", lambda box, around: asked.append(box) or usual(box, around))
    html = "<html lang=en><body>" + "<p>one</p>" * 30
    with resolved.resolved_once():
        HTML(string=html).render()
    assert len([box for box in asked if box.element_tag == "p"]) < 10


def test_all_that_the_typesetter_resolves_is_kept() -> None:
    """Fails when the typesetter begins to set something else."""
    told = inspect.getsource(percent.resolve_percentages)
    named = set(re.findall(r"resolve_one_percentage\(box, '(\w+)'", told)) | set(re.findall(r"box\.(\w+) =", told))
    assert {"margin_left", "padding_top", "max_height", "height"} <= named <= set(resolved.SET)
    assert "f'border_{side}_width'" in told


def test_the_typesetter_gets_its_functions_back() -> None:
    before = block.resolve_percentages
    with resolved.resolved_once():
        assert block.resolve_percentages is not before
    assert block.resolve_percentages is before is percent.resolve_percentages
