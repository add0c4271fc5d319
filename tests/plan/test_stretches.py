"""A block that is planned anew half-way: what is known by then counts, and what was planned before stays."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from sources_for_tests import GYM, block, client, codes, first_slots, loads, plan, squat

from builder.plan import Plan, PlannedSlot

TRAINED = "training: {{status: intermediate, months: 24, days: [mon], session_minutes: 90, starts: 2027-01-04{0}}}\n"
LIFTS = """lifts:
  back squat: {tests: [{date: 2026-12-19, load: 200, reps: 1}, {date: 2027-01-30, load: 180, reps: 1}]}
  bench press: {tests: [{date: 2026-12-19, load: 100, reps: 1}]}
"""
SINGLE = squat("kind: single, reps: 5, rir: 1, add: 5 kg")


def made(resumes: str, *slots: str, weeks: int = 4, head: str = "", **parts: str) -> Plan:
    resumed = f", resumes: [{resumes}]" if resumes else ""
    return plan(client(training=TRAINED.format(resumed), lifts=LIFTS, **parts), block(*slots, weeks=weeks, head=head))


def test_weeks_before_stay_and_weeks_after_start_from_the_newest_test() -> None:
    """6 to failure is 85 % (Haff & Triplett 2016, table 17.7): of 200 kg 170, and 175; then of 180 kg 153, and 158."""
    assert loads(made("{week: 3}", SINGLE)) == ["170", "175", "152.5", "157.5"]


def test_without_an_interruption_the_newest_test_counts_for_all() -> None:
    assert loads(made("", SINGLE)) == ["152.5", "157.5", "162.5", "167.5"]


def test_a_pause_moves_the_days_and_keeps_the_numbers_of_the_weeks() -> None:
    weeks = made("{week: 3, on: 2027-02-01}", SINGLE).weeks
    assert [(week.number, week.starts) for week in weeks] == [
        (1, date(2027, 1, 4)), (2, date(2027, 1, 11)), (3, date(2027, 2, 1)), (4, date(2027, 2, 8))
    ]  # fmt: skip
    assert weeks[2].sessions[0].on == date(2027, 2, 1)


def test_after_a_pause_a_share_of_the_working_max_can_be_taken() -> None:
    """90 % of 180 kg are 162 kg, and 85 % of these 137.7 kg."""
    assert loads(made("{week: 3, share: 90 %}", SINGLE))[2] == "137.5"


def test_a_given_first_load_goes_on_rising() -> None:
    """Nothing in it comes from the max, so that a new max says nothing about it."""
    assert loads(made("{week: 3}", squat("kind: single, reps: 5, start: 100 kg, add: 5 kg"))) == [
        "100", "105", "110", "115"
    ]  # fmt: skip


def test_a_wave_goes_on_in_its_place_from_the_new_max() -> None:
    """Heavy comes after light as before: 80 % of 200 kg in week 2, 70 % of 180 kg in week 3, 80 % of it in week 4."""
    wave = "kind: wave, weeks: [{share: 70 %, sets: 3, reps: 5}, {share: 80 %, sets: 3, reps: 3}]"
    assert loads(made("{week: 3}", squat(wave))) == ["140", "160", "125", "145"]


def test_attempts_look_at_what_is_trained_last() -> None:
    """The old weeks' sets are worth more than the lifter is now: the opener is 91 % of what both tests say."""
    plan_ = made("{week: 3}", SINGLE, weeks=4, head="test: {week: 4, lifts: [back squat]}")
    (slot,) = plan_.weeks[3].sessions[0].slots
    assert slot.attempts is not None
    assert slot.attempts.opener.mass <= Decimal("172.5")


def limited(since: str, resumes: str) -> list[PlannedSlot]:
    limits = f"limits: [{{area: knee, avoid: [back squat], instead: {{back squat: bench press}}, since: {since}}}]\n"
    return first_slots(made(resumes, SINGLE, gym=GYM + limits))


def test_a_limit_counts_from_the_stretch_in_which_it_is_known() -> None:
    assert [slot.movement for slot in limited("2027-01-12", "{week: 3}")] == [
        "back squat", "back squat", "bench press", "bench press"
    ]  # fmt: skip
    assert {slot.movement for slot in limited("2026-06-01", "{week: 3}")} == {"bench press"}


@pytest.mark.parametrize(
    ("resumes", "code"),
    [
        ("{week: 5}", "resume-week"),
        ("{week: 3}, {week: 2}", "resume-week"),
        ("{week: 3, on: 2027-01-11}", "resume-day"),
        ("{week: 3, on: 2027-02-02}", "resume-day"),
        ("{week: 1}", "out-of-range"),
    ],
)
def test_an_impossible_resumption_is_a_problem(resumes: str, code: str) -> None:
    texts = client(training=TRAINED.format(f", resumes: [{resumes}]"), lifts=LIFTS), block(SINGLE)
    assert code in codes(*texts)
