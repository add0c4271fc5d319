"""Folded and laid into each other, the sheets read from the first page to the last."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from builder.pdf.sheets.saddle import SHEETS, Side, fits, fitting, shift, sides

# Found by folding sheets of paper and numbering the pages; pages count from 1 here, 0 is a blank page.
BY_HAND = {
    1: [(0, 1), (0, 0)],
    4: [(4, 1), (2, 3)],
    6: [(0, 1), (2, 0), (6, 3), (4, 5)],
    8: [(8, 1), (2, 7), (6, 3), (4, 5)],
    12: [(12, 1), (2, 11), (10, 3), (4, 9), (8, 5), (6, 7)],
}


def _numbers(order: tuple[Side, ...]) -> list[tuple[int, int]]:
    return [tuple(0 if page is None else page + 1 for page in (s.left, s.right)) for s in order]  # type: ignore[misc]


@pytest.mark.parametrize("pages", BY_HAND)
def test_the_order_is_that_of_sheets_folded_by_hand(pages: int) -> None:
    assert _numbers(sides(pages)) == BY_HAND[pages]


def test_98_pages_take_25_sheets_with_two_blank_pages_at_the_back() -> None:
    """Worked by hand: 100 places, so the pages of a side add up to 101, and 99 and 100 are blank."""
    order = _numbers(sides(98))
    assert len(order) == 50
    assert order[:4] == [(0, 1), (2, 0), (98, 3), (4, 97)]
    assert order[-2:] == [(52, 49), (50, 51)]
    assert all(sum(side) == 101 for side in order[2:])


def _leaf_through(order: tuple[Side, ...]) -> Iterator[int | None]:
    """The pages of the folded stack: the right halves from the outermost sheet in, then the left ones out again."""
    stack = [(order[i], order[i + 1]) for i in range(0, len(order), 2)]
    for front, back in stack:
        yield from (front.right, back.left)
    for front, back in reversed(stack):
        yield from (back.right, front.left)


@pytest.mark.parametrize("pages", [*range(1, 41), 98, 169])
def test_a_folded_booklet_reads_in_order_with_blank_pages_only_at_the_end(pages: int) -> None:
    blank = -pages % 4
    assert list(_leaf_through(sides(pages))) == [*range(pages), *[None] * blank]


def test_sheets_are_told_from_the_cover_inwards_front_before_back() -> None:
    assert [(side.sheet, side.back) for side in sides(8)] == [(0, False), (0, True), (1, False), (1, True)]


def test_the_outermost_sheet_does_not_creep_and_each_one_inside_moves_by_one_leaf_more() -> None:
    assert [round(shift(sheet, 0.1), 6) for sheet in range(4)] == [0, 0.1, 0.2, 0.3]


# Sizes in mm: A sizes from ISO 216, Letter halved and whole as in US use (8.5 × 11 in, 25.4 mm to the inch).
@pytest.mark.parametrize(
    ("page", "sheets"),
    [
        ((148.0, 210.0), ("A4", "SRA4", "Tabloid", "A3", "SRA3")),
        ((139.7, 215.9), ("Letter", "SRA4", "Tabloid", "A3", "SRA3")),
        ((210.0, 297.0), ("A3", "SRA3")),
        ((215.9, 279.4), ("Tabloid", "SRA3")),
        ((297.0, 420.0), ()),
    ],
)
def test_each_paper_has_the_sheets_that_two_of_its_pages_fit_on(
    page: tuple[float, float], sheets: tuple[str, ...]
) -> None:
    assert fitting(page) == sheets
    assert not any(fits(sheet, page) for sheet in set(SHEETS) - set(sheets))


# Two signatures of two sheets and a rest of one, folded by hand; pages count from 1, 0 is a blank page.
SEWN = [(8, 1), (2, 7), (6, 3), (4, 5), (16, 9), (10, 15), (14, 11), (12, 13), (20, 17), (18, 19)]


def test_signatures_are_folded_one_by_one_as_by_hand() -> None:
    order = sides(20, 2)
    assert _numbers(order) == SEWN
    assert [side.sheet for side in order] == [0, 0, 1, 1, 0, 0, 1, 1, 0, 0]


@pytest.mark.parametrize("pages", [*range(1, 41), 98, 169])
@pytest.mark.parametrize("sheets", [1, 3, 4])
def test_signatures_laid_behind_each_other_read_in_order(pages: int, sheets: int) -> None:
    order, each = sides(pages, sheets), 2 * sheets
    read = [page for start in range(0, len(order), each) for page in _leaf_through(order[start : start + each])]
    assert read == [*range(pages), *[None] * (-pages % 4)]


def test_a_back_cover_stays_outside_and_blank_pages_stand_before_it() -> None:
    """Worked by hand: 6 pages on two sheets; the last faces the first on the outer sheet, 6 and 7 are blank."""
    assert _numbers(sides(6, back_cover=True)) == [(6, 1), (2, 0), (0, 3), (4, 5)]
