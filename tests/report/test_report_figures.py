"""The report's charts: where marks stand follows the numbers, and nothing rests on colour alone."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.log.progress import Effort, SetCount, WeekEstimate, WeekProgress
from builder.log.report import ReportContext
from builder.log.report.lifts import LEFT, days_of, lift_drawing
from builder.log.report.totals import BlockSpan, Course, WeekTotals
from builder.log.report.weekly import axis, effort_drawing, sets_drawing, volume_drawing
from builder.pages.figures.draw import PAPER, Box, Dot, Drawing, Label, Outline, Path, meet, wide
from builder.pages.model import Paper
from builder.pages.theme import DEFAULT
from builder.pdf import text_signs
from builder.training.estimate import Equation, estimate, spread
from builder.values.quantity import Unit, WithBody
from builder.work import texts

WORDS = texts.load_words("en", Unit.KG)
ACCENT = "#1f4e5f"
START = date(2027, 1, 4)


def week(number: int, planned: int, done: int, missed: int = 0, drift: str | None = None, block: int = 0) -> WeekTotals:
    """A week of sets of 100 kg for 5."""
    sums = WeekProgress(
        number, SetCount(planned, done, missed, 0, planned - done, 0), Decimal(planned * 500), Decimal(done * 500),
        Effort(number, 4, Decimal(drift)) if drift else None,
    )  # fmt: skip
    return WeekTotals(block, sums, done > 0)


def point(days: int, load: int, *, least: bool = False) -> WeekEstimate:
    """A set of five with two in reserve, so many days after the first."""
    kg = Decimal(load)
    worth = estimate(WithBody(kg), 5, 2, Equation.WATHAN)
    reserve = None if least else Decimal(2)
    on = START + timedelta(days)
    done = WithBody(kg)
    return WeekEstimate("back squat", days // 7 + 1, on, worth, spread(done, 5, 2), done, 5, reserve, least)


def course(*points: WeekEstimate) -> Course:
    span = BlockSpan(START, START + timedelta(70), Decimal(130))
    return Course("back squat", Decimal(0), (span,), points, ())


def boxes(drawing: Drawing) -> list[Box]:
    return [mark for mark in drawing.marks if isinstance(mark, Box)]


def labels(drawing: Drawing) -> list[Label]:
    return [mark for mark in drawing.marks if isinstance(mark, Label)]


def test_a_column_is_as_high_as_the_sets_done_and_white_where_they_were_missed() -> None:
    """Eight of ten, two of them missed: the white part is a quarter of the column, also without colour."""
    columns = axis([week(1, 10, 8, 2), week(2, 10, 0)], ["Block"], 180, 25)
    whole, full = boxes(sets_drawing(WORDS, columns, ACCENT))
    assert (whole.fill, full.fill) == (PAPER, ACCENT)
    assert whole.height == pytest.approx(25 * 0.8)
    assert full.height == pytest.approx(whole.height * 3 / 4)
    assert full.y + full.height == pytest.approx(whole.y + whole.height)


def test_the_plan_lies_across_the_columns_of_begun_weeks_and_of_those_to_come() -> None:
    columns = axis([week(1, 10, 8), week(2, 5, 0)], ["Block"], 180, 25)
    lines = [mark for mark in sets_drawing(WORDS, columns, ACCENT).marks if isinstance(mark, Path) and mark.line == 0.6]
    first, second = (line.points[0][1] for line in lines)
    base = columns.end
    assert base - first == pytest.approx(25)
    assert base - second == pytest.approx(12.5)
    assert "8/10" in [label.text for label in labels(sets_drawing(WORDS, columns, ACCENT))]
    assert "0/5" not in [label.text for label in labels(sets_drawing(WORDS, columns, ACCENT))]


def test_harder_weeks_hang_below_the_line_and_easier_ones_stand_above() -> None:
    drawing = effort_drawing(WORDS, axis([week(1, 9, 9, 0, "-1"), week(2, 9, 9, 0, "0.5")], ["B"], 180, 25), ACCENT)
    assert drawing is not None
    harder, easier = boxes(drawing)
    assert harder.y == pytest.approx(easier.y + easier.height)
    assert harder.height == pytest.approx(2 * easier.height, abs=0.02)
    assert (harder.fill, easier.fill) == (ACCENT, PAPER)
    assert {"−1.0", "+0.5"} <= {label.text for label in labels(drawing)}


def test_without_a_reserve_there_is_no_chart_of_it() -> None:
    assert effort_drawing(WORDS, axis([week(1, 9, 9)], ["B"], 180, 25), ACCENT) is None


@given(
    st.lists(st.integers(1, 20), min_size=1, max_size=3), st.sampled_from([117.7, 124.0, 180.0, 183.9]),
    st.integers(0, 2),
)  # fmt: skip
def test_columns_keep_within_the_width_and_values_apart(counts: list[int], width: float, tone: int) -> None:
    """Up to three blocks of up to twenty weeks, on every paper."""
    weeks = [week(n, 88, 87, 0, "-0.3", block) for block, count in enumerate(counts) for n in range(1, count + 1)]
    names = ["A block with a long and winding title"] * len(counts)
    columns = axis(weeks, names, width, 20)
    drawings = (sets_drawing, volume_drawing, effort_drawing)
    drawing = drawings[tone](WORDS, columns, ACCENT)
    assert drawing is not None
    areas = []
    for label in labels(drawing):
        half = wide(label.text) / 2
        middle = label.x + half if label.anchor == "start" else label.x
        assert 0 <= label.y <= drawing.height
        assert middle + half <= width + 1
        if label.anchor == "middle":
            areas.append((label.x - half, label.y - 1.9, label.x + half, label.y))
    assert not any(meet(one, other) for i, one in enumerate(areas) for other in areas[:i])
    assert all(box.x >= 0 and box.x + box.width <= width for box in boxes(drawing))


def test_lower_bounds_are_rings_that_are_not_joined_and_have_no_band() -> None:
    three = course(point(0, 100), point(7, 140, least=True), point(14, 105))
    drawing = lift_drawing(WORDS, "Squat", three, (87, 58), ACCENT)
    rings = [mark for mark in drawing.marks if isinstance(mark, Dot) and mark.fill == PAPER]
    joined = next(mark for mark in drawing.marks if isinstance(mark, Path) and mark.line == 0.45)
    assert len(rings) == 1
    assert len(joined.points) == 2
    assert rings[0].x not in [x for x, _ in joined.points]
    (band,) = (mark for mark in drawing.marks if isinstance(mark, Outline))
    assert band.drawn.count("L") == 3, "four corners: low and high of two weeks"
    assert "at least" in drawing.title


@given(st.lists(st.tuples(st.integers(0, 70), st.integers(40, 300), st.booleans()), min_size=1, max_size=12))
def test_time_runs_from_left_to_right_and_all_stays_within_the_figure(weeks: list[tuple[int, int, bool]]) -> None:
    points = sorted((point(days, load, least=least) for days, load, least in weeks), key=lambda one: one.on)
    made = course(*points)
    later = BlockSpan(START, START + timedelta(200), Decimal(90))
    long = replace(made, spans=(replace(made.spans[0], first=START), later))
    for each in (made, long):
        days = days_of(each, 87)
        order = [days.at(one.on) for one in points]
        assert order == sorted(order)
        drawing = lift_drawing(WORDS, "Squat", each, (87, 58), ACCENT)
        dots = [mark for mark in drawing.marks if isinstance(mark, Dot)]
        assert len(dots) == len(points)
        assert all(LEFT <= dot.x <= 87 and 0 <= dot.y <= 58 for dot in dots)


@given(st.text(max_size=400), st.integers(2, 80))
def test_any_text_becomes_one_line_that_the_fonts_can_print(written: str, most: int) -> None:
    context = ReportContext((), (), WORDS, Paper.A4, DEFAULT, ACCENT, None, None, START, text_signs())
    shown = context.text(written, most)
    assert len(shown) <= most
    assert all(ord(sign) in text_signs() and sign.isprintable() for sign in shown)
    assert context.text("Größe: 5 × <b>5</b> & more") == "Größe: 5 × <b>5</b> & more"
