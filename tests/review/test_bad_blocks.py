"""Blocks that a good coach would stop, each named by the review; and sound ones, of which it says nothing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import pytest
from review.sound_plan import BELLS, CLIENT, FRI, HELD, MON, PULL, ROW, SCREENED, SQUAT, WED, days, drill
from sources_for_tests import plan

from builder.plan import Plan
from builder.review import Finding, review

TODAY = date(2027, 1, 1)
HEAD = "format: 1\nblock: {title: Trial, weeks: %s, suits: [%s]%s}\n"
SINGLES = "kind: wave, weeks: [{share: 82 %, sets: 4, reps: 3}]"


def block(
    *each: tuple[str, ...], weeks: int = 6, suits: str = "intermediate", head: str = ", deload: {every: 5}"
) -> str:
    """A block of these days."""
    return HEAD % (weeks, suits, head) + days(*each)


def of(movement: str, progression: str, more: str = "") -> str:
    """A slot."""
    return f"movement: {movement}, progression: {{{progression}}}{more}"


def waves(*shares: int, sets: int = 4, reps: int = 3) -> str:
    """Weeks of these shares of the max."""
    return "kind: wave, weeks: [" + ", ".join(f"{{share: {s} %, sets: {sets}, reps: {reps}}}" for s in shares) + "]"


@dataclass(frozen=True, slots=True)
class Bad:
    """A block with the codes that must be among what the review says; `over` is laid over the client."""

    name: str
    block: str
    codes: tuple[str, ...]
    over: str = ""


CURL = of("dumbbell curl", "kind: double, sets: 3, reps: 8-12, start: 10 kg, add: 2 kg")
PRESS_DAY = (of("overhead press", "kind: double, sets: 3, reps: 6-8, start: 30 kg, add: 2.5 kg"), ROW)
TEST3 = ", test: {week: 6, lifts: [back squat, bench press, deadlift]}"
MON_TUE = "training: {days: [mon, tue, fri]}\n"
NOVICE = "training: {status: novice, months: 2}\n"

BAD = (
    Bad("heavy pull, then heavy squat", block((of("deadlift", SINGLES), ROW), (of("back squat", SINGLES),), WED),
        ("hinge-before-squat",), MON_TUE),
    Bad("heavy squat two days running", block((of("back squat", waves(90)), ROW), (of("back squat", waves(90)),), FRI),
        ("heavy-days",), MON_TUE),
    Bad("curls before squats", block((CURL, SQUAT, ROW), WED, FRI), ("order",)),
    Bad("walkouts at the end of the day", block((SQUAT, ROW, HELD), WED, FRI), ("drill-late",)),
    Bad("squat and deadlift in a superset",
        block((of("back squat", SINGLES, ", superset: A"), of("deadlift", SINGLES, ", superset: A"), ROW), WED, FRI),
        ("superset-heavy",)),
    Bad("a minute between heavy threes", block((of("back squat", waves(88), ", rest: 60 s"), ROW), WED, FRI),
        ("rest-short",)),
    Bad("five minutes between curls", block((SQUAT, ROW, CURL + ", rest: 5 min"), WED, FRI), ("rest-long",)),
    Bad("far too many sets of squats", block((of("back squat", waves(65, sets=20, reps=5)), ROW), WED, FRI),
        ("sets-many",)),
    Bad("far too many sets for a novice", block((of("back squat", waves(60, sets=15, reps=5)), ROW), WED, FRI,
        suits="novice"), ("sets-many",), NOVICE),
    Bad("one set of deadlifts a week",
        block(MON, WED, (of("deadlift", "kind: single, sets: 1, reps: 5, rir: 2, add: 5 kg"), *PRESS_DAY)),
        ("sets-few",)),
    Bad("bench, bench and more bench",
        block((SQUAT, of("bench press", waves(70, sets=5, reps=5)), ROW.replace("sets: 3", "sets: 2")), WED, FRI),
        ("push-pull",)),
    Bad("squats without hinges to match",
        block((of("back squat", waves(70, sets=6)), ROW), WED, (of("front squat", waves(60, sets=4)), PULL)),
        ("squat-hinge",)),
    Bad("no pulling at all", block((SQUAT,), WED, FRI), ("pattern-missing",)),
    Bad("loads that fall from week to week", block((of("back squat", waves(85, 82, 80, 77, 75, 72)), ROW), WED, FRI,
        head=""), ("loads-fall",)),
    Bad("a deload every second week", block(MON, WED, FRI, head=", deload: {every: 2}"), ("deload-interval",)),
    Bad("twelve weeks without a deload", block(MON, WED, FRI, weeks=12, head=""), ("deload-none",)),
    Bad("jumps of 20 kg", block((of("back squat", "kind: single, sets: 3, reps: 5, start: 120 kg, add: 20 kg"), ROW),
        WED, FRI), ("step-large", "progress-steep")),
    Bad("jumps of 20 kg for a novice",
        block((of("back squat", "kind: single, sets: 3, reps: 5, start: 120 kg, add: 20 kg"), ROW), WED, FRI,
              suits="novice"), ("step-large",), NOVICE),
    Bad("a variant far beyond its share",
        block((of("pause back squat", "kind: single, sets: 3, reps: 5, start: 150 kg, rir: 1, add: 15 kg")
               + ", beyond: allow", ROW), WED, FRI), ("progress-steep",)),
    Bad("a variant that would go far beyond its share",
        block((of("pause back squat", "kind: single, sets: 3, reps: 5, start: 150 kg, rir: 1, add: 15 kg"), ROW), WED,
              FRI), ("load-held",)),
    Bad("tens of a variant at 90 %", block((of("front squat", waves(90, sets=5, reps=10)), ROW), WED, FRI),
        ("lifts-many",)),
    Bad("walkouts below the work", block((drill("walkout", "kind: hold, from: 55 %, to: 60 %"), SQUAT, ROW), WED, FRI),
        ("walkout-low", "walkout-share")),
    Bad("walkouts at every session",
        block((drill("walkout", "kind: hold, from: 100 %, to: 103 %, every: 1 exposures"), SQUAT, ROW), WED, FRI),
        ("walkouts-often",)),
    Bad("heavy pulls three days before the squat is tested", block(MON, WED, (of("deadlift", SINGLES), *PRESS_DAY),
        head=TEST3), ("test-tired", "taper-volume")),
    Bad("attempts for a novice", block(MON, WED, FRI, suits="novice", head=", test: {week: 6, lifts: [back squat]}"),
        ("novice-attempts",), NOVICE),
    Bad("two hours in a session of one", block((SQUAT, *(of("back squat", waves(70, sets=8)),) * 2, ROW), WED, FRI),
        ("session-long",), "training: {session_minutes: 60}\n"),
)  # fmt: skip


def _reviewed(bad: Bad) -> tuple[Finding, ...]:
    over = f"format: 1\n{bad.over}" if bad.over else SCREENED
    return review(plan(CLIENT, BELLS, SCREENED, over, bad.block), TODAY)


@pytest.mark.parametrize("bad", BAD, ids=lambda bad: bad.name)
def test_a_bad_block_is_named(bad: Bad) -> None:
    """What is wrong with it is among the remarks, each with a way out and a source."""
    found = {finding.code: finding for finding in _reviewed(bad)}
    assert set(bad.codes) <= set(found), sorted(found)
    assert all(found[code].help.endswith(".") and found[code].source for code in bad.codes)


def test_there_are_at_least_two_dozen() -> None:
    """And no two of them are bad in the same way only."""
    assert len(BAD) >= 24
    assert len({bad.codes for bad in BAD}) >= 20


LEGS_DOWN = of(
    "leg curl", "kind: double, sets: 3, reps: 10-12, start: 30 kg, add: 5 kg", ", accessory: true, stack: tower"
)
SOUND_BLOCKS = {
    "three days for a novice": (
        NOVICE,
        block(
            (of("back squat", "kind: single, sets: 3, reps: 5, start: 120 kg, rir: 4, add: 5 kg"), ROW,
             of("bench press", "kind: single, sets: 3, reps: 5, start: 60 kg, rir: 4, add: 2.5 kg")),
            (of("deadlift", "kind: single, sets: 3, reps: 5, start: 140 kg, rir: 4, add: 5 kg"), PRESS_DAY[0],
             of("pull-up", "kind: double, sets: 3, reps: 4-6, rir: 3, add: 2.5 kg")),
            (of("front squat", "kind: double, sets: 3, reps: 4-6, rir: 3, add: 5 kg"), ROW,
             of("close-grip bench press", "kind: double, sets: 3, reps: 6-8, rir: 3, add: 2.5 kg")),
            weeks=6, suits="novice", head=", deload: {every: 5}",
        ),
    ),
    "heavy, light and medium with a taper and a test": (
        "training: {days: [mon, wed, fri]}\n",
        block(
            (of("back squat", waves(78, 80, 82, 84, 86, 88, 90)), ROW),
            (of("bench press", waves(78, 80, 82, 84, 86, 88, 90)), of("front squat", waves(62, 64, 66, sets=3, reps=5)),
             of("lat pull-down", "kind: double, sets: 3, reps: 8-10, start: 60 kg, add: 5 kg", ", stack: tower")),
            (of("back squat", waves(86, 87, 88, 89, sets=2, reps=2)),
             of("deadlift", waves(76, 78, 80, 82, 84, 86, 87))),
            weeks=8, head=", taper: {weeks: 1, sets: 55 %}, "
            "test: {week: 8, lifts: [bench press]}",
        ),
    ),
    "four days of top sets": (
        "training: {status: advanced, days: [mon, tue, thu, sat]}\n",
        block(
            (of("back squat", "kind: top_set, reps: 3, rir: 2, backoff: {sets: 3, reps: 4, share: 85 %}"), LEGS_DOWN),
            (of("bench press", "kind: top_set, reps: 3, rir: 2, backoff: {sets: 3, reps: 4, share: 85 %}"), ROW),
            (of("deadlift", "kind: top_set, reps: 3, rir: 2, backoff: {sets: 2, reps: 4, share: 85 %}"), PRESS_DAY[0]),
            (of("pause back squat", "kind: double, sets: 3, reps: 3-5, rir: 3, add: 5 kg"), ROW,
             of("close-grip bench press", "kind: double, sets: 3, reps: 6-8, rir: 3, add: 2.5 kg")),
            weeks=9, suits="advanced", head=", deload: {every: 5}",
        ),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", SOUND_BLOCKS)
def test_a_sound_block_is_left_alone(name: str) -> None:
    """Nothing to say, so that a remark stays worth reading."""
    over, sound = SOUND_BLOCKS[name]
    made: Plan = plan(CLIENT, BELLS, SCREENED, "format: 1\n" + over, sound)
    assert [finding.as_text() for finding in review(made, TODAY)] == []
