"""Who may be loaded above the max, and who may try a max: read from the profile's data, held against the plan."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

from made.cases import Case, for_each_case
from made.masses import Data

from builder.given import Equipment
from builder.plan import PlannedSet, Role, WeekKind
from builder.plan.calendar import WEEKDAYS
from builder.review import review

TINY = Decimal("1e-20")
"""What 28 digits may cut off."""

ROUNDED = Decimal("0.06")
"""What a reserve to a tenth may hide."""


def _starts(profile: Data) -> date:
    return date.fromisoformat(profile["training"]["starts"])


def young(profile: Data) -> bool:
    """Perhaps under 18 on the first day, the birthday still to come, and nobody named who is present."""
    born, named = profile["client"].get("born"), "supervisor" in profile["client"]
    return born is not None and _starts(profile).year - born - 1 < 18 and not named


def waits(profile: Data) -> bool:
    """A clinician was advised and has not agreed."""
    screening = profile.get("screening", {})
    return bool(screening.get("clinician_advised")) and "cleared" not in screening


def unsafe(profile: Data) -> bool:
    """No safety bars, or nothing said of them."""
    return profile["gym"].get("safeties") not in (True, "yes")


def sore(profile: Data) -> bool:
    """Something began to hurt less than six weeks before the first day."""
    sinces = [limit.get("since") for limit in profile.get("limits", ())]
    return any(since and _starts(profile) - date.fromisoformat(since) < timedelta(weeks=6) for since in sinces)


@for_each_case
def test_cautions_hold_for_exactly_those_whom_the_profile_says(case: Case) -> None:
    """Each code against the profile's own words."""
    profile, client = case.profile, case.profile["client"]
    born = client.get("born")
    minor = born is not None and _starts(profile).year - born - 1 < 18
    until = _starts(profile) + timedelta(weeks=case.block["block"]["weeks"])
    wanted = {
        "minor": young(profile),
        "supervised-minor": minor and not young(profile),
        "older": born is not None and until.year - born > 65,
        "no-safeties": unsafe(profile),
        "no-spotter": profile["gym"].get("spotter", "never") == "never",
        "clinician": waits(profile),
        "unscreened": "screening" not in profile,
        "recent-limit": sore(profile),
    }
    assert case.plan.cautions == tuple(code for code, holds in wanted.items() if holds)


@for_each_case
def test_no_drill_is_above_the_max_behind_a_gate(case: Case) -> None:
    """Neither holds nor pin squats, of the lift or of a variant, unless the lightest bar is already more."""
    profile = case.profile
    gated = young(profile) or waits(profile) or unsafe(profile) or sore(profile)
    for _, _, slot in case.slots():
        numbers = case.plan.lift(slot.lift)
        if slot.drill is None or not gated:
            continue
        assert numbers is not None
        for planned in slot.work:
            assert _lightest(planned) or planned.rung is None or planned.rung.mass <= numbers.estimate


@for_each_case
def test_work_at_or_above_the_max_behind_a_gate_is_told_by_the_review(case: Case) -> None:
    """The plan leaves the coach's own rule; the review names it, and only where a gate holds."""
    profile = case.profile
    gated = young(profile) or waits(profile) or unsafe(profile) or sore(profile)
    shares = []
    for week, _, slot in case.slots():
        if week.kind is WeekKind.TRAINING and slot.drill is None and (numbers := case.plan.lift(slot.lift)):
            shares += [planned.share * numbers.working_share for planned in slot.work if planned.share is not None]
    told = any(finding.code == "work-at-max" for finding in review(case.plan, _starts(profile)))
    assert told is (gated and max(shares, default=Decimal(0)) >= 1)


