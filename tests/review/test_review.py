"""The design review: each check speaks where the plan leaves the norm, and is silent at its edge."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from review import cases_lifter, cases_order, cases_week
from review.sound_plan import (
    BLOCK,
    CLIENT,
    HELD,
    ROW,
    SCREENED,
    SOUND,
    Case,
    bench_test,
    days,
    monday,
    presses,
    squats,
)
from sources_for_tests import plan

from builder.intake import load
from builder.plan import Plan, make_plan
from builder.review import (
    CHECKS,
    NOTES,
    Finding,
    Gravity,
    checks_dose,
    checks_progression,
    checks_reach,
    checks_recovery,
    checks_safety,
    noted,
    review,
    told,
)
from builder.review.finding import Hit, Rule
from builder.values.quantity import plain, to_places

CASES = cases_lifter.CASES + cases_order.CASES + cases_week.CASES
TODAY = date(2027, 1, 1)
SAMPLES = Path(__file__).parents[2] / "samples"


def _laid(over: str) -> Plan:
    """The sound plan with `over` laid over its client and block."""
    return plan(*SOUND, "format: 1\n" + over) if over else plan(*SOUND)


def _found(case: Case, over: str) -> list[Finding]:
    return [finding for finding in case.check(_laid(over), TODAY) if finding.code == case.code]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.code)
def test_a_check_speaks_once_where_the_plan_leaves_the_norm(case: Case) -> None:
    """One finding for the rule, with the fact, a way out and a source."""
    (finding,) = _found(case, case.fires)
    assert case.says in finding.fact
    assert finding.help.endswith(".") and finding.source


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.code)
def test_a_check_is_silent_within_the_norm(case: Case) -> None:
    """Nothing of this code for a sound plan, or at the edge of the norm."""
    assert _found(case, case.silent) == []


def test_every_check_has_a_case_of_both_kinds() -> None:
    """A check that is added without a case is noticed; the two tests above take each case both ways."""
    assert {case.check for case in CASES} == {*CHECKS, *NOTES}
    assert all(case.fires and case.fires != case.silent for case in CASES)


def test_a_sound_plan_has_no_finding() -> None:
    """The plan that all cases start from."""
    assert review(plan(*SOUND), TODAY) == ()


def test_a_client_without_screening_is_cautioned() -> None:
    """The one case that takes something away: Riebe et al. 2015 ask for screening first (references, section 10)."""
    codes = [finding.code for finding in review(plan(CLIENT, BLOCK), TODAY)]
    assert codes == ["unscreened"]


def test_safety_findings_are_cautions_and_come_first() -> None:
    """A bench press without spotter and safeties is a caution; an old test is advice and comes later."""
    over = "gym: {spotter: never, safeties: false}\n"
    over += "lifts: {deadlift: {tests: [{date: 2026-05-01, load: 240, reps: 1}]}}\n"
    found = [(finding.code, finding.gravity) for finding in review(_laid(over), TODAY)]
    first = [("squat-without-safeties", Gravity.CAUTION), ("bench-alone", Gravity.CAUTION)]
    assert found == [*first, ("test-stale", Gravity.ADVICE)]


def test_a_caution_claims_nothing_that_the_plan_did_not_do() -> None:
    """A client without screening keeps attempts and holds above the max, and the finding does not say otherwise."""
    over = "format: 1\nblock: {test: {week: 6, lifts: [back squat]}}\n" + monday(HELD, ROW)
    (finding,) = checks_safety.client_cautions(plan(CLIENT, BLOCK, over), TODAY)
    assert finding.fact == "no screening has been answered; no load was changed for it"


def test_a_session_may_take_exactly_the_time_there_is() -> None:
    """The longest session is the limit, and a minute less is too short."""
    longest = max(session.minutes for session in plan(*SOUND).sessions())
    assert list(checks_dose.session_long(_laid(f"training: {{session_minutes: {longest}}}\n"), TODAY)) == []
    assert list(checks_dose.session_long(_laid(f"training: {{session_minutes: {longest - 1}}}\n"), TODAY))


def test_the_taper_is_measured_by_the_training_weeks_before_it() -> None:
    """Week 5 of a test in week 6 against weeks 1 to 3, since week 4 is a deload; arithmetic on the plan's tonnage."""
    made = _laid("block: {test: {week: 6, lifts: [back squat]}}\n")
    moved = [week.total.tonnage for week in made.weeks]
    more = (moved[4] / (sum(moved[:3], Decimal(0)) / 3) - 1) * 100
    (finding,) = checks_recovery.taper_volume(made, TODAY)
    assert f"has {plain(to_places(more, 1))} % more volume" in finding.fact


