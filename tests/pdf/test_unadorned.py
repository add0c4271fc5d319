"""Boxes without ground and border cost nothing to draw, and all others are drawn as the typesetter does."""

from __future__ import annotations

from typing import Any

import pytest
from weasyprint import CSS, HTML, draw

from builder.pdf.fast.unadorned import asked_once

PAGE = """<html><body><div class="{kind}"><p>one</p><p><b>two</b></p></div><div>three</div>
<table><tr><td class="{kind}">x</td></tr></table></body></html>"""
ADORNED = {
    "ground": "background: #abc",
    "picture": "background-image: linear-gradient(red, blue)",
    "border": "border: 1px solid red",
    "one-side": "border-bottom: 2px dotted blue",
    "corners": "border-radius: 4px; border: 1px solid; overflow: hidden",
    "framed": "border: 4px solid; border-image: linear-gradient(red, blue) 1",
    "shadow": "box-shadow: 2px 2px red",
    "columns": "column-count: 2; column-rule: 1px solid red",
    "hidden": "visibility: hidden; background: red; border: 1px solid",
    "outline": "outline: 1px solid red",
    "floating": "float: left; background: #abc",
    "out-of-flow": "position: absolute; top: 9px; background: #abc",
    "placed": "position: absolute; top: 9px",
    "raised": "position: relative; z-index: 2",
}


def pdf(kind: str) -> bytes:
    sheet = CSS(string=f"@page {{ size: 90mm }} .{kind} {{ {ADORNED.get(kind, '')} }}")
    made: Any = HTML(string=PAGE.format(kind=kind)).write_pdf(stylesheets=[sheet], uncompressed_pdf=True)
    return bytes(made)


@pytest.mark.parametrize("kind", [*ADORNED, "plain"])
def test_a_page_is_drawn_as_without(kind: str) -> None:
    usual = pdf(kind)
    with asked_once():
        assert pdf(kind) == usual
    assert (pdf("plain") == usual) == (kind == "plain")


def test_boxes_that_have_none_are_not_drawn() -> None:
    asked: list[Any] = []
    usual = draw.draw_border
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(draw, "draw_border", lambda stream, box: asked.append(box) or usual(stream, box))
        with asked_once():
            pdf("plain")
        assert not asked
        with asked_once():
            pdf("border")
        assert {box.element_tag for box in asked} == {"div", "td"}
