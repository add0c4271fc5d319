"""Figures: places follow values, plates are to scale and within the rules, and every drawing says what it shows."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pages.sample_pages import NAMES, context, html

from builder.given.brand import PlateColours
from builder.pages.figures.draw import Box, Dot, Drawing, Label, Outline, Path, Scale, ticks
from builder.pages.figures.pins import PinPoint, pins_drawing
from builder.pages.figures.side import LARGEST, plate_look, plate_size, side_drawing
from builder.pages.figures.spread import spread_drawing
from builder.pages.figures.tops import top_points, tops_drawing
from builder.pages.figures.trend import trend_drawing
from builder.pages.figures.weekly import WeekPoint, week_points, weekly_drawing
from builder.pages.front import front_sections
from builder.pages.glance import main_lifts
from builder.pages.guide import guide_section
from builder.pages.model import Paper
from builder.pdf.colour import contrast
from builder.plan.ladders import Racks
from builder.plan.model import PinStep, Role, WeekKind

INK = "#123456"
IPF_MOST_MM = 450
"""Largest disc and the thickest allowed (IPF Technical Rules 2026, p. 9, as quoted by others)."""
IPF_THICK = {Decimal(25): 60, Decimal(20): 60, Decimal(15): 30, Decimal(10): 30, Decimal(5): 30, Decimal("1.25"): 30}


def dots(drawing: Drawing) -> list[Dot]:
    return [mark for mark in drawing.marks if isinstance(mark, Dot)]


def boxes(drawing: Drawing) -> list[Box]:
    return [mark for mark in drawing.marks if isinstance(mark, Box)]


def labels(drawing: Drawing) -> list[str]:
    return [mark.text for mark in drawing.marks if isinstance(mark, Label)]


def every_drawing(name: str) -> list[Drawing]:
    ctx = context(name)
    words, plan = ctx.words, ctx.plan
    found: list[Drawing] = []
    for numbers in main_lifts(plan):
        points = week_points(plan.weeks, numbers.movement)
        found += [
            spread_drawing(words, numbers.movement, numbers.spread, numbers.equation, 100, INK),
            weekly_drawing(words, numbers.movement, points, 124, INK),
            tops_drawing(words, numbers.movement, top_points(plan.weeks, numbers, points), 124, INK),
            trend_drawing(words, numbers, len(plan.weeks), (60, 60), INK),
        ]
    return found


@given(st.lists(st.floats(1, 500), min_size=2, max_size=20))
def test_a_scale_keeps_the_order_of_its_values(values: list[float]) -> None:
    scale = Scale(min(values), max(values), 40, 5)
    for low, high in pairwise(sorted(values)):
        assert scale.at(low) >= scale.at(high)


@given(st.floats(0, 1000), st.floats(0.5, 500))
def test_ticks_are_few_even_and_within_the_range(low: float, width: float) -> None:
    values = ticks(low, low + width, 5)
    assert len(values) <= 6
    assert all(low - 1e-3 <= value <= low + width + 1e-3 for value in values)
    steps = [b - a for a, b in pairwise(values)]
    assert all(step == pytest.approx(steps[0]) for step in steps)


@pytest.mark.parametrize("name", NAMES)
def test_every_mark_lies_inside_its_drawing_and_every_drawing_has_a_title(name: str) -> None:
    for drawing in every_drawing(name):
        assert drawing.title.strip()
        for mark in drawing.marks:
            assert not isinstance(mark, Outline)
            places = mark.points if isinstance(mark, Path) else ((mark.x, mark.y),)
            for x, y in places:
                assert -0.01 <= x <= drawing.width + 0.01, mark
                assert -0.01 <= y <= drawing.height + 0.01, mark


@pytest.mark.parametrize("name", NAMES)
def test_a_heavier_week_stands_higher_in_the_chart_of_top_sets(name: str) -> None:
    ctx = context(name)
    for numbers in main_lifts(ctx.plan):
        points = week_points(ctx.plan.weeks, numbers.movement)
        tops = top_points(ctx.plan.weeks, numbers, points)
        loads = [point.load for point in tops if point.load is not None]
        heights = [dot.y for dot in dots(tops_drawing(ctx.words, "lift", tops, 124, INK))]
        assert len(heights) == len(loads)
        for one, other in pairwise(sorted(zip(loads, heights, strict=True))):
            assert one[1] >= other[1]


def test_top_sets_are_the_heaviest_of_the_plan_and_never_a_warm_up_or_a_hold() -> None:
    ctx = context("advanced")
    numbers = main_lifts(ctx.plan)[0]
    tops = top_points(ctx.plan.weeks, numbers, week_points(ctx.plan.weeks, numbers.movement))
    for week, point in zip(ctx.plan.weeks, tops, strict=True):
        loads = [
            planned.rung.mass
            for session in week.sessions
            for slot in session.slots
            if slot.movement == numbers.movement and slot.drill is None
            for planned in slot.work
            if planned.rung is not None and planned.role is not Role.HOLD
        ]
        assert point.load == max(loads, default=None)


def test_bars_grow_with_reps_and_a_deload_is_told_apart_without_colour() -> None:
    points = tuple(
        WeekPoint(n, kind, n == 2, reps, Decimal("0.7") + Decimal(n) / 100)
        for n, kind, reps in ((1, WeekKind.TRAINING, 12), (2, WeekKind.TRAINING, 24), (3, WeekKind.DELOAD, 6))
    )
    drawing = weekly_drawing(context("novice").words, "squat", points, 120, INK)
    bars = [box for box in boxes(drawing) if box.stroke != "none"]
    assert [round(bar.height / bars[0].height, 1) for bar in bars] == [1.0, 2.0, 0.5]
    assert bars[2].fill != bars[0].fill
    assert {"deload", "milestone", "12", "24", "6"} <= set(labels(drawing))


def test_intensity_rises_with_its_share() -> None:
    points = tuple(WeekPoint(n, WeekKind.TRAINING, False, 10, Decimal(60 + n) / 100) for n in range(1, 8))
    heights = [dot.y for dot in dots(weekly_drawing(context("novice").words, "squat", points, 120, INK))]
    assert all(a > b for a, b in pairwise(heights))


def test_estimates_lie_on_the_line_in_their_order_and_the_one_in_use_is_the_largest_dot() -> None:
    ctx = context("advanced")
    numbers = ctx.plan.lifts[0]
    found = dots(spread_drawing(ctx.words, "squat", numbers.spread, numbers.equation, 100, INK))
    others = [value for which, value in numbers.spread.by_equation if which is not numbers.equation]
    assert len(found) == len(others) + 1
    by_place = [value for _, value in sorted(zip([dot.x for dot in found[:-1]], others, strict=True))]
    assert by_place == sorted(others)
    assert found[-1].radius > found[0].radius


def test_plates_are_to_scale_and_within_the_rule_book() -> None:
    for kg, thickest in IPF_THICK.items():
        diameter, thickness = plate_size(kg)
        assert diameter <= IPF_MOST_MM
        assert thickness <= thickest
    sizes = [plate_size(Decimal(kg)) for kg in ("25", "20", "15", "10", "5", "2.5", "1.25", "0.5", "0.25")]
    assert all(a[0] >= b[0] and a[1] >= b[1] for a, b in pairwise(sizes))


def test_the_side_shows_each_plate_of_the_load_from_the_inside_out_with_its_value() -> None:
    ctx = context("advanced")
    ladder = ctx.plan.lifts[0].ladder
    plates = {plate.label: plate.mass for plate, _ in Racks(ctx.plan.client).plates()}
    for rung in (ladder.lightest, ladder.rungs[len(ladder.rungs) // 3], ladder.heaviest):
        drawing = side_drawing(ctx.words, rung, plates, 40)
        wanted = [label for label, count in rung.side for _ in range(count)]
        assert labels(drawing) == wanted
        shapes = [box for box in boxes(drawing) if box.round > 0]
        assert [round(box.height, 1) for box in shapes] == [
            round(40 * plate_size(plates[label])[0] / LARGEST, 1) for label in wanted
        ]
        assert all(a.x + a.width < b.x for a, b in pairwise(shapes))


def test_pound_plates_are_drawn_by_their_mass() -> None:
    ctx = context("novice")
    plates = {plate.label: plate.mass for plate, _ in Racks(ctx.plan.client).plates()}
    assert plate_size(plates["45"])[0] == LARGEST


def test_the_federation_scheme_follows_the_rule_books() -> None:
    """IPF: 25 red, 20 blue, 15 yellow; IWF the same and 10 green, 5 white."""

    def strongest(kg: str) -> str:
        fill = plate_look(Decimal(kg), "federation")[0]
        red, green, blue = (int(fill[i : i + 2], 16) for i in (1, 3, 5))
        if min(red, green, blue) > 240:
            return "white"
        if red > 200 and green > 150 and blue < 80:
            return "yellow"
        return {red: "red", green: "green", blue: "blue"}[max(red, green, blue)]

    assert [strongest(kg) for kg in ("25", "20", "15", "10", "5")] == ["red", "blue", "yellow", "green", "white"]


@pytest.mark.parametrize("scheme", ["grey", "federation"])
def test_the_value_on_every_plate_can_be_read(scheme: PlateColours) -> None:
    # 4.5:1 for text: WCAG 2.2, success criterion 1.4.3, level AA. Plates in kg; 20.41 is 45 lb.
    for kg in ("50", "25", "20.41", "20", "15", "10", "5", "2.5", "2", "1.5", "1.25", "1", "0.5", "0.25"):
        fill, ink = plate_look(Decimal(kg), scheme)
        assert contrast(fill, ink) >= 4.5, kg


def test_small_federation_plates_repeat_the_colours_of_the_large_and_others_are_grey() -> None:
    # IWF Technical and Competition Rules & Regulations, equipment: 2.5 red, 2 blue, 1.5 yellow, 1 green, 0.5 white.
    for small, large in (("2.5", "25"), ("2", "20"), ("1.5", "15"), ("1", "10"), ("0.5", "5")):
        assert plate_look(Decimal(small), "federation") == plate_look(Decimal(large), "federation")
    for kg in ("1.25", "20.41"):
        assert plate_look(Decimal(kg), "federation") == plate_look(Decimal(kg), "grey")


def test_the_guide_draws_its_plates_as_the_brand_wants_them() -> None:
    ctx = context("advanced", Paper.A4)
    colours = ctx.brand.colours.model_copy(update={"plates": "federation"})
    coloured = guide_section(replace(ctx, brand=ctx.brand.model_copy(update={"colours": colours})))
    plain = guide_section(ctx)
    assert coloured is not None and plain is not None
    red, grey = plate_look(Decimal(25), "federation")[0], plate_look(Decimal(25), "grey")[0]
    found, without = html(coloured, Paper.A4), html(plain, Paper.A4)
    assert red in found and red not in without and grey in without


def test_lower_pins_are_drawn_lower() -> None:
    ctx = context("advanced")
    on = ctx.plan.sessions()[0].on
    points = tuple(PinPoint(on, PinStep(None, Decimal(cm)), Decimal(100)) for cm in (95, 90, 85))
    drawing = pins_drawing(ctx.words, "squat", points, 120, INK)
    assert drawing is not None
    pins = [box.y for box in boxes(drawing) if box.fill == INK]
    assert pins == sorted(pins)
    assert len(set(pins)) == 3
    assert pins_drawing(ctx.words, "squat", (PinPoint(on, PinStep(4, None), None),), 120, INK) is None


@pytest.mark.parametrize("name", NAMES)
def test_each_svg_on_the_pages_has_its_title_as_first_child(name: str) -> None:
    for section in front_sections(context(name)):
        page = html(section)
        assert page.count("<svg") == page.count("</title>")
        for part in page.split("<svg")[1:]:
            assert part.split(">", 1)[1].lstrip().startswith("<title>")