@for_each_case
def test_reps_stay_in_reserve_for_whom_failure_is_no_option(case: Case) -> None:
    """Two where no safeties catch a bar overhead, else one, by what is expected of the day; or one rep of the body."""
    always = young(case.profile) or waits(case.profile)
    for _, _, slot in case.slots():
        under = slot.about.overhead_risk and slot.about.equipment is Equipment.BARBELL and unsafe(case.profile)
        if slot.kind == "attempts" or not (always or under):
            continue
        least = 1 if always else 2
        for planned in slot.work:
            if planned.reserve is not None and not planned.reserve.least:
                of_body = slot.movement in ("pull-up", "dip") and planned.reps == 1
                assert planned.reserve.exact > least - ROUNDED or of_body


@for_each_case
def test_a_first_hold_is_no_heavier_than_what_was_really_handled(case: Case) -> None:
    """The held load of the profile, or the heaviest set made or recorded if that is more; never past the last share."""
    for _, _, slot in case.slots():
        if slot.kind != "hold":
            continue
        lift, rule = case.profile["lifts"][slot.lift], case.rule(slot)
        numbers = case.plan.lift(slot.lift)
        assert rule is not None and numbers is not None
        done = [test["load"].kg for test in lift["tests"] if not test.get("missed")]
        done += [best["load"].kg for best in lift.get("records", ())]
        handled = max([*done, *([lift["held"]["load"].kg] if "held" in lift else [])])
        last = Decimal(rule["progression"]["to"].removesuffix(" %")) / 100
        for planned in slot.work:
            if planned.rung is None or _lightest(planned):
                continue
            assert slot.exposure > 1 or planned.rung.mass <= handled
            assert planned.share is None or planned.share <= last + TINY


@for_each_case
def test_attempts_only_in_the_test_week_and_only_for_those_who_may(case: Case) -> None:
    """Of age or supervised, cleared, not on a belt, of a lift that the block tests and no limit avoids."""
    test = case.block["block"].get("test", {})
    avoided = {word for limit in case.profile.get("limits", ()) for word in limit["avoid"]}
    for week, _, slot in case.slots():
        tried = [planned for planned in slot.work if planned.role is Role.ATTEMPT]
        assert (week.kind is WeekKind.TEST) is (slot.kind in ("attempts", "rep_test"))
        if week.kind is WeekKind.TEST:
            assert week.number == test["week"] and slot.lift in set(test["lifts"]) - avoided
            barred = young(case.profile) or waits(case.profile) or slot.movement in ("pull-up", "dip")
            assert bool(tried) is not barred
        else:
            assert not tried


@for_each_case
def test_an_opener_is_safe_and_no_attempt_is_far_above_the_max(case: Case) -> None:
    """At most 95 % unless the lightest load is more; no row of the table is past 110 %, however far apart loads lie."""
    for _, _, slot in case.slots():
        if slot.attempts is None:
            continue
        numbers = case.plan.lift(slot.lift)
        assert numbers is not None
        best = next(Decimal(fact) for name, fact in slot.work[0].why[-1].facts if name == "max_kg")  # type: ignore[arg-type]
        ladder = numbers.ladder
        assert slot.attempts.opener.mass <= best * Decimal("0.95") or slot.attempts.opener == ladder.lightest
        for row in (*slot.attempts.second, *slot.attempts.third):
            assert row.rung.mass <= best * Decimal("1.10") or row.rung == ladder.lightest


def _lightest(planned: PlannedSet) -> bool:
    return planned.why[-1].step == "under-lightest"


@for_each_case
def test_sessions_are_on_training_days_one_a_day_in_their_week(case: Case) -> None:
    """In order, within the seven days of the week, which follow each other from the first day of the block."""
    days, starts = case.profile["training"]["days"], _starts(case.profile)
    dates = [session.on for _, session, _ in case.slots()]
    assert dates == sorted(dates)
    for number, week in enumerate(case.plan.weeks):
        assert week.starts == starts + timedelta(weeks=number)
        on = [session.on for session in week.sessions]
        assert len(set(on)) == len(on)
        assert all(week.starts <= day < week.starts + timedelta(weeks=1) for day in on)
        assert all(WEEKDAYS[day.weekday()] in days for day in on)
        assert [session.day for session in week.sessions] == list(range(1, len(on) + 1))
