"""How to read a session: a lift of the booklet by the template of its sessions, and the signs that it uses."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from pages.sample_pages import NAMES, context, html

from builder.pages.guide import GuidePage, guide_section
from builder.pages.lifts import lift
from builder.pages.model import Layout, Paper
from builder.pages.onepage import OnePage
from builder.pages.sessions import session_sections
from builder.pages.sheet import Density
from builder.pages.signs import ORDER, used_signs
from builder.words import Words
from builder.work.texts import load_words


def guide(name: str, paper: Paper = Paper.A5, layout: Layout = Layout.PAGE) -> tuple[GuidePage, str]:
    section = guide_section(replace(context(name, paper), layout=layout))
    assert section is not None
    assert isinstance(section.data, GuidePage)
    return section.data, html(section, paper)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("paper", [Paper.A5, Paper.A4])
def test_the_example_is_a_lift_of_the_booklet_as_its_session_prints_it(name: str, paper: Paper) -> None:
    ctx = context(name, paper)
    page, told = guide(name, paper)
    assert page.specimen is not None
    shown = [
        lift(ctx, session, number, Density.SNUG)
        for session in ctx.plan.sessions()
        for number, slot in enumerate(session.slots, 1)
        if slot.attempts is None
    ]
    mine = replace(page.specimen.lift, name_mm=0)
    assert mine in [replace(one, name_mm=0) for one in shown]
    assert "data-field" not in told, "the example has no fields of its own"


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("paper", [Paper.A5, Paper.A4])
def test_every_call_out_stands_once_on_the_example_and_once_in_the_legend(name: str, paper: Paper) -> None:
    page, told = guide(name, paper)
    numbers = [str(spot.number) for spot in page.spots if spot.code != "bracket"]
    assert sorted(re.findall(r'<span class="call">(\d+)</span>', told)) == sorted(numbers)
    legend = re.findall(r'<span class="m-callout">(\d+)</span>', told)
    assert legend == [str(spot.number) for spot in page.spots]


@pytest.mark.parametrize("name", NAMES)
def test_the_signs_are_those_of_the_sessions_and_no_others(name: str) -> None:
    """Told by the printed words of every session, and not by the plan from which the list is made."""
    ctx = context(name, Paper.A4)
    pages = [
        section
        for week in ctx.plan.weeks
        for session in week.sessions
        for section in session_sections(ctx, week, session)
        if isinstance(section.data, OnePage)
    ]
    text = " ".join(html(section, Paper.A4) for section in pages).replace("\N{NO-BREAK SPACE}", " ")
    listed = {sign for sign, _ in used_signs(ctx)}
    for sign in ("◆", "≈", "→", "▲", "○", "↕", "↔"):
        assert (sign in listed) == (sign in text.replace("leaves ≈", "")), sign
    for word, printed in (("superset A", "superset"), ("tempo", "tempo "), ("one rep", "one rep")):
        assert (word in listed) == (printed in text), word


def test_signs_are_in_one_order_and_have_words_in_every_language() -> None:
    for language in ("en", "de"):
        words: Words = load_words(language, context("novice").plan.unit)
        assert all(words.has(f"guide.sign.{code}") for code in ORDER)


def test_with_room_the_guide_takes_its_line_apart_as_before() -> None:
    page, told = guide("advanced", layout=Layout.SPREAD)
    assert page.specimen is None
    assert "m-spot-value" in told
