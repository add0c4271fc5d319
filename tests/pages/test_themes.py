"""Every theme prints the same sessions, with fields for the same things; the ink saver with clearly less ink."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest
from pages.pressed import printed
from pages.sample_pages import context
from pypdfium2 import PdfDocument

from builder.pages.figures.draw import INK, PAPER, Box, Drawing, Label
from builder.pages.figures.outlined import outlined
from builder.pages.front import front_sections
from builder.pages.glance import GlancePage
from builder.pages.guide import GuidePage
from builder.pages.model import Paper
from builder.pages.theme import DEFAULT_THEME, theme
from builder.places import themes
from builder.values.fields import SetField, parse

OTHERS = [name for name in themes() if name != DEFAULT_THEME]
TINTED = ("glance", "loads", "effort")
"""Templates whose pages are full of areas of tone in the default theme."""


def _ink(look: str) -> tuple[float, ...]:
    """The share of each page that is covered, where black covers wholly and grey in part."""
    shares = []
    for page in PdfDocument(printed("novice", "A5", look).pressed.pdf):
        counts = page.render(scale=1, may_draw_forms=False).to_pil().convert("L").histogram()
        shares.append(sum((255 - value) * count for value, count in enumerate(counts)) / 255 / sum(counts))
    return tuple(shares)


def _pages_of(template: str) -> list[int]:
    """The pages, from 0, on which the sections of a template begin."""
    one = printed("novice", "A5")
    titles = {section.title for section in one.booklet.sections if section.template == template}
    return [entry.page for entry in one.pressed.outline if entry.title in titles]


def _places(names: Iterable[str]) -> set[object]:
    """What fields ask for: of a set its tick and what was done, in one field or in three.

    A larger type may give a session the spread that has one page in the default type, and the other way about.
    """
    places = [parse(name) for name in names]
    return {replace(one, part="did") if isinstance(one, SetField) and one.part != "done" else one for one in places}


@pytest.mark.slow
@pytest.mark.parametrize("look", OTHERS)
def test_a_theme_prints_the_same_fields(look: str) -> None:
    plain, other = printed("novice", "A5"), printed("novice", "A5", look)
    fields = {spec.name for spec in other.booklet.fields}
    assert other.rectangles.keys() == fields
    assert _places(fields) == _places(plain.rectangles)
    if other.booklet.zoom == plain.booklet.zoom:
        assert fields == plain.rectangles.keys()


@pytest.mark.slow
def test_the_ink_saver_covers_no_page_more_and_pages_with_tints_a_fifth_less() -> None:
    plain, spared = _ink(DEFAULT_THEME), _ink("ink-saver")
    assert len(plain) == len(spared)
    assert all(less <= more * 1.001 for less, more in zip(spared, plain, strict=True))
    tinted = [page for template in TINTED for page in _pages_of(template)]
    assert len(tinted) >= len(TINTED)
    assert sum(spared[page] for page in tinted) < 0.8 * sum(plain[page] for page in tinted)


def _figures(look: str) -> list[Drawing]:
    ctx = replace(context("advanced", Paper.A5), theme=theme(look))
    found: list[Drawing] = []
    for section in front_sections(ctx):
        if isinstance(section.data, GlancePage):
            found += [chart for one in section.data.charts for chart in (one.weekly, one.tops) if chart]
        if isinstance(section.data, GuidePage) and section.data.side:
            found.append(section.data.side)
    return found


def test_figures_of_the_ink_saver_have_no_filled_area_and_no_white_words() -> None:
    figures = _figures("ink-saver")
    assert len(figures) > 4
    marks = [mark for figure in figures for mark in figure.marks]
    assert {mark.fill for mark in marks if isinstance(mark, Box)} == {PAPER, "none"}
    assert all(mark.colour != PAPER for mark in marks if isinstance(mark, Label))
    assert any(mark.fill not in (PAPER, "none") for figure in _figures("default") for mark in figure.marks
               if isinstance(mark, Box))  # fmt: skip


def test_an_outlined_figure_says_the_same_and_keeps_every_mark_in_sight() -> None:
    for figure in _figures("default"):
        other = outlined(figure)
        assert (other.title, len(other.marks)) == (figure.title, len(figure.marks))
        for mark in other.marks:
            if isinstance(mark, Box) and mark.fill == "none":
                assert mark.stroke != "none"
    dark = outlined(Drawing(1, 1, "a plate", (Box(0, 0, 1, 1, INK), Label(0, 0, "25", colour=PAPER))))
    box, label = dark.marks
    assert isinstance(box, Box) and isinstance(label, Label)
    assert (box.fill, box.stroke != "none", label.colour) == (PAPER, True, INK)