def test_a_deload_without_loads_is_judged_by_its_sets() -> None:
    """Nothing is weighed, and all sets stay: 3 of 3 a day in the deload."""
    bug = "movement: dead bug, progression: {kind: single, sets: 3, reps: 8, add: 1 kg}"
    (finding,) = checks_recovery.deload_not_lighter(
        _laid("block: {deload: {sets: 100 %, reps: 50 %}}\n" + days((bug,))), TODAY
    )
    assert "as many sets" in finding.fact


def test_sets_beyond_what_equations_cover_do_not_stop_the_review() -> None:
    """Twenty reps are passed over, twelve with five in reserve count as fifteen."""
    light = "kind: single, sets: 1, reps: %s, start: 40 %%, rir: %s, add: 2.5 kg"
    for reps, rir in ((20, 1), (12, 5)):
        assert list(checks_progression.progress_steep(_laid(squats(light % (reps, rir))), TODAY)) == []


def test_a_rule_is_reported_at_its_worst_place_with_the_number_of_others() -> None:
    """Three hits, one finding; of equal hits the first counts."""
    hits = (
        Hit("week 1", "small", Decimal(1)),
        Hit("week 2", "large", Decimal(3)),
        Hit("week 3", "as large", Decimal(3)),
    )
    (finding,) = Rule("a-rule", "Do less.").once(hits)
    assert (finding.place, finding.fact, finding.more) == ("week 2", "large", 2)
    assert list(Rule("a-rule", "Do less.").once(())) == []


def test_many_long_sessions_are_one_finding() -> None:
    """Sixteen of eighteen sessions or so do not make as many lines."""
    (finding,) = [f for f in review(_laid("training: {session_minutes: 20}\n"), TODAY) if f.code == "session-long"]
    assert finding.more >= 10
    assert f"; {finding.more} more like it [session-long]" in finding.as_text()


def test_a_finding_says_where_it_is_and_what_to_do() -> None:
    """Text for the terminal, and the same facts for a program."""
    finding = Finding("a-code", "too much", "a book", "Do less.", "week 1", Gravity.ADVICE)
    assert finding.as_text(3) == "advice: week 1: too much [a-code]\n  Do less. (3)"
    assert finding.as_json() == {
        "code": "a-code", "gravity": "advice", "place": "week 1", "more": 0, "fact": "too much", "help": "Do less.",
        "source": "a book",
    }  # fmt: skip


def test_a_place_names_week_day_and_movement() -> None:
    """As a coach would look it up in the booklet."""
    over = squats("kind: single, sets: 3, reps: 5, start: 140 kg, rir: 3, add: 20 kg", beyond="allow")
    (finding,) = checks_progression.step_large(_laid(over), TODAY)
    assert (finding.place, finding.more) == ("week 2, day 1, back squat", 2)


def test_loads_far_apart_are_no_fault_of_a_rep_range() -> None:
    """From 10 kg to 15 kg nothing lies between: a rep range bridges it, straight sets do not."""
    bells = "gym: {dumbbells: [10, 15, 20]}\n"
    row = "movement: one-arm dumbbell row, progression: {%s, start: 10 kg, add: 5 kg}"
    ranged = monday(row % "kind: double, sets: 3, reps: 8-9")
    (straight,) = checks_progression.step_large(_laid(bells + monday(row % "kind: single, sets: 3, reps: 8")), TODAY)
    assert list(checks_progression.step_large(_laid(bells + ranged), TODAY)) == []
    assert "by 50 %, 10 kg to 15 kg; nothing lies between" in straight.fact


def test_bodyweight_counts_in_a_rise_and_without_it_none_is_judged() -> None:
    """From 0 kg to 10 kg on the belt is 12.5 % of 80 kg; without a bodyweight there is nothing to divide by."""
    over = monday("movement: pull-up, progression: {kind: single, sets: 3, reps: 4, start: 0 kg, add: 10 kg}", ROW)
    (finding,) = checks_progression.step_large(_laid(over), TODAY)
    assert "by 12.5 %, 0 kg to 10 kg" in finding.fact
    unknown = plan(CLIENT.replace(" bodyweight: 80,", ""), BLOCK, SCREENED, "format: 1\n" + over)
    assert list(checks_progression.step_large(unknown, TODAY)) == []


