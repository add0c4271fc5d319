"""Titles take the larger letters where these have room, else two lines, and lose words only where even these end."""

from __future__ import annotations

from dataclasses import replace

import pytest
from pages.sample_pages import context

from builder.pages.faces import SHIPPED
from builder.pages.model import Paper
from builder.pages.names import RUNNING, running_head
from builder.pages.sheet import sheet
from builder.pages.theme import DEFAULT, Theme, theme
from builder.pages.titles import LINES, TitleRoom, on_cover, on_log, on_page, on_plan
from builder.pages.widths import shortened

LONGEST = " ".join(["Bench press, heavy and light in turn, then rows, ropes, sleds, bags and a walk"] * 3)
THEMES = (DEFAULT, theme("large-print"))


def rooms(paper: Paper, look: Theme) -> tuple[TitleRoom, ...]:
    page = sheet(paper, look)
    return on_plan(page), on_log(page), on_page(page, 54.0), on_page(page, 54.0, tinted=True)


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("look", THEMES, ids=lambda look: look.name)
def test_a_title_grows_word_by_word_from_a_large_line_to_two_small_ones(paper: Paper, look: Theme) -> None:
    words = LONGEST.split()
    for room in rooms(paper, look):
        titles = [" ".join(words[:count]) for count in range(1, len(words) + 1)]
        found = [room.fitted(SHIPPED.bold, title) for title in titles]
        long = [one.long for one in found]
        assert long == sorted(long)
        assert long[0] is False
        assert long[-1] is True
        assert all(SHIPPED.bold.width(one.text, room.points) <= room.room for one in found if not one.long)
        lines = [SHIPPED.bold.lines(one.text, room.long, room.long_room) for one in found if one.long]
        assert max(lines) == LINES
        uncut = [one.text == title for one, title in zip(found, titles, strict=True)]
        assert uncut == sorted(uncut, reverse=True)


def test_a_text_is_cut_at_words_and_a_word_by_itself_at_letters() -> None:
    assert list(shortened("Big day out")) == ["Big day out", "Big day …", "Big …", "Bi…", "B…", "…"]


def test_a_title_of_one_endless_word_is_cut_too() -> None:
    room = on_page(sheet(Paper.A5), 54.0)
    found = room.fitted(SHIPPED.bold, "W" * 120)
    assert found.long
    assert found.text.endswith("W…")


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("look", THEMES, ids=lambda look: look.name)
def test_a_running_head_takes_one_line_whatever_the_title(paper: Paper, look: Theme) -> None:
    ctx, page = context("novice"), sheet(paper, look)
    session = replace(ctx.plan.sessions()[0], title=LONGEST)
    head = running_head(session, ctx.words, page.width)
    assert SHIPPED.semibold.width(head, RUNNING) <= page.width
    assert head.endswith(" …")
    assert running_head(replace(session, title="Pull"), ctx.words, page.width).endswith("Pull")


@pytest.mark.parametrize("paper", Paper)
def test_a_cover_has_two_large_lines_and_breaks_no_word(paper: Paper) -> None:
    room = on_cover(sheet(paper))
    assert room.roomy(SHIPPED.bold, "Twelve weeks to a squat")
    assert not room.roomy(SHIPPED.bold, "Twelve weeks to a squat that you would show to everybody you know")
    assert not room.roomy(SHIPPED.bold, "Donaudampfschifffahrt")
