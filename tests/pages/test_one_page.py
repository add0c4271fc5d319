"""Sessions on one page: loads on one axis and heaviest of all, a box a set, and the spread for what does not fit."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from pages.layout import squeezed
from pages.plans import busy, sparse, with_slots
from pages.pressed import MM, print_booklet
from pages.sample_pages import NAMES, context

from builder.pages.columns import BETWEEN, HEAD, HEAD_UP, columns, heights
from builder.pages.context import Context
from builder.pages.make import make_booklet
from builder.pages.model import Edition, Layout, Paper, Section
from builder.pages.onepage import OnePage
from builder.pages.paging import shared_out
from builder.pages.sessions import session_sections
from builder.pages.sheet import Density
from builder.pages.theme import theme
from builder.values.fields import SetField, parse
from builder.work.texts import load_texts, load_words

PAPERS = [*Paper]


def sections(ctx: Context) -> list[tuple[Section, ...]]:
    return [session_sections(ctx, week, session) for week in ctx.plan.weeks for session in week.sessions]


def pages(ctx: Context) -> list[OnePage]:
    return [one.data for many in sections(ctx) for one in many if isinstance(one.data, OnePage)]


def short(ctx: Context) -> Context:
    """The first week, its sessions alone."""
    return replace(ctx, plan=replace(ctx.plan, weeks=ctx.plan.weeks[:1]), edition=Edition.POCKET)


@pytest.mark.parametrize("paper", PAPERS)
def test_two_slots_have_one_page_and_ten_with_36_sets_take_no_more_pages_than_the_spread(paper: Paper) -> None:
    """Plan and log stay together, and no page is left over before a plan that needs a left one."""
    (few,), (many,) = sections(sparse(paper)), sections(busy(paper))
    assert [one.template for one in few] == ["session_page"]
    (spread,) = sections(replace(busy(paper), layout=Layout.SPREAD))
    assert len(many) <= len(spread)
    assert {one.template for one in many} == {"session_page"}


@pytest.mark.parametrize("edition", [Edition.PERSONAL, Edition.POCKET])
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_in_a_deload_two_sessions_share_a_page_where_they_fit(name: str, paper: Paper, edition: Edition) -> None:
    """Each keeps its lifts, its boxes and its date; on large paper two always fit."""
    booklet = make_booklet(replace(context(name, paper), edition=edition))
    below = [one for one in booklet.sections if one.side == "on"]
    tones = {one.tone for one in below}
    assert tones <= {"deload", "taper"}
    deloads = [one for one in booklet.sections if one.tone == "deload" and one.template == "session_page"]
    assert (len(deloads) // 2 <= len(below)) if not paper.small else (name == "novice" or below)
    for upper, lower in pairwise(booklet.sections):
        if lower.side == "on":
            assert isinstance(upper.data, OnePage) and isinstance(lower.data, OnePage)
            assert lower.code == upper.code and lower.data.asked and lower.listed
            both = (upper.data, lower.data)
            heights = sum(lift.height + page.air + page.spare for page in both for lift in page.lifts)
            assert heights + 2 * HEAD + BETWEEN - HEAD_UP < context(name, paper).sheet.height


def test_no_two_sessions_share_a_page_in_a_spread_or_a_training_week() -> None:
    ctx = context("intermediate", Paper.A4)
    assert all(one.side != "on" for one in make_booklet(replace(ctx, layout=Layout.SPREAD)).sections)
    shared = [one for one in make_booklet(ctx).sections if one.side == "on"]
    assert shared and all(one.tone in ("deload", "taper") for one in shared)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("paper", [Paper.A4, Paper.LETTER])
def test_on_large_paper_every_session_of_a_sample_has_one_page(name: str, paper: Paper) -> None:
    assert all(len(many) <= 1 for many in sections(context(name, paper)))


def test_what_the_first_page_says_of_a_session_takes_no_room_on_the_others() -> None:
    """Lifts, densities and gaps of a later page are the same however many cautions the first one prints."""
    usual = replace(context("advanced", Paper.A5), theme=theme("large-print"))
    told = replace(usual, plan=replace(usual.plan, cautions=("no-safeties", "clinician", "recent-limit")))
    seen = 0
    for one, other in zip(sections(usual), sections(told), strict=True):
        few, many = ([page.data for page in each if isinstance(page.data, OnePage)] for each in (one, other))
        if len(few) > 1 and [len(page.lifts) for page in few] == [len(page.lifts) for page in many]:
            assert len(many[0].cautions) > len(few[0].cautions)
            assert [(page.lifts, page.spare, page.note_mm) for page in many[1:]] == [
                (page.lifts, page.spare, page.note_mm) for page in few[1:]
            ]
            seen += 1
    assert seen > 5


def test_a_session_is_cut_into_the_fewest_pages_and_none_of_them_is_emptier_than_need_be() -> None:
    slots = [replace(one, superset=None) for one in busy(Paper.A5).plan.weeks[0].sessions[0].slots[:5]]
    tall = dict(zip((1, 2, 3, 4, 5), (0.2, 0.75, 0.15, 0.4, 0.5), strict=True))

    def fill(run: tuple[int, ...]) -> float:
        return sum(tall[number] for number in run)

    assert shared_out((1, 2, 3, 4, 5), slots, fill) == ((1, 2), (3, 4), (5,))
    assert shared_out((2, 3, 4), slots, fill) == ((2,), (3, 4))
    assert shared_out((1, 3, 5), slots, fill) == ((1, 3, 5),)


def test_the_spread_is_there_for_who_wants_room() -> None:
    ctx = replace(context("novice", Paper.A5), layout=Layout.SPREAD)
    assert pages(ctx) == []


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("look", ["default", "large-print"])
def test_set_boxes_are_about_29_mm_wide_with_a_tick_of_8_and_room_to_write(paper: Paper, look: str) -> None:
    sheet = replace(context("novice", paper), theme=theme(look)).sheet
    at = columns(sheet)
    assert 27 <= at.box * sheet.zoom <= 45
    assert 8 <= at.tick * sheet.zoom <= 11.3
    assert (at.box - at.tick) * sheet.zoom >= 18


def test_every_load_of_a_progression_has_a_box_for_today_and_drills_have_none() -> None:
    for page in pages(context("advanced", Paper.A4)):
        for one in page.lifts:
            led = [line for line in one.lines if not line.same and (line.load or line.by_feel)]
            drilled = one.name.startswith(("Walkout", "Pin squat"))
            assert all(bool(line.today) != drilled for line in led), one.name


def test_boxes_count_the_sets_of_their_lift_in_order() -> None:
    ctx = context("intermediate", Paper.A5)
    for many in sections(ctx):
        for section in many:
            if isinstance(section.data, OnePage):
                fields = [parse(spec.name) for spec in section.fields]
                sets = [(f.slot, f.set) for f in fields if isinstance(f, SetField) and f.part == "did"]
                assert sets == sorted(set(sets))
                assert all(b[1] == a[1] + 1 for a, b in pairwise(sets) if a[0] == b[0])


@pytest.mark.slow
@pytest.mark.parametrize(("name", "paper", "points"), [("intermediate", "A5", 27.0), ("novice", "A4", 30.0)])
def test_loads_end_on_one_axis_and_nothing_on_the_page_is_as_large(name: str, paper: str, points: float) -> None:
    """Measured on the pages: the right edge of every load, and the size of every other text, title included."""
    ctx = short(context(name, Paper(paper)))
    done = print_booklet(ctx)
    loads = {line.load for page in pages(ctx) for one in page.lifts for line in one.lines if line.load}
    seen = 0
    for leaf in done.leaves.pages[1:]:
        sizes = {run.size for run in leaf.runs}
        if max(sizes, default=0) < points - 0.1:
            continue
        large = [run for run in leaf.runs if run.size > 18]
        assert {run.text for run in large} <= loads
        assert {round(run.size, 1) for run in large} == {points}
        edges = [run.box[2] for run in large]
        assert max(edges) - min(edges) < 1.2 * MM
        seen += len(large)
    assert seen > 8


@pytest.mark.slow
@pytest.mark.parametrize("count", [1, 3, 5])
def test_plates_are_read_at_arm_s_length(count: int) -> None:
    """At least 12 pt (print craft of this project), however full the page is."""
    slots = busy(Paper.A5).plan.weeks[0].sessions[0].slots[:count]
    ctx = with_slots(Paper.A5, slots, Edition.POCKET)
    sides = {line.side for page in pages(ctx) for one in page.lifts for line in one.lines if line.side}
    assert sides
    runs = [run for leaf in print_booklet(ctx).leaves.pages for run in leaf.runs]
    for side in sides:
        told = [run for run in runs if squeezed(run.text) in squeezed(side) and "+" in run.text and run.size > 10]
        assert told
        assert all(run.size >= 12 for run in told)


@pytest.mark.slow
def test_a_second_line_of_sets_follows_the_first_where_plates_take_two() -> None:
    """As closely as one line follows another, and no part of it is as high as the first, or beside the plates."""
    usual = context("intermediate", Paper.A5)
    ctx = short(replace(usual, words=load_words("de", usual.plan.unit), texts=load_texts("de")))
    raised = [one for page in pages(ctx) for one in page.lifts if any(line.raised for line in one.lines)]
    assert [one.name for one in raised] == ["Kreuzheben"]
    told = [squeezed(line.scheme) for line in raised[0].lines]
    page = next(leaf for leaf in print_booklet(ctx).leaves.pages if f"{raised[0].lines[0].load}" in
                [run.text for run in leaf.runs if run.size > 20])  # fmt: skip
    first, second = (next(run.glyphs[0] for run in page.runs if squeezed(run.text).startswith(one)) for one in told)
    assert first.base - second.base == pytest.approx(heights(Density.DENSE).scheme * MM, abs=0.1)
    assert first.box[0] == pytest.approx(second.box[0], abs=1)
