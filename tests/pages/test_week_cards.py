"""The cards of a week's opener: every working set of the week stands there, and none more."""

from __future__ import annotations

import re

import pytest
from pages.sample_pages import context

from builder.pages.weeks import _sets
from builder.plan import WeekKind


@pytest.mark.parametrize("name", ["novice", "intermediate", "advanced"])
def test_every_working_set_of_a_week_is_counted_on_its_cards(name: str) -> None:
    """Back-off sets and the open last set too, which have lines of their own on the session's page."""
    ctx = context(name)
    for week in ctx.plan.weeks:
        if week.kind is not WeekKind.TEST:
            for slot in (slot for session in week.sessions for slot in session.slots):
                told = re.findall(r"(?:^|\+\s)(\d+)\s×", _sets(slot, ctx.words))
                assert sum(map(int, told)) == len(slot.work)
