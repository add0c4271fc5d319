"""The margin at the binding: it grows with the pages, and the type area keeps its width."""

import re

import pytest
from pages.sample_pages import context

from builder.pages.make import make_booklet
from builder.pages.model import Paper
from builder.pages.sheet import MARGINS, margins, sheet
from builder.pdf.html import style_sheets


@pytest.mark.parametrize("paper", Paper)
def test_the_thicker_the_booklet_the_more_goes_to_the_binding(paper: Paper) -> None:
    inner = [margins(paper, pages)[0] for pages in (40, 90, 130, 170)]
    assert inner == sorted(set(inner))
    assert all(sum(margins(paper, pages)) == sum(MARGINS[paper]) for pages in (40, 90, 130, 170))
    assert paper.millimetres[0] - sum(MARGINS[paper]) == pytest.approx(sheet(paper).width, abs=0.01)


def test_the_style_sheets_have_the_margins_of_the_booklet() -> None:
    def inner(name: str) -> float:
        css = "".join(style_sheets(make_booklet(context(name, Paper.A5))))
        (found,) = set(re.findall(r"@page :left \{ margin-left: [\d.]+mm; margin-right: ([\d.]+)mm; \}", css))
        return float(found)

    assert inner("novice") < inner("advanced")
