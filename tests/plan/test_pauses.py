"""A pause keeps the progress: weeks move or thin, the first week back is lighter, and a renewal has to be asked for."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from sources_for_tests import block, client, codes, first_slots, loads, plan, squat, steps

from builder.plan import Plan
from builder.review.checks_recovery import untested_lift
from builder.training.curve import curve_of
from builder.training.estimate import Equation
from builder.training.expected import Expected, reserve
from builder.training.reentry import first_week_cut, load_share, weeks_back
from builder.values.quantity import WithBody

TRAINED = (
    "training: {{status: intermediate, months: 24, days: [mon, wed, fri], "
    "session_minutes: 90, starts: 2027-01-04{0}}}\n"
)
LIFTS = """lifts:
  back squat: {tests: [{date: 2026-12-19, load: 200, reps: 1}, {date: 2027-01-30, load: 210, reps: 1}]}
"""
ONCE = "lifts: {back squat: {tests: [{date: 2026-12-19, load: 200, reps: 1}]}}\n"
FIVES = squat("kind: single, reps: 5, start: 50 %, add: 5 kg")


def made(training: str, *slots: str, weeks: int = 6, head: str = "", lifts: str = LIFTS) -> Plan:
    return plan(client(training=TRAINED.format(training), lifts=lifts), block(*slots, weeks=weeks, head=head))


def days(plan_: Plan) -> list[list[str]]:
    return [[session.on.isoformat()[5:] for session in week.sessions] for week in plan_.weeks]


class TestProgress:
    """What was won stays won."""

    def test_after_a_pause_the_load_goes_on_from_where_it_was(self) -> None:
        """100, 105, 110; a fortnight's pause, 95 % of 115 is 109.25, so 107.5; then 120 as planned."""
        found = made(", resumes: [{week: 4, on: 2027-02-08}]", FIVES)
        assert loads(found) == ["100", "105", "110", "107.5", "120", "125"]
        assert [week.starts.isoformat()[5:] for week in found.weeks][2:4] == ["01-18", "02-08"]

    def test_a_renewal_is_asked_for(self) -> None:
        """The test of 210 kg in the pause: 50 % of it, from the beginning."""
        found = made(", resumes: [{week: 4, on: 2027-02-08, renew: true}]", FIVES)
        assert loads(found) == ["100", "105", "110", "105", "110", "115"]

    def test_renewed_without_a_new_test_a_lift_goes_on_where_it_was(self) -> None:
        """Week 3 begins before the test of 210 kg: nothing is new, so nothing begins anew."""
        assert loads(made(", resumes: [{week: 3}, {week: 5, renew: false}]", FIVES)) == loads(
            made(", resumes: [{week: 5, renew: false}]", FIVES)
        )

    def test_with_a_log_and_no_test_the_squats_go_on_from_where_they_were(self) -> None:
        """174 x 5 was done in week 5: week 6 does not fall back to the load of week 1."""
        done = ONCE.replace("}]}}", "}], records: [{date: 2027-02-03, load: 174, reps: 5}]}}")
        assert loads(made(", resumes: [{week: 6}]", FIVES, lifts=done)) == ["100", "105", "110", "115", "120", "125"]

    def test_the_coachs_own_share_stands_alone(self) -> None:
        """All of it, and no cut; or 90 % of the working max from then on, with what was added so far."""
        whole = made(", resumes: [{week: 4, on: 2027-02-08, share: 100 %}]", FIVES)
        assert loads(whole) == ["100", "105", "110", "115", "120", "125"]
        part = made(", resumes: [{week: 4, on: 2027-02-08, share: 90 %}]", FIVES)
        assert loads(part)[3:] == ["105", "110", "115"]


class TestReentry:
    """The first week back (the cut a week is common practice, the loss: `variation.LOST_SOURCE`)."""

    @pytest.mark.parametrize(
        ("days_", "cut", "weeks"),
        [(6, "0", 0), (7, "0.025", 1), (14, "0.05", 1), (28, "0.12", 2), (49, "0.15", 4), (77, "0.195", 6)],
    )
    def test_the_cut_grows_with_the_pause_and_is_made_up_in_half_of_it(self, days_: int, cut: str, weeks: int) -> None:
        """Ten weeks' loss was back after five (Halonen et al. 2024): half of the time, rounded up."""
        assert (first_week_cut(days_), weeks_back(days_)) == (Decimal(cut), weeks)

    def test_the_cut_shrinks_evenly(self) -> None:
        """12 % after four weeks away, half of it a week later, nothing after two."""
        assert [load_share(28, week) for week in range(4)] == [Decimal(s) for s in ("0.88", "0.94", "1", "1")]

    def test_every_set_says_so_and_decides_nothing(self) -> None:
        """A reason, no table of what comes next, no record."""
        slot = made(", resumes: [{week: 4, on: 2027-02-08}]", FIVES).weeks[3].sessions[0].slots[0]
        assert "re-entry-load" in steps(slot.work[0])
        assert slot.outcomes == () and not any(s.mark or s.milestone for s in slot.work)

    def test_the_plan_tells_the_pause(self) -> None:
        """Which week, how long, how much, and when the load is back."""
        notes = made(", resumes: [{week: 4, on: 2027-02-08}]", FIVES).notes
        assert [note.step for note in notes] == ["paused", "re-entry"]
        assert dict(notes[1].facts) == {"week": 4, "days": 14, "load_share": Decimal("0.95"), "back": 5}


