"""Large print: type and cells as large as the README says, on pages of the right size."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import date
from io import BytesIO

import pdfplumber
import pikepdf
import pytest
from pages.layout import Book, sessions_apart, squeezed
from pages.plans import busy
from pages.pressed import MM, Printed, print_booklet, printed
from pypdfium2 import PdfDocument
from short import shortened

from builder.pages.model import Edition, Paper
from builder.pages.onepage import OnePage
from builder.pages.theme import theme
from builder.values.fields import SetField, parse
from builder.values.lists import Keep
from builder.work.publish import Choices, publish

LARGE = "large-print"
PAPERS = ["A4", "A5"]
SMALLEST = {"A4": 12.0, "A5": 9.375}
RUNNING = {"A4": 16.0, "A5": 12.5}
"""Points. 12 pt and more is clear print, 16 pt and more large print, as RNIB uses the words (from memory)."""


def _running(one: Printed) -> Counter[float]:
    """How many letters of each size stand on a page of running text, as pdfplumber tells them."""
    first = next(entry.page for entry in one.pressed.outline if entry.title == "When a lift is missed")
    with pdfplumber.open(BytesIO(one.pressed.pdf)) as pdf:
        return Counter(round(char["size"], 2) for char in pdf.pages[first].chars if char["text"].strip())


def _smallest(one: Printed) -> float:
    """The smallest letter of all pages."""
    runs = (run for leaf in one.leaves.pages for run in leaf.runs)
    return min(glyph.size for run in runs for glyph in run.glyphs)


def _apart(one: Printed) -> list[str]:
    """Sessions that stand neither on one page nor as a plan on the left that faces its log."""
    return list(sessions_apart(Book(one.booklet, one.pressed, one.leaves)))


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
def test_running_text_and_the_smallest_type_have_the_sizes_that_the_readme_names(paper: str) -> None:
    one = printed("novice", paper, LARGE)
    assert _smallest(one) >= SMALLEST[paper] - 0.1
    assert _running(one).most_common(1)[0][0] == pytest.approx(RUNNING[paper], abs=0.05)


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
def test_pages_have_the_size_of_the_paper_and_sessions_one_page_or_a_plan_facing_its_log(paper: str) -> None:
    one = printed("novice", paper, LARGE)
    wide, high = Paper(paper).millimetres
    for page in PdfDocument(one.pressed.pdf):
        assert page.get_size() == pytest.approx((wide * MM, high * MM), abs=0.1)
    assert _apart(one) == []


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
def test_cells_are_large_enough_and_lie_within_the_page(paper: str) -> None:
    one = printed("novice", paper, LARGE)
    wide, high = (side * MM for side in Paper(paper).millimetres)
    kinds = {spec.name: spec.kind for spec in one.booklet.fields}
    for name, (_, (x0, y0, x1, y1)) in one.rectangles.items():
        assert 0 < x0 < x1 < wide and 0 < y0 < y1 < high, name
        if kinds[name] != "tick":
            assert y1 - y0 >= 8 * MM - 0.1 and x1 - x0 >= 14 * MM - 0.1, name


@pytest.mark.slow
@pytest.mark.parametrize("paper", [Paper.A4, Paper.HALF_LETTER])
def test_ten_slots_with_36_sets_stay_within_their_pages(paper: Paper) -> None:
    ctx = replace(busy(paper), edition=Edition.POCKET, theme=theme(LARGE))
    one = print_booklet(ctx)
    assert one.pressed.warnings == ()
    assert _apart(one) == []
    cells = [place for name in one.rectangles if isinstance(place := parse(name), SetField)]
    assert len({(place.slot, place.set) for place in cells}) == 36
    assert {place.slot for place in cells} == set(range(1, 11))


@pytest.mark.slow
def test_bleed_and_marks_of_a_print_shop_are_not_magnified() -> None:
    sources = shortened("novice")
    usual = Choices(date(2027, 1, 4), Paper.A5, LARGE, Edition.POCKET, keep=Keep.ALL)
    choices = replace(usual, fillable=False, bleed=True)
    done = publish(sources, choices)
    assert done.pressed is not None and done.problems == ()
    with pikepdf.open(BytesIO(done.pressed.pdf)) as pdf:
        for page in pdf.pages:
            for box, outside in (("/MediaBox", 9), ("/BleedBox", 3), ("/TrimBox", 0)):
                left, bottom, right, top = (float(x) for x in page[box])
                assert (left, bottom) == pytest.approx((-outside * MM,) * 2, abs=0.1)
                assert (right, top) == pytest.approx(((148 + outside) * MM, (210 + outside) * MM), abs=0.1)


@pytest.mark.slow
def test_it_enlarges_what_is_read_in_the_gym() -> None:
    """Loads, plates and the planned value in a box, against usual print; how many pages it takes counts the layout."""
    sizes = [_read_sizes(printed("novice", "A5", *look)) for look in ((), (LARGE,))]
    for what in ("load", "plates", "planned"):
        assert sizes[1][what] >= 1.1 * sizes[0][what], what


def _read_sizes(one: Printed) -> dict[str, float]:
    """The smallest size of loads, of plates and of planned values on the pages of sessions, in points."""
    book = Book(one.booklet, one.pressed, one.leaves)
    pages = [leaf for leaf in book.leaves.pages if book.on(leaf.number)[0].template == "session_page"]
    made = [section.data for section in one.booklet.sections if isinstance(section.data, OnePage)]
    lifts = [lift for page in made for lift in page.lifts]
    wanted = {
        "load": {line.load for lift in lifts for line in lift.lines if line.load},
        "plates": {line.side for lift in lifts for line in lift.lines if "+" in line.side},
        "planned": {planned for lift in lifts for row in lift.rows for _, planned in row.boxes if planned[0].isdigit()},
    }
    found = {
        what: [run.size for leaf in pages for run in leaf.runs if squeezed(run.text) in set(map(squeezed, told))]
        for what, told in wanted.items()
    }  # fmt: skip
    # A load may stand as small figures elsewhere: those of the lines are the largest on their page.
    found["load"] = [max(run.size for run in leaf.runs) for leaf in pages]
    assert all(found.values())
    return {what: min(values) for what, values in found.items()}
