"""Pages are filled by counting lines: no lift is set higher than it was counted, as the typesetter's boxes tell."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from pages.plans import odd
from pages.sample_pages import context
from pages.test_widths import BRANDED, WIDE
from weasyprint import CSS
from weasyprint.text.fonts import FontConfiguration

from builder import places
from builder.pages.context import Context
from builder.pages.make import make_booklet
from builder.pages.model import Edition, Paper
from builder.pages.theme import theme
from builder.pdf import fonts
from builder.pdf.fast.swift import Page
from builder.pdf.html import Look, render, style_sheets
from builder.pdf.run import no_collector
from builder.work.texts import load_texts, load_words

PX = 96 / 25.4
NEAR = 0.05
"""mm that heights may differ by rounding."""


def of(name: str, paper: str, look: str, language: str) -> Context:
    if name == "odd":
        return odd(Paper(paper), look, language)
    usual = context(name, Paper(paper))
    words = load_words(language, usual.plan.unit)
    return replace(usual, theme=theme(look), words=words, texts=load_texts(language))


def boxes(ctx: Context, look: Look | None = None) -> Iterator[Any]:
    """Every box of the pages, as the press has them laid out."""
    booklet, known = make_booklet(replace(ctx, edition=Edition.POCKET)), FontConfiguration()
    sheets = [fonts.face_rules((*fonts.shipped(), *WIDE)), *style_sheets(booklet, look)]
    with no_collector(), fonts.only_our_fonts():
        html = Page(string=render(booklet), base_url=f"{places.templates().as_uri()}/")
        document = html.render(known, stylesheets=[CSS(string=sheet, font_config=known) for sheet in sheets])
    waiting = [page._page_box for page in document.pages]
    while waiting:
        box = waiting.pop()
        yield box
        waiting += getattr(box, "children", ())


def higher(ctx: Context, look: Look | None = None) -> list[tuple[str, float, float]]:
    """The lifts that are higher than they were counted: name, and mm as counted and as set."""
    found, seen = [], 0
    for box in boxes(ctx, look):
        style = box.element.get("style", "") if hasattr(box.element, "get") else ""
        if counted := re.match(r"min-height:([\d.]+)mm", style):
            seen += 1
            if box.border_height() / PX > float(counted[1]) + NEAR:
                found.append((box.element.find(".//b").tail, float(counted[1]), round(box.border_height() / PX, 2)))
    assert seen > 50
    return found


@pytest.mark.slow
@pytest.mark.parametrize(
    "case",
    [("odd", "A5", "default", "en"), ("advanced", "A4", "default", "de"), ("intermediate", "A5", "large-print", "de")],
    ids="-".join,
)
def test_no_lift_is_higher_than_it_was_counted(case: tuple[str, str, str, str]) -> None:
    """Names and plates that turn over, words in German, signs of another font, large print."""
    assert higher(of(*case)) == []


@pytest.mark.slow
def test_no_lift_is_higher_than_it_was_counted_in_fonts_of_a_brand() -> None:
    """Much wider ones than ours, whose widths would not do."""
    ctx, look = of("odd", "A5", "default", "en"), Look(text="Brand Text", heading="Brand Heading")
    assert higher(replace(ctx, faces=BRANDED), look) == []
    assert higher(ctx, look)