class TestExpected:
    """What the pause is likely to have cost shows in what is expected of the lifter (`variation.LOST_SOURCE`)."""

    SEVEN_WEEKS = ", resumes: [{week: 4, on: 2027-03-15}]"

    def test_seven_weeks_cost_five_percent_which_four_bring_back(self) -> None:
        """1 - 0.05, then a quarter of it back each week (Halonen et al. 2024); only trained weeks count."""
        whole, broken = (_expected(made(more, FIVES, weeks=8, lifts=ONCE)) for more in ("", self.SEVEN_WEEKS))
        shares = [float(after.about / before.about) for before, after in zip(whole, broken, strict=True)]
        assert shares == pytest.approx([1, 1, 1, 0.95, 0.9625, 0.975, 0.9875, 1], abs=0.001)

    def test_it_is_less_sure_what_is_left(self) -> None:
        """The likely range gets wider in the pause, more than training weeks alone make it; the heavy end is lower."""
        ranges = [_expected(made(more, FIVES, lifts=ONCE))[3] for more in ("", self.SEVEN_WEEKS)]
        before, after = (float(one.high / one.low) for one in ranges)
        assert after - before > 0.05
        assert ranges[1].high < ranges[0].high

    def test_the_printed_reserve_is_what_the_load_leaves_after_it(self) -> None:
        """15 % less than 115: 97.5, which leaves what 97.5 leave of a max that is 5 % lower."""
        slot = made(self.SEVEN_WEEKS, FIVES, lifts=ONCE).weeks[3].sessions[0].slots[0]
        work, belief = slot.work[0], slot.belief
        assert work.rung is not None and belief is not None and slot.expected is not None
        assert work.reserve == reserve(belief, curve_of(Equation.TABLE), WithBody(work.rung.mass), 5)
        assert Decimal(189) < slot.expected.about < Decimal(195)

    def test_a_pause_counts_once_and_whatever_the_load_does(self) -> None:
        """A holiday within weeks that begin late; and a share of the coach's own for the load is none for strength."""
        twice = ", away: [2027-01-25 to 2027-02-14]" + self.SEVEN_WEEKS
        own = self.SEVEN_WEEKS.replace("}]", ", share: 90 %}]")
        plain = _expected(made(self.SEVEN_WEEKS, FIVES, lifts=ONCE))[3].about
        assert [_expected(made(more, FIVES, lifts=ONCE))[3].about for more in (twice, own)] == [plain, plain]


def _expected(plan_: Plan) -> list[Expected]:
    """What is expected of the first lift, session by session."""
    return [found for slot in first_slots(plan_) if (found := slot.expected) is not None]


class TestAway:
    """Holidays in the profile."""

    def test_a_week_that_is_mostly_away_waits_and_the_progress_with_it(self) -> None:
        """Week 3 would begin on 18 January. 2.5 % less of 110 is 107.25: 105."""
        found = made(", away: [2027-01-18 to 2027-01-24]", FIVES, lifts=ONCE)
        assert [week.starts for week in found.weeks][1:4] == [date(2027, 1, 11), date(2027, 1, 25), date(2027, 2, 1)]
        assert loads(found)[:4] == ["100", "105", "105", "115"]
        assert [note.step for note in found.notes] == ["away", "re-entry"]

    def test_a_block_that_thins_keeps_its_calendar(self) -> None:
        """Week 3 has no session, and week 4 the load that week 3 would have had."""
        found = made(", away: [2027-01-18 to 2027-01-24]", FIVES, head="away: thin", lifts=ONCE)
        assert [week.starts.day for week in found.weeks][:4] == [4, 11, 18, 25]
        assert [len(week.sessions) for week in found.weeks][:4] == [1, 1, 0, 1]
        assert loads(found)[:4] == ["100", "105", "105", "115"]

    def test_a_test_week_that_is_away_as_a_whole_tests_nothing_and_the_review_says_so(self) -> None:
        head = "away: thin, test: {week: 4, lifts: [back squat]}"
        found = made(", away: [2027-01-25 to 2027-01-31]", FIVES, weeks=4, head=head, lifts=ONCE)
        assert [len(week.sessions) for week in found.weeks] == [1, 1, 1, 0]
        assert [finding.place for finding in untested_lift(found, date(2027, 1, 4))] == ["week 4"]

    def test_single_days_are_left_out_and_the_others_are_used(self) -> None:
        """A Monday away: the day of the block moves to Wednesday. Under a week nothing is cut."""
        found = made(", away: [2027-01-11]", FIVES, weeks=3, lifts=ONCE)
        assert days(found) == [["01-04"], ["01-13"], ["01-18"]]
        assert loads(found) == ["100", "105", "110"]

    def test_after_a_second_pause_the_calendar_is_that_of_its_own_day(self) -> None:
        """The shift of the holiday is in the day that the profile names."""
        found = made(", away: [2027-01-11 to 2027-01-17], resumes: [{week: 4, on: 2027-02-15}]", FIVES)
        assert [week.starts.isoformat()[5:] for week in found.weeks] == [
            "01-04", "01-18", "01-25", "02-15", "02-22", "03-01",
        ]  # fmt: skip

    @pytest.mark.parametrize(
        ("away", "code"),
        [("2027-02-14 to 2027-02-08", "days-fall"), ("14.2.2027", "not-a-date"), ("soon", "not-a-date")],
    )
    def test_days_that_are_none_are_a_problem(self, away: str, code: str) -> None:
        """Each with what to type."""
        assert code in codes(client(training=TRAINED.format(f", away: [{away}]")), block(FIVES))
