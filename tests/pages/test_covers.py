"""Covers: every layout on every paper keeps within its page, with a logo and without, and bleeds where it has tints."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from functools import lru_cache
from io import BytesIO
from itertools import combinations, product
from typing import Any, get_args

import pdfplumber
import pytest
from pages.plans import sparse
from pages.sample_pages import SAMPLES, context
from pypdfium2 import PdfDocument

from builder import places
from builder.given.brand import CoverLayout
from builder.intake import load
from builder.pages.covers import Cover, cover_section
from builder.pages.make import make_booklet
from builder.pages.model import Booklet, Paper
from builder.pages.theme import theme
from builder.pdf import DocumentMeta, Pressed, shipped
from builder.pdf.fragments.press import PressOrder, press_booklet
from builder.pdf.html import Look, style_sheets
from builder.places import themes
from builder.values.lists import Keep

LAYOUTS = get_args(CoverLayout)
LONG = "Wettkampfvorbereitung im Winter, zweiter Teil"
META = DocumentMeta("Cover", "", "", "en", (), datetime(2027, 1, 4, tzinfo=UTC), "cover")
PAST_THE_CUT = 1.5
"""mm outside the cut where a picture is looked at; the bleed is 3 mm."""


def _cover(layout: str, paper: Paper, *, title: str = "", logo: bool = True, look: str = "default") -> Any:
    usual = context("advanced", paper)
    brand = usual.brand.model_copy(update={"cover": layout})
    head = usual.plan.block.block
    block = usual.plan.block.model_copy(update={"block": head.model_copy(update={"title": title or head.title})})
    picture = (SAMPLES / "brand" / "logo.svg").as_uri() if logo else None
    plan = replace(usual.plan, block=block)
    return replace(usual, brand=brand, plan=plan, logo=picture, theme=theme(look))


@lru_cache
def _frame(paper: Paper, look: str) -> Booklet:
    """A short booklet, of which only what surrounds a cover is taken."""
    return make_booklet(replace(sparse(paper), theme=theme(look)))


def _pressed(ctx: Any, *, bleed: bool = False) -> Pressed:
    booklet = replace(_frame(ctx.paper, ctx.theme.name), sections=(cover_section(ctx),), fields=())
    order = PressOrder((places.styles(), SAMPLES / "brand"), META, faces=shipped(), jobs=1, keep=Keep.ALL)
    return press_booklet(booklet, style_sheets(booklet, Look("#1d5b52"), bleed=bleed), order)


def _words(pdf: bytes) -> tuple[Any, list[dict[str, Any]]]:
    page = pdfplumber.open(BytesIO(pdf)).pages[0]
    return page, page.extract_words(use_text_flow=True, keep_blank_chars=True)


@pytest.mark.slow
@pytest.mark.parametrize("look", themes())
@pytest.mark.parametrize("paper", [*Paper])
def test_a_cover_takes_one_page_and_no_words_overlap_or_leave_it(paper: Paper, look: str) -> None:
    """All layouts of a look one after the other, so that its style sheets are read once."""
    for layout, (title, logo) in product(LAYOUTS, (("", True), (LONG, False))):
        done = _pressed(_cover(layout, paper, title=title, logo=logo, look=look))
        assert (done.pages, done.warnings) == (1, ()), (layout, title)
        page, words = _words(done.pdf)
        for word in words:
            assert word["x0"] > 0 and word["x1"] < page.width and word["top"] > 0 and word["bottom"] < page.height
        for one, two in combinations(words, 2):
            wide = min(one["x1"], two["x1"]) - max(one["x0"], two["x0"])
            # Boxes of letters are as high as the font; a third of the smaller may lie over another line's.
            high = min(one["bottom"], two["bottom"]) - max(one["top"], two["top"])
            least = min(one["bottom"] - one["top"], two["bottom"] - two["top"])
            assert wide < 1 or high < 0.34 * least, (layout, one["text"], two["text"])


@pytest.mark.parametrize("layout", ["band", "spine"])
def test_a_tinted_cover_runs_past_the_cut_for_a_print_shop(layout: str) -> None:
    dots = 4
    pdf = _pressed(_cover(layout, Paper.A5), bleed=True).pdf
    picture = PdfDocument(pdf)[0].render(scale=dots * 25.4 / 72).to_pil().convert("L")
    outside = int((9 - PAST_THE_CUT) * dots)
    assert all(picture.getpixel((outside, y * dots)) < 140 for y in range(20, 100, 10))
    assert all(picture.getpixel(((20 + x) * dots if layout == "band" else outside + 8, outside)) < 140 for x in (0, 9))


def test_the_title_is_set_smaller_when_it_or_a_word_of_it_is_long() -> None:
    titles = {"Long Reed": False, "Wintervorbereitung": False, "Winterkraftvorbereitung": True, LONG: True}
    for title, long in titles.items():
        data = cover_section(_cover("frame", Paper.A5, title=title)).data
        assert isinstance(data, Cover)
        assert data.long is long


def test_an_unknown_cover_names_the_nearest_one() -> None:
    (problem,) = load([SAMPLES / "broken" / "unknown-cover.yaml"], need=()).problems
    assert problem.code == "unknown-word"
    assert "band" in problem.help