def test_a_track_over_two_days_is_compared_exposure_by_exposure() -> None:
    """5 kg at each exposure is 3.6 % of 140, though on one day of the block the bar rises by 10 kg a week."""
    slot = (
        "movement: back squat, track: s, progression: {kind: single, sets: 3, reps: 5, start: 60 kg, rir: 3, add: 5 kg}"
    )
    made = _laid("days:\n" + "".join(f"  - title: Day {d}\n    slots: [{{{slot}}}]\n" for d in (1, 2)))
    assert list(checks_progression.step_large(made, TODAY)) == []


def test_a_first_walkout_below_the_norm_is_not_blamed_when_the_plan_lowered_it() -> None:
    """A first hold starts at a bar really handled; that is the gate's doing, not the coach's."""
    test = "lifts: {back squat: {tests: [{date: 2026-12-19, load: 160, reps: 6}]}}\n"
    slot = "drill: walkout, of: back squat, progression: {kind: hold, from: 95 %, to: 100 %}"
    made = _laid(test + monday(slot))
    share = made.weeks[0].sessions[0].slots[0].work[0].share
    assert share is not None and share < Decimal("0.95")
    assert [f for f in review(made, TODAY) if f.code == "walkout-share"] == []


def test_holds_without_safeties_are_said_to_stay_at_the_max() -> None:
    """What the finding says the plan did is what the plan did."""
    slot = "drill: walkout, of: back squat, progression: {kind: hold, from: 100 %, to: 110 %}"
    made = _laid("gym: {safeties: false}\n" + monday(slot))
    (finding,) = checks_safety.squat_without_safeties(made, TODAY)
    assert "holds stay at or below the max" in finding.fact
    assert max(s.share or 0 for x in made.sessions() for slot in x.slots if slot.drill for s in slot.work) == 1


def test_a_jump_that_nothing_shortens_is_no_fault_where_the_lifter_has_grown_into_it() -> None:
    """From 40 kg to 50 kg nothing lies between: fine for who is likely to have 3 reps left then, not for others."""
    plates = "gym: {pairs: {2.5: 0, 1.25: 0}}\n"
    step = presses("kind: step, sets: 3, reps: 5, start: 40 kg, rir: 3, hold: 2, add: 5 kg")
    grown = _laid(plates + step)
    assert [f.place for f in checks_progression.step_large(grown, TODAY)] == []
    weak = _laid(plates + bench_test(load=58) + step)
    assert "40 kg to 50 kg; nothing lies between" in next(checks_progression.step_large(weak, TODAY)).fact


@pytest.mark.parametrize("sample", ["novice", "intermediate", "advanced"])
def test_samples_are_sound(sample: str) -> None:
    """A sample is a design to learn from: nothing to say about it on its first day."""
    loaded = load([SAMPLES / sample, SAMPLES / "brand"])
    assert loaded.sources is not None
    made = make_plan(loaded.sources)
    assert [finding.as_text() for finding in review(made, made.client.training.starts)] == []


def test_a_source_is_told_once_and_numbered_where_it_is_used() -> None:
    """Two remarks out of one book."""
    found = (
        Finding("a", "one", "a book", "Do."),
        Finding("b", "two", "a paper", "Do."),
        Finding("c", "x", "a book", "Do."),
    )
    texts, sources = told(found)
    assert [text[-4:] for text in texts] == [" (1)", " (2)", " (1)"]
    assert sources == ("(1) a book", "(2) a paper")


def test_what_the_plan_did_for_the_client_is_noted_and_not_doubted() -> None:
    """A replacement, and a bench press between safeties."""
    over = (
        "gym: {spotter: never}\n"
        "limits: [{area: wrist, avoid: [overhead press], instead: {overhead press: push-up}}]\n"
    )
    made = _laid(over)
    assert review(made, TODAY) == ()
    notes = noted(made, TODAY)
    assert [(note.code, note.gravity) for note in notes] == [(c, Gravity.NOTE) for c in ("replaced", "pressed-alone")]


def test_a_further_set_beyond_reach_is_told_like_a_first_one() -> None:
    """140 x 5, then 200 x 3 of a max of 200: the rule's own sets are sound, and what comes after them is held."""
    further = "kind: single, sets: 1, reps: 5, start: 70 %, rir: 6, add: 1 kg, then: [{reps: 3, up: 60 kg}]"
    (finding,) = checks_reach.load_held(_laid(squats(further)), TODAY)
    assert "asks for 200 kg" in finding.fact and "x 3 is planned" in finding.fact
