"""Figures that were once printed and were wrong, each test named by its figure; the others stand with their rooms.

An opener of 187.5, attempts on 16.9 kg, 30 kg dumbbells after 12, a start of 200 on a max of 120 and a rep test below
the last weeks: `test_outlook`, `test_testday`. Loads by feel past fifteen reps, and a rung missed where the target is
exactly loadable: `test_exact_targets`. A holiday that took the progress away: `test_pauses`. A deload as heavy as the
week before, and 0.25 kg on a belt: `test_taper`. Ramps longer than the work: `test_ramps`. A walkout with the cues of a
squat: `test_drills`. Marks that fall as planned: `test_milestones`. Brackets without their load: `test_prescribe`.
"""

from __future__ import annotations

import pytest
from pages.sample_pages import NAMES, context
from sources_for_tests import CLIENT, block, plan, slot_in

from builder.pages.reasons import reason_sentence
from builder.plan import WeekKind

CALVES = (
    "movement: single-leg calf raise, progression: {kind: double, sets: 3, reps: 9-14, rir: 2, start: 16 kg, add: 2 kg}"
)
BELLS = "format: 1\ngym: {dumbbells: {from: 2, to: 40, step: 2}}\n"


def test_calf_raises_with_7_in_reserve() -> None:
    """A first load of the coach's own and no test: no reserve is printed, and no sentence claims one for today."""
    first = slot_in(plan(CLIENT, BELLS, block(CALVES, weeks=1)), 1).work[0]
    assert (first.reps, first.left, first.reserve) == (9, None, None)
    told = [reason_sentence(context("intermediate").words, reason) for reason in first.why]
    assert "9 reps today, from 9 rising to 14; at 14 the aim is 2 in reserve." in told
    assert not any("7 in reserve" in sentence for sentence in told)


@pytest.mark.parametrize("name", NAMES)
def test_346_marks_of_which_131_fall_by_doing_as_planned(name: str) -> None:
    """In a sample a mark that the plan reaches is a milestone, and no deload or taper carries one."""
    marked = [
        (week.kind, slot.sets, one)
        for week in context(name).plan.weeks
        for session in week.sessions
        for slot in session.slots
        for one in slot.sets
        if one.mark is not None
    ]
    assert marked
    for kind, sets, one in marked:
        assert kind is WeekKind.TRAINING and sum(each.mark is not None for each in sets) == 1
        assert one.mark is not None and one.milestone == (one.mark.reps <= one.reps)


