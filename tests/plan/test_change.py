"""What a retest changed, with loads worked by hand from true singles."""

from __future__ import annotations

from decimal import Decimal

from sources_for_tests import CLIENT, LIFTS, block, client, plan, sources, squat

from builder.plan import LiftChange, compare, earlier, make_plan
from builder.plan.change import TopLoad

ADDED = LIFTS.replace("reps: 1}]}\n  bench", "reps: 1}, {date: 2027-02-20, load: 210, reps: 1, revision: 2}]}\n  bench")
WAVE = squat("kind: wave, weeks: [{share: 70 %, sets: 3, reps: 5}, {share: 80 %, sets: 3, reps: 3}]")


def _changes(lifts: str, *slots: str) -> dict[str, LiftChange]:
    now = sources(client(lifts=lifts), block(*slots, weeks=2))
    before = earlier(now)
    assert before is not None
    return {one.movement: one for one in compare(make_plan(before), make_plan(now))}


def test_a_first_booklet_has_no_plan_before_it() -> None:
    first = sources(CLIENT, block(WAVE))
    assert first.client is not None and first.client.revision == 1
    assert earlier(first) is None


def test_the_plan_before_is_that_of_the_profile_without_the_last_tests() -> None:
    now = sources(client(lifts=ADDED), block(WAVE))
    before = earlier(now)
    assert now.client is not None and now.client.revision == 2
    assert before is not None
    then = make_plan(before)
    assert then.client == sources(CLIENT).client
    assert then.weeks == plan(CLIENT, block(WAVE)).weeks


def test_max_working_max_and_top_loads_are_those_worked_by_hand() -> None:
    """A single is the max (every equation). 70 % of 200 is 140, 80 % is 160; of 210 147, on 2.5 kg steps 147.5
    (147 lies 2 from 145 and 0.5 from 147.5), and 168, on the steps 167.5."""
    squats = _changes(ADDED, WAVE)["back squat"]
    assert (squats.estimate.before, squats.estimate.now) == (200, 210)
    assert (squats.working.before, squats.working.now) == (200, 210)
    assert (squats.first.before, squats.first.now) == (TopLoad(1, Decimal(140), 5), TopLoad(1, Decimal("147.5"), 5))
    assert (squats.last.before, squats.last.now) == (TopLoad(2, Decimal(160), 3), TopLoad(2, Decimal("167.5"), 3))
    assert not squats.worse


def test_a_lift_that_was_not_tested_again_stays_and_one_that_is_not_trained_has_no_loads() -> None:
    bench = _changes(ADDED, WAVE)["bench press"]
    assert bench.estimate.before == bench.estimate.now == 100
    assert (bench.first.now, bench.last.before) == (None, None)


def test_a_lower_result_is_worse_and_a_missed_one_changes_nothing() -> None:
    assert _changes(ADDED.replace("load: 210", "load: 190"), WAVE)["back squat"].worse
    missed = _changes(ADDED.replace("revision: 2", "missed: true, revision: 2"), WAVE)["back squat"]
    assert missed.estimate.before == missed.estimate.now == 200


def test_a_lift_first_tested_now_has_nothing_before() -> None:
    """Not even when the block tests it: before, it could not be tested."""
    lifts = LIFTS.replace("load: 100, reps: 1", "load: 100, reps: 1, revision: 2")
    bench = "movement: bench press, progression: {kind: wave, weeks: [{share: 80 %, sets: 3, reps: 3}]}"
    now = sources(
        client(lifts=lifts), block(WAVE, bench, weeks=3, head="test: {week: 3, lifts: [back squat, bench press]}")
    )
    before = earlier(now)
    assert before is not None
    found = {one.movement: one for one in compare(make_plan(before), make_plan(now))}
    assert (found["bench press"].estimate.before, found["bench press"].first.before) == (None, None)
    assert found["bench press"].first.now == TopLoad(1, Decimal(80), 3)


def test_attempts_and_bodyweight_of_a_test_change_no_number() -> None:
    """An attempt is no evidence: a made one beyond the tested set does not even count as a record."""
    told = LIFTS.replace(
        "load: 200, reps: 1", "load: 200, reps: 1, bodyweight: 70, attempts: {made: [220], missed: [230, 500 lb]}"
    )
    usual, other = plan(CLIENT, block(WAVE)), plan(client(lifts=told), block(WAVE))
    assert other.weeks == usual.weeks
    assert [n.best_by_reps for n in other.lifts] == [n.best_by_reps for n in usual.lifts]
    assert other.lifts[0].estimate == 200
