"""Reps stay in reserve as the weeks rise, for whom failure is no option: the load is held, or the reps of the body."""

from __future__ import annotations

from decimal import Decimal

import pytest
from sources_for_tests import GYM, IDENTITY, block, client, fact, plan, slot_in, squat, steps

from builder.pages.explain import plan_json
from builder.plan import Plan, PlannedSet
from builder.work.texts import load_words

WHO = {
    "minor": {"client": IDENTITY.replace("born: 1990", "born: 2012")},
    "clinician": {"screening": "screening: {answered: 2027-01-01, clinician_advised: true}\n"},
    "no-safeties": {"gym": GYM.replace("safeties: true", "safeties: false")},
}
RISING = squat("kind: single, reps: 5, rir: 2, start: 160 kg, add: 7.5 kg")
"""160, 167.5, 175, 182.5: of a max of 200 five reps are 87 %, six 85 %, seven 83 % (Haff & Triplett 2016, 17.7)."""


def _tops(made: Plan) -> list[PlannedSet]:
    return [slot_in(made, week).work[0] for week in (1, 2, 3, 4)]


def test_an_adult_with_safeties_comes_to_the_last_rep() -> None:
    left = [one.reserve.exact for one in _tops(plan(client(), block(RISING))) if one.reserve]
    assert left[0] > 2 and left[3] < Decimal("0.6")


@pytest.mark.parametrize(("code", "left"), [("minor", 1), ("clinician", 1), ("no-safeties", 2)])
def test_the_load_is_held_where_reps_are_likely_to_stay(code: str, left: int) -> None:
    """By what is expected of the day, with the two numbers in a sentence and the mark of a held load in the data."""
    made = plan(client(**WHO[code]), block(RISING))
    tops = _tops(made)
    assert all(one.reserve is not None and one.reserve.exact >= left for one in tops)
    assert not tops[0].eased and tops[3].eased and tops[3].held
    assert fact(tops[3], "held-easier", "left") == left
    told = plan_json(made, load_words("en", made.unit))["weeks"][3]["sessions"][0]["slots"][0]["sets"][-1]
    assert told["held"] is True
    assert f"likely to leave less than {left} in reserve" in told["why"][-1]["text"]
    (note,) = slot_in(made, 4).notes
    assert (note.step, dict(note.facts)["left"]) == ("held-at", left + 1)


def test_a_supervised_minor_is_held_to_reach_alone() -> None:
    """The person who is named answers for it."""
    supervised = IDENTITY.replace("born: 1990", "born: 2012, supervisor: Dr Ash")
    assert not any(one.eased for one in _tops(plan(client(client=supervised), block(RISING))))


def test_in_a_range_fewer_reps_come_first() -> None:
    """The load stays as long as the range reaches down."""
    rule = squat("kind: double, reps: 4-8, rir: 2, start: 160 kg, add: 2.5 kg")
    made = plan(client(**WHO["minor"]), block(rule, weeks=9))
    work = [one for week in range(1, 10) for one in slot_in(made, week).work]
    assert any("held-easier-reps" in steps(one) for one in work)
    assert all(one.reserve is None or one.reserve.exact >= 1 for one in work)


def test_of_the_body_alone_reps_fall() -> None:
    """80 kg of body and a max of 92: ten are 75 %, so that the body (87 %) is done five times and not eight."""
    lifts = "lifts: {pull-up: {tests: [{date: 2026-12-19, load: 12, reps: 1}]}}\n"
    rule = "movement: pull-up, progression: {kind: single, reps: 8, rir: 1, start: 0 kg, add: 1 kg}"
    adult, minor = (slot_in(plan(client(lifts=lifts, **who), block(rule)), 1).work[0] for who in ({}, WHO["minor"]))
    assert minor.rung is not None and minor.rung.mass == 0 and minor.reserve is not None
    assert (adult.reps, minor.reserve.exact >= 1) == (8, True)
    assert minor.reps in (3, 4)


@pytest.mark.parametrize("reps", ["1", "5", "3-8"])
def test_who_hardly_lifts_the_body_once_does_no_more_than_that(reps: str) -> None:
    """80 kg of body and a max of 81: nothing lighter is there, and no number of reps leaves one."""
    lifts = "lifts: {pull-up: {tests: [{date: 2026-12-19, load: 1, reps: 1}]}}\n"
    kind = "double" if "-" in reps else "single"
    rule = f"movement: pull-up, progression: {{kind: {kind}, reps: {reps}, rir: 1, start: 0 kg, add: 1 kg}}"
    first = slot_in(plan(client(lifts=lifts, **WHO["minor"]), block(rule)), 1).work[0]
    assert first.rung is not None and (first.rung.mass, first.reps) == (0, 1)


def test_a_test_of_reps_leaves_a_rep_after_weeks_that_rose() -> None:
    """No lighter than what was trained, which kept a rep itself."""
    head = "test: {week: 4, lifts: [back squat]}"
    (test,) = plan(client(**WHO["clinician"]), block(RISING, head=head)).weeks[-1].sessions[0].slots
    assert test.kind == "rep_test"
    work = [one for one in test.work if one.reserve is not None]
    assert work and all(one.reserve.exact >= 1 for one in work if one.reserve)
