"""Weeks have a kind and a date, and the days of a block fall on the days that the lifter trains."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sources_for_tests import CLIENT, block, client, plan, sources, squat

from builder.plan.calendar import Week, calendar, week_kinds
from builder.plan.calendar import test_dates as dates_of_tests
from builder.plan.model import WeekKind

RULE = squat("kind: single, reps: 5, add: 2.5 kg")
DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def _training(days: str, starts: str = "2027-01-04") -> str:
    return f"training: {{status: novice, months: 2, days: [{days}], session_minutes: 60, starts: {starts}}}\n"


def _weeks(days: str, text: str, starts: str = "2027-01-04") -> tuple[Week, ...]:
    made = sources(client(training=_training(days, starts)), text)
    assert made.client is not None and made.block is not None
    return calendar(made.client, made.block)


def _of_kind(head: str, weeks: int, kind: WeekKind) -> list[int]:
    made = sources(CLIENT, block(RULE, weeks=weeks, head=head))
    assert made.block is not None
    return [number for number, found in enumerate(week_kinds(made.block), 1) if found is kind]


def test_a_deload_every_four_of_twelve_weeks() -> None:
    """Weeks 4, 8 and 12 (arithmetic; coaches deload every 4 to 6 weeks: Bell et al. 2022)."""
    assert _of_kind("deload: {every: 4}", 12, WeekKind.DELOAD) == [4, 8, 12]


@pytest.mark.parametrize(
    ("head", "deloads", "tests"),
    [
        ("deload: {weeks: [3, 7]}", [3, 7], []),
        ("deload: {every: 5, weeks: [3]}", [3, 5, 10], []),
        ("deload: {before_test: true}, test: {week: 12, lifts: [back squat]}", [11], [12]),
        ("deload: {every: 4}, test: {week: 12, lifts: [back squat]}", [4, 8], [12]),
        ("deload: {every: 4, before_test: true}, test: {week: 12, lifts: [back squat]}", [4, 8, 11], [12]),
        ("deload: {before_test: true}", [], []),
        ("deload: {before_test: true}, test: {week: 1, lifts: [back squat]}", [], [1]),
        ("test: {week: 10, lifts: [back squat]}", [], [10]),
        ("", [], []),
    ],
)
def test_deloads_by_cadence_by_name_and_before_a_test(head: str, deloads: list[int], tests: list[int]) -> None:
    """A test week is a test even when a deload falls on it."""
    assert _of_kind(head, 12, WeekKind.DELOAD) == deloads
    assert _of_kind(head, 12, WeekKind.TEST) == tests


@given(st.integers(2, 16), st.integers(1, 52))
def test_every_nth_week_is_a_deload(every: int, weeks: int) -> None:
    """And no other."""
    assert _of_kind(f"deload: {{every: {every}}}", weeks, WeekKind.DELOAD) == [
        n for n in range(1, weeks + 1) if n % every == 0
    ]


def test_weeks_begin_on_the_starting_day_and_follow_each_other() -> None:
    """Also when the block starts on a Wednesday; its first session is then on that Wednesday."""
    weeks = _weeks("mon, wed", block(RULE, weeks=3), "2027-01-06")
    assert [w.starts for w in weeks] == [date(2027, 1, 6) + timedelta(weeks=i) for i in range(3)]
    assert [w.days for w in weeks] == [((0, w.starts),) for w in weeks]
    assert weeks[0].dates == (date(2027, 1, 6), date(2027, 1, 11))


@given(st.sets(st.sampled_from(DAYS), min_size=1), st.dates(date(2000, 1, 1), date(2100, 1, 1)))
def test_sessions_fall_only_on_training_days_within_their_week(days: set[str], starts: date) -> None:
    """In rising order, whatever the order in which the days are written."""
    for week in _weeks(", ".join(sorted(days)), block(RULE, weeks=2), starts.isoformat()):
        assert len(week.dates) == len(days)
        assert list(week.dates) == sorted(week.dates)
        assert all(week.starts <= on < week.starts + timedelta(weeks=1) for on in week.dates)
        assert {DAYS[on.weekday()] for on in week.dates} == days


def _three_days(head: str = "", first_weeks: str = "") -> str:
    more = "".join(f"  - title: {title}\n    slots: [{{{RULE}}}]\n" for title in ("B", "C"))
    text = block(RULE, weeks=3, head=head, after=more)
    return text.replace("    slots:\n", f"    weeks: {first_weeks}\n    slots:\n", 1) if first_weeks else text


def test_fewer_days_than_dates_leave_the_last_dates_free() -> None:
    """Three days of a block on four training days."""
    assert [i for i, _ in _weeks("mon, tue, thu, sat", _three_days())[0].days] == [0, 1, 2]


def test_a_day_only_in_some_weeks_makes_room() -> None:
    """The first day is there in week 2 alone."""
    weeks = _weeks("mon, wed, fri", _three_days(first_weeks="2"))
    assert [[i for i, _ in w.days] for w in weeks] == [[1, 2], [0, 1, 2], [1, 2]]
    assert weeks[0].days[0][1] == date(2027, 1, 4)


def test_a_rolling_block_goes_through_its_days_in_turn() -> None:
    """Three days on two dates a week: AB, CA, BC."""
    weeks = _weeks("tue, fri", _three_days("rolling: true"))
    assert [[i for i, _ in w.days] for w in weeks] == [[0, 1], [2, 0], [1, 2]]


def test_a_rolling_block_waits_while_a_test_week_passes() -> None:
    """The test week has no days of the block, and the turn goes on after it."""
    weeks = _weeks("tue, fri", _three_days("rolling: true, test: {week: 2, lifts: [back squat]}"))
    assert [[i for i, _ in w.days] for w in weeks] == [[0, 1], [], [2, 0]]


def test_phases_name_their_weeks() -> None:
    """A week outside every phase has none."""
    weeks = _weeks("mon", block(RULE, weeks=4, head="phases: [{title: Base, weeks: 1-2}, {title: Peak, weeks: 4}]"))
    assert [w.phase for w in weeks] == ["Base", "Base", None, "Peak"]


@given(st.integers(1, 7), st.integers(1, 7))
def test_tests_end_with_the_last_training_day_and_keep_apart(have: int, want: int) -> None:
    """As many different dates as there can be, in order, the last one among them."""
    dates = tuple(date(2027, 1, 4) + timedelta(d) for d in range(have))
    found = dates_of_tests(dates, want)
    assert len(set(found)) == len(found) == min(have, want)
    assert list(found) == sorted(found)
    assert found[-1] == dates[-1]


def test_one_test_is_on_the_last_day_after_rest() -> None:
    """Of Monday, Wednesday and Friday it is Friday."""
    made = plan(CLIENT, block(RULE, weeks=2, head="test: {week: 2, lifts: [back squat]}"))
    assert [s.on for s in made.weeks[1].sessions] == [date(2027, 1, 15)]
    assert made.weeks[1].kind is WeekKind.TEST
