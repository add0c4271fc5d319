"""What holds for a whole booklet in print: few sizes of type, no page half blank."""

from __future__ import annotations

from itertools import pairwise

import pytest
from fontTools.ttLib import TTFont
from pages.layout import Book, empty_pages
from pages.leaves import MM
from pages.pressed import printed
from pages.sample_pages import NAMES

from builder.pages.sheet import RULED
from builder.pages.theme import DEFAULT_THEME
from builder.pdf.fonts import TEXT, shipped
from builder.values.fields import RecordField, ResultField, SessionField, SignField, parse

MOST_SIZES = 12
"""Sizes of type in a booklet, rounded to a tenth of a point."""


def _book(name: str, paper: str, look: str = DEFAULT_THEME) -> Book:
    one = printed(name, paper, look)
    return Book(one.booklet, one.pressed, one.leaves)


@pytest.mark.slow
@pytest.mark.parametrize(("name", "paper"), [*((name, "A5") for name in NAMES), ("novice", "A4")])
def test_a_booklet_has_few_sizes_of_type(name: str, paper: str) -> None:
    leaves = _book(name, paper).leaves
    sizes = {round(glyph.size, 1) for leaf in leaves.pages for run in leaf.runs for glyph in run.glyphs
             if glyph.text.strip()}  # fmt: skip
    assert len(sizes) <= MOST_SIZES, sorted(sizes)


@pytest.mark.slow
def test_no_page_is_more_than_two_fifths_blank_that_is_not_meant() -> None:
    """What is meant stands in `MEANT`; `test_layout.py` counts the others, papers, looks and languages."""
    assert list(empty_pages(_book("intermediate", "A4"))) == []


@pytest.mark.slow
@pytest.mark.parametrize(("paper", "look"), [("A4", "default"), ("A5", "large-print")])
def test_what_a_text_leaves_of_its_last_page_is_ruled_for_notes_and_nothing_else_of_it(paper: str, look: str) -> None:
    book = _book("novice", paper, look)
    last = next(page for page, (section, *_) in book.starts.items() if section.template == "part") - 1
    above, below = _ruled_at(book, last)
    assert len(below) > 5
    assert {round((lower - upper) * 2) / 2 for upper, lower in pairwise(below)} == {RULED}
    assert above == []
    assert _ruled_at(book, last - 1)[1] == []


def _ruled_at(book: Book, page: int) -> tuple[list[float], list[float]]:
    """Where thin lines begin that run across a page, in mm from its top: above the lowest letters, and below them."""
    fine, leaf = 8, book.leaves.pages[page - 1]
    dark = (book.leaves.grey(page - 1, fine * 25.4) < 225).mean(axis=1) > 0.7
    starts = [row for row in range(1, len(dark)) if dark[row] and not dark[row - 1] and not dark[row + 4]]
    lowest = (leaf.height - min(run.box[1] for run in leaf.runs if run.tags)) / MM * fine
    above = [row / fine for row in starts if row < lowest]
    return above, [row / fine for row in starts if row >= lowest]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("paper", "look", "language"),
    [("A5", "default", "en"), ("half-letter", "large-print", "de"), ("A4", "default", "en")],
)
def test_a_whole_date_has_room_in_every_field_for_one(paper: str, look: str, language: str) -> None:
    """Ten signs in the size that is typed in; viewers keep two points free at either side (ISO 32000-1, 12.7.4.3)."""
    one = printed("intermediate", paper, look, language)
    face = next(face.file for face in shipped() if face.family == TEXT)
    with TTFont(face) as font:
        glyphs, advances, units = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
        em = sum(advances[glyphs[ord(sign)]][0] for sign in "2027-12-28") / units
    sizes = {spec.name: spec.font_size * one.booklet.zoom for spec in one.booklet.fields if spec.name.endswith("-date")}
    found = {name: one.rectangles[name][1] for name in sizes}
    assert {parse(name).__class__ for name in found} == {SessionField, ResultField, RecordField, SignField}
    assert {name: box for name, box in found.items() if box[2] - box[0] < em * sizes[name] + 4} == {}
