"""The booklet as a whole: its order, its editions, its fields, its outline, and pages that stay within themselves."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache

import pytest
from pages.pressed import print_booklet, printed
from pages.sample_pages import NAMES, context

from builder.pages.make import make_booklet
from builder.pages.model import Edition, Layout, Paper
from builder.pages.testday import tested_lifts as in_order
from builder.pdf.colour import contrast, readable
from builder.pdf.html import Look, render, style_sheets
from builder.places import themes
from builder.values.fields import SessionField, SetField, SlotNote, WeekField, parse


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("paper", [*Paper])
def test_field_names_are_unique_and_can_be_parsed(name: str, paper: Paper) -> None:
    fields = names(name, paper)
    assert len(fields) == len(set(fields))
    assert all(parse(field) for field in fields)


@pytest.mark.parametrize("name", NAMES)
def test_the_fields_do_not_depend_on_the_paper(name: str) -> None:
    """In one layout; where sessions stand on one page if they fit, every set has its place all the same."""
    spread = {frozenset(names(name, paper, Layout.SPREAD)) for paper in Paper}
    assert len(spread) == 1
    asked = {frozenset(map(without_part, names(name, paper))) for paper in Paper}
    assert len(asked) == 1


@lru_cache
def names(name: str, paper: Paper, layout: Layout | None = None) -> tuple[str, ...]:
    """The fields of a sample, in the usual layout or in another."""
    ctx = context(name, paper)
    return tuple(spec.name for spec in make_booklet(replace(ctx, layout=layout or ctx.layout)).fields)


def without_part(name: str) -> str:
    """A set, whatever of it is asked; a note of a slot or a session is asked only where there is room."""
    place = parse(name)
    if isinstance(place, SlotNote) or (isinstance(place, SessionField) and place.part == "note"):
        return ""
    return name.rpartition("-")[0] if isinstance(place, SetField) else name


@pytest.mark.parametrize("paper", [*Paper])
def test_smaller_editions_have_the_pages_they_are_named_for(paper: Paper) -> None:
    ctx = replace(context("intermediate", paper), layout=Layout.SPREAD)
    every = {spec.name for spec in make_booklet(ctx).fields if spec.name.startswith(("w", "retest"))}
    whole = {name for name in every if not isinstance(parse(name), WeekField)}
    texts = make_booklet(replace(ctx, edition=Edition.HANDBOOK))
    assert not {s.template for s in texts.sections} & {"session", "log", "session_log", "test_lift", "week"}
    pocket = make_booklet(replace(ctx, edition=Edition.POCKET))
    log = make_booklet(replace(ctx, edition=Edition.LOG))
    assert {s.template for s in pocket.sections} <= {"cover", "session", "log", "session_log", "test_lift"}
    assert {s.template for s in log.sections} == {"log", "test_lift"}
    assert whole == {spec.name for spec in pocket.fields} == {spec.name for spec in log.fields}


@pytest.mark.parametrize("edition", [*Edition])
@pytest.mark.parametrize("name", NAMES)
def test_every_link_within_the_booklet_has_its_target(name: str, edition: Edition) -> None:
    html = render(make_booklet(replace(context(name, Paper.A5), edition=edition)))
    targets = set(re.findall(r'\bid="([^"]+)"', html))
    links = set(re.findall(r'href="#([^"]+)"', html))
    assert links <= targets


@pytest.mark.slow
@pytest.mark.parametrize("edition", [Edition.POCKET, Edition.LOG])
@pytest.mark.parametrize("paper", [Paper.A4, Paper.HALF_LETTER])
def test_smaller_editions_print_without_a_warning(edition: Edition, paper: Paper) -> None:
    one = print_booklet(replace(context("novice", paper), edition=edition))
    assert one.pressed.warnings == ()
    for section in one.booklet.sections:
        if section.code:
            facing = paper.small and section.template in ("session", "log", "test_lift")
            facing = facing and (edition is Edition.POCKET or section.template == "test_lift")
            assert len(one.pages_by_code()[section.code.split(" · ")[1]]) == (2 if facing else 1), section.code


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["A5", "A4"])
def test_the_outline_leads_from_parts_to_weeks_to_sessions(paper: str) -> None:
    one = printed("novice", paper)
    listed = [(s.level, s.title) for s in one.booklet.sections if s.listed or s.anchor in ("cover", "back")]
    assert [(entry.level, entry.title) for entry in one.pressed.outline] == listed


@pytest.mark.slow
def test_every_page_but_the_covers_and_blank_ones_says_its_number_and_the_brand() -> None:
    one = printed("novice", "A5")
    assert one.booklet.sections[-1].template == "back"
    for number, text in enumerate(one.texts[1:-1], 2):
        if text.strip():
            assert one.booklet.brand in text
            assert str(number) in text


@pytest.mark.parametrize("name", NAMES)
def test_tested_lifts_are_numbered_from_one_in_the_order_of_the_test(name: str) -> None:
    plan = context(name).plan
    numbered = in_order(plan)
    assert [tested.number for tested in numbered] == list(range(1, len(numbered) + 1))
    assert [tested.session.on for tested in numbered] == sorted(tested.session.on for tested in numbered)
    assert numbered or plan.block.block.test is None


def test_two_fields_with_one_name_are_refused() -> None:
    ctx = context("novice")
    week = ctx.plan.weeks[0]
    twice = replace(ctx.plan, weeks=(replace(week, sessions=(week.sessions[0], week.sessions[0])),))
    with pytest.raises(ValueError, match="form fields with one name"):
        make_booklet(replace(ctx, plan=twice))


def test_an_accent_too_pale_to_read_is_darkened_and_a_dark_one_kept() -> None:
    # 4.5:1 for text is success criterion 1.4.3 of WCAG 2.2; black on white is 21:1 by its own definition.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert readable("#1d5b52") == "#1d5b52"
    assert contrast("#ffcc00", "#ffffff") < 4.5 <= contrast(readable("#ffcc00"), "#ffffff")


def test_an_unknown_theme_is_an_error_that_names_the_known_ones() -> None:
    booklet = replace(make_booklet(context("novice")), theme="nowhere")
    with pytest.raises(FileNotFoundError, match="default"):
        style_sheets(booklet)
    assert "default" in themes()
    assert readable(Look().accent) == Look().accent
