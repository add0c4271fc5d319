"""Milestones come at or near a record, as often as the training age bears (common practice, no source)."""

import pytest
from sources_for_tests import LIFTS, TRAINING, block, client, first_slots, plan, squat

from builder.plan import Plan

HEAVY = squat("kind: single, sets: 2, reps: 5, rir: 1, add: 2.5 kg", beyond="allow")
"""170 x 5 with one left is worth the whole max, and more each week."""


def _made(status: str, slot: str = HEAVY, head: str = "", weeks: int = 8, lifts: str = LIFTS) -> Plan:
    training = TRAINING.replace("intermediate", status)
    return plan(client(training=training, lifts=lifts), block(slot, weeks=weeks, head=head))


def _weeks(made: Plan) -> list[int]:
    return [session.week for session in made.sessions() if session.milestone]


@pytest.mark.parametrize(
    ("status", "weeks"),
    [("novice", [1, 2, 3, 4, 5, 6, 7, 8]), ("intermediate", [1, 3, 5, 7]), ("advanced", [1, 3, 5, 7])],
)
def test_milestones_come_as_often_as_the_training_age_bears(status: str, weeks: list[int]) -> None:
    """A novice nearly every session, others every second week."""
    assert _weeks(_made(status)) == weeks


def test_the_block_may_space_them_otherwise() -> None:
    """By weeks or by exposures."""
    assert _weeks(_made("novice", head="milestones: 3 weeks")) == [1, 4, 7]
    assert _weeks(_made("advanced", head="milestones: 1 week")) == [1, 2, 3, 4, 5, 6, 7, 8]
    assert _weeks(_made("advanced", head="milestones: 4 exposures")) == [1, 5]


def test_one_set_of_a_session_is_the_milestone() -> None:
    """The first that is worth it."""
    for slot in first_slots(_made("novice")):
        assert [s.milestone for s in slot.work] == [True, False]


def test_a_light_set_is_no_milestone() -> None:
    """5 reps with 4 left at 77 % of the max are near it by effort, but 100 kg is far from anything."""
    assert _weeks(_made("novice", squat("kind: single, reps: 5, start: 100 kg, add: 2.5 kg"))) == []


def test_what_has_been_done_already_is_no_milestone() -> None:
    """With 180 x 6 on record, 170 to 180 for five beat nothing; 182.5 does, in the sixth week."""
    lifts = LIFTS.replace("reps: 1}]}", "reps: 1}], records: [{load: 180, reps: 6}]}", 1)
    assert _weeks(_made("novice", lifts=lifts)) == [6, 7, 8]


def test_the_same_set_twice_is_a_milestone_once() -> None:
    """The second time it only repeats what was planned before."""
    assert _weeks(_made("novice", squat("kind: step, reps: 5, rir: 1, hold: 4, add: 5 kg"))) == [1, 5]


def test_deloads_hold_no_milestones() -> None:
    """And the next one comes after the deload."""
    assert _weeks(_made("novice", head="deload: {weeks: [2, 5]}")) == [1, 3, 4, 6, 7, 8]


def test_light_days_and_variants_hold_none() -> None:
    """A light entry of a wave, and a lift that is only estimated."""
    heavy, light = (f"{{share: {s} %, sets: 2, reps: 5, stress: {w}}}" for s, w in ((88, "heavy"), (89, "light")))
    wave = f"kind: wave, weeks: [{heavy}, {light}]"
    assert _weeks(_made("novice", squat(wave), weeks=2)) == [1]
    assert _weeks(_made("novice", f"movement: front squat, progression: {{{HEAVY.split('{', 1)[1]}", weeks=2)) == []
