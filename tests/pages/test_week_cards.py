"""The cards of a week's opener: every working set of the week stands there, and none more."""

from __future__ import annotations

import re

import pytest
from pages.sample_pages import context

from builder.pages.weeks import WeekPage, _sets, week_sections
from builder.plan import WeekKind


@pytest.mark.parametrize("name", ["novice", "intermediate", "advanced"])
def test_every_working_set_of_a_week_is_counted_on_its_cards(name: str) -> None:
    """Back-off sets and the open last set too, which have lines of their own on the session's page."""
    ctx = context(name)
    for week in ctx.plan.weeks:
        if week.kind is not WeekKind.TEST:
            for slot in (slot for session in week.sessions for slot in session.slots):
                counts = [re.match(r"(\d+)\s×", run) for run in re.split(r"\s\+\s", _sets(slot, ctx.words))]
                # One piece of conditioning is told without a count: "8 min".
                assert sum(int(count[1]) if count else 1 for count in counts) == len(slot.work)


def _told(name: str, week: int) -> str:
    page = week_sections(context(name), week - 1)[-1].data
    assert isinstance(page, WeekPage)
    return page.early


def test_only_before_another_full_week_a_lighter_one_is_offered() -> None:
    """Week 5 of the intermediate sample is a deload, 9 a taper, 10 the test; its deload has 55 % of the sets."""
    assert [week for week in range(1, 11) if _told("intermediate", week)] == [1, 2, 3, 6, 7]
    assert "55 % of the sets at 92 % of the loads" in _told("intermediate", 1).replace("\N{NARROW NO-BREAK SPACE}", " ")
