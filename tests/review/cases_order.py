"""Cases about what comes first, what is paired and rested, and what the week adds up to."""

from review.sound_plan import (
    BENCH,
    FRI,
    HELD,
    MON,
    PRESS,
    PULL,
    ROW,
    SQUAT,
    TEST,
    WED,
    Case,
    days,
    drill,
    monday,
    squats,
)

from builder.review import checks_drills, checks_order, checks_week

CURL = "movement: dumbbell curl, progression: {kind: double, sets: 3, reps: 8-12, start: 10 kg, add: 2 kg}"
BELLS = "gym: {dumbbells: {from: 2, to: 40, step: 2}}\n"
HEAVY_PULL = "movement: deadlift, progression: {kind: wave, weeks: [{share: 82 %, sets: 4, reps: 3}]}"
HEAVY_SQUAT = "movement: back squat, progression: {kind: wave, weeks: [{share: 82 %, sets: 4, reps: 3}]}"
LIGHT_PULL = "movement: deadlift, progression: {kind: wave, weeks: [{share: 70 %, sets: 4, reps: 3}]}"
THREE = "block: {test: {week: 6, lifts: [back squat, bench press, deadlift]}}\n"
MON_TUE = "training: {days: [mon, tue, fri]}\n"


def waved(movement: str, share: int, more: str = "") -> str:
    """Four threes at a share of the max."""
    return f"movement: {movement}, progression: {{kind: wave, weeks: [{{share: {share} %, sets: 4, reps: 3}}]}}{more}"


def many(sets: int) -> str:
    """Squats of so many sets on one of the days, three sets of a variant on another."""
    return f"kind: wave, weeks: [{{share: 65 %, sets: {sets}, reps: 5}}]"


CASES = (
    # The lift that comes first gains most: Nunes et al. 2021 (science notes, section 8, J).
    Case(
        checks_order.small_first,
        "order",
        BELLS + monday(CURL, SQUAT, ROW),
        "back squat comes after dumbbell curl",
        BELLS + monday(SQUAT, CURL, ROW),
    ),
    Case(
        checks_order.superset_heavy,
        "superset-heavy",
        monday(waved("back squat", 80, ", superset: A"), waved("bench press", 80, ", superset: A"), ROW),
        "back squat and bench press are heavy",
        monday(waved("back squat", 80, ", superset: A"), waved("bench press", 70, ", superset: A"), ROW),
    ),
    # 3 to 5 min for 1 to 6RM: ACSM 2009; over 2 min for the trained: Grgic et al. 2018.
    Case(
        checks_order.rest_short,
        "rest-short",
        monday(waved("back squat", 90, ", rest: 150 s"), ROW),
        "150 s of rest between sets of 3 at 90 %",
        monday(waved("back squat", 90, ", rest: 3 min"), ROW),
    ),
    Case(
        checks_order.rest_short,
        "rest-short",
        monday(SQUAT + ", rest: 90 s", ROW),
        "90 s of rest between sets of 5",
        monday(SQUAT + ", rest: 2 min", ROW),
    ),
    Case(
        checks_order.rest_long,
        "rest-long",
        BELLS + monday(SQUAT, ROW, CURL + ", rest: 5 min"),
        "5 min of rest between sets of assistance",
        BELLS + monday(SQUAT, ROW, CURL + ", rest: 4 min"),
    ),
    # Common practice, no source: a heavy hinge takes the back for the squat of the next day.
    Case(
        checks_week.hinge_before_squat,
        "hinge-before-squat",
        MON_TUE + days((HEAVY_PULL, ROW), (HEAVY_SQUAT, BENCH), (PRESS,)),
        "heavy on the day after heavy deadlift",
        MON_TUE + days((LIGHT_PULL, ROW), (HEAVY_SQUAT, BENCH), (PRESS,)),
    ),
    Case(
        checks_week.hinge_before_squat,
        "hinge-before-squat",
        MON_TUE + days((HEAVY_PULL, ROW), (HEAVY_SQUAT, BENCH), (PRESS,)),
        "heavy on the day after heavy deadlift",
        days((HEAVY_PULL, ROW), (HEAVY_SQUAT, BENCH), (PRESS,)),
    ),
    # 20 sets of a pattern for an intermediate: common practice, no source. 18 + 3 and 17 + 3.
    Case(
        checks_week.sets_many,
        "sets-many",
        squats(many(18)),
        "21 hard sets for the squat; 20 at most",
        squats(many(17)),
    ),
    # 3 to 6 sets a week: Androulakis-Korakakis et al. 2021 (science notes, section 8, E).
    Case(
        checks_week.sets_few,
        "sets-few",
        days(MON, WED, ("movement: deadlift, progression: {kind: single, sets: 2, reps: 4, rir: 3, add: 5 kg}", PRESS)),
        "2 hard sets a week of its pattern",
        days(MON, WED, FRI),
    ),
    # Twice and three times as much: common practice, no source. 3 + 3 presses a week against 2 sets of rows.
    Case(
        checks_week.push_pull,
        "push-pull",
        monday(SQUAT, ROW.replace("sets: 3", "sets: 2")),
        "30 hard sets of pushing and 10 of pulling",
        monday(SQUAT, ROW),
    ),
    Case(
        checks_week.squat_hinge,
        "squat-hinge",
        squats(many(8)),
        "55 hard sets of squatting and 15 of hinging",
        squats(many(6)),
    ),
    # 150 kg in the first half of five training weeks (weeks 1 and 2), 140 kg afterwards.
    Case(
        checks_week.loads_fall,
        "loads-fall",
        monday(
            "movement: back squat, weeks: 1-2, progression: {kind: wave, weeks: [{share: 75 %, sets: 4, reps: 4}]}",
            "movement: back squat, weeks: 3-6, progression: {kind: wave, weeks: [{share: 70 %, sets: 4, reps: 4}]}",
            ROW,
        ),
        "falls from 150 kg in the first half to 140 kg in the second",
        squats("kind: wave, weeks: [{share: 75 %, sets: 4, reps: 4}, {share: 70 %, sets: 4, reps: 4}]"),
    ),
    # Slower for up to 72 h after sets to failure: Belcher et al. 2019 (science notes, section 8, K). Friday to Monday,
    # when three lifts take three days; one lift is tested on the Friday.
    Case(
        checks_week.tired_test,
        "test-tired",
        THREE + days(MON, WED, (HEAVY_PULL, PRESS)),
        "deadlift is heavy 3 days before its test",
        TEST + days(MON, WED, (HEAVY_PULL, PRESS)),
    ),
    Case(
        checks_week.tired_test,
        "test-tired",
        THREE + days(MON, WED, (HEAVY_PULL, PRESS)),
        "deadlift is heavy 3 days before its test",
        THREE + days(MON, (HEAVY_PULL, BENCH), (PRESS,)),
    ),
    Case(
        checks_drills.walkout_low,
        "walkout-low",
        monday(drill("walkout", "kind: hold, from: 60 %, to: 62 %"), SQUAT, ROW),
        "does not pass the sets of",
        monday(HELD, SQUAT, ROW),
    ),
    # A walkout before the squat is fresh; after the deadlift of the day it is not, though the lift is another.
    Case(
        checks_drills.drill_late,
        "drill-late",
        monday(PULL, HELD, ROW),
        "the drill stands after deadlift",
        monday(BENCH, HELD, SQUAT, ROW),
    ),
)
