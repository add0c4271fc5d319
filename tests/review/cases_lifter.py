"""Cases about the lifter: safety, tests, steps of load and promised progress."""

from review.sound_plan import HELD, ROW, SINGLE, SQUAT, TEST, Case, bench_test, drill, monday, presses, pulls, squats

from builder.review import checks_doubt, checks_progression, checks_reach, checks_safety, notes

TWICE = (
    "lifts: {{bench press: {{tests: [{{date: 2026-10-01, load: 100, reps: 3}}, "
    "{{date: 2026-12-19, load: {}, reps: 3}}]}}}}\n"
)

DONE = (
    "lifts: {{bench press: {{tests: [{{date: 2026-12-19, load: 100, reps: 1}}], "
    "{}: [{{date: 2026-12-12, load: {}, reps: 1}}]}}}}\n"
)

DATED = (
    "lifts: {{bench press: {{tests: [{{date: 2026-12-19, load: 100, reps: 1}}], "
    "{}: [{{date: {}, load: 100, reps: 1}}]}}}}\n"
)

CASES = (
    # 500 kg, and five times the body, are rather slips of the pen; what a retest doubts: common practice, no source.
    Case(checks_doubt.unlikely_test, "test-unlikely", bench_test(load=725), "725 kg x 1 means", bench_test(load=110)),
    Case(checks_doubt.unlikely_test, "test-unlikely", TWICE.format(180), "a large rise", TWICE.format(105)),
    Case(checks_doubt.unlikely_test, "test-unlikely", TWICE.format(60), "a large drop", TWICE.format(95)),
    # A record, or a set of the log, that leaves the tests behind; who was stronger once was so by less than a quarter.
    Case(checks_doubt.unlikely_test, "test-unlikely", DONE.format("records", 150), "a large jump",
         DONE.format("records", 115)),
    Case(checks_doubt.unlikely_test, "test-unlikely", DONE.format("logged", 150), "logged on 2026-12-12, means a max",
         DONE.format("logged", 100)),
    # 115 lb are 52.2 kg, which these plates do not make; 115 kg they do.
    Case(
        checks_doubt.other_unit,
        "test-unit",
        "lifts: {bench press: {tests: [{date: 2026-12-19, load: 115 lb, reps: 3}]}}\n",
        "115 kg can",
        "lifts: {bench press: {tests: [{date: 2026-12-19, load: 115 kg, reps: 3}]}}\n",
    ),
    # Six weeks from 4 January 2027 end on 14 February.
    Case(
        checks_doubt.start_before_tests,
        "start-before-tests",
        bench_test("2029-12-19"),
        "ends on 2027-02-14",
        bench_test("2027-02-14"),
    ),
    # Under 18 and over 65: the limits of the profile's own rules; common practice, no source.
    Case(
        checks_safety.client_cautions,
        "minor",
        "client: {born: 2010}\n" + TEST,
        "a set of five in place of attempts",
        "client: {born: 2008}\n" + TEST,
    ),
    Case(
        checks_safety.client_cautions,
        "supervised-minor",
        "client: {born: 2010, supervisor: Dr Ash}\n",
        "names a supervising professional",
    ),
    Case(
        checks_safety.client_cautions,
        "older",
        "client: {born: 1960}\n",
        "no load was changed",
        "client: {born: 1962}\n",
    ),
    # Clearance before hard training: Riebe et al. 2015 (references, section 10).
    Case(
        checks_safety.client_cautions,
        "clinician",
        "screening: {clinician_advised: true}\n" + monday(HELD, SQUAT, ROW),
        "no hold is above the max",
        "screening: {clinician_advised: true, cleared: 2027-01-02}\n" + monday(HELD, SQUAT, ROW),
    ),
    # Recent is less than six weeks before the start, 2027-01-04: common practice, no source.
    Case(
        checks_safety.client_cautions,
        "recent-limit",
        "limits: [{area: wrist, avoid: [push press], since: 2026-11-24}]\n",
        "less than six weeks",
        "limits: [{area: wrist, avoid: [push press], since: 2026-11-23}]\n",
    ),
    # Safety bars for squats, a spotter for a bar over the face: Haff & Triplett 2016, ch. 15 (references, section 7).
    Case(checks_safety.squat_without_safeties, "squat-without-safeties", "gym: {safeties: false}\n", "no safeties"),
    Case(
        checks_safety.bench_alone,
        "bench-alone",
        "gym: {spotter: never, safeties: false}\n",
        "bench press: no spotter is ever there, nor are there safeties",
        "gym: {spotter: sometimes, safeties: false}\n",
    ),
    # Between safeties the lifter alone may press, but not to failure: common practice, no source.
    Case(
        checks_safety.bench_alone,
        "bench-alone",
        "gym: {spotter: never}\n" + presses("kind: single, sets: 3, reps: 5, rir: 0, add: 1 kg"),
        "bench press: no spotter is ever there, sets may end at failure",
        "gym: {spotter: never}\n",
    ),
    Case(
        checks_safety.bench_alone,
        "bench-alone",
        "gym: {spotter: never}\n" + presses("kind: rep_out, sets: 3, reps: 5, rir: 3, add: 1 kg, stop: {rir: 0}"),
        "sets may end at failure",
        "gym: {spotter: never}\n" + presses("kind: rep_out, sets: 3, reps: 5, rir: 3, add: 1 kg, stop: {rir: 1}"),
    ),
    Case(
        notes.pressed_alone,
        "pressed-alone",
        "gym: {spotter: never}\n",
        "bench press: no spotter is ever there; each set keeps a rep in reserve",
        "gym: {spotter: never, safeties: false}\n",
    ),
    Case(
        checks_safety.hold_alone,
        "hold-alone",
        "gym: {spotter: never}\n" + monday(HELD, SQUAT, ROW),
        "103 % of the max",
        "gym: {spotter: never}\n" + monday(drill("walkout", "kind: hold, from: 98 %, to: 100 %"), SQUAT, ROW),
    ),
    Case(
        checks_safety.attempt_alone,
        "attempt-alone",
        "gym: {spotter: never}\n" + TEST,
        "back squat: attempts",
        "gym: {spotter: never}\nblock: {test: {week: 6, lifts: [deadlift]}}\n",
    ),
    # No max tests for novices: common practice, no source.
    Case(
        checks_safety.novice_attempts,
        "novice-attempts",
        "training: {status: novice}\n" + TEST,
        "attempts at a max",
        "training: {status: novice}\n",
    ),
    # At the max behind a gate: common practice, no source; a squat would be held below it. A kilogram more each week
    # than 99 % of the max, and 99.5 %.
    Case(
        checks_safety.work_at_max,
        "work-at-max",
        "gym: {safeties: false}\n" + pulls("kind: wave, weeks: [{share: 99 %, sets: 1, reps: 1}], add: 2 kg"),
        "% of today's max is planned in spite of no-safeties",
        "gym: {safeties: false}\n" + pulls("kind: wave, weeks: [{share: 99.5 %, sets: 1, reps: 1}]"),
    ),
    # 105 % of the expected max: common practice, no source. Five weeks after 200 kg some 204 are expected, 216 likely.
    Case(
        checks_safety.third_attempt,
        "third-attempt",
        "block: {test: {week: 6, lifts: [back squat], attempts: {third: 110 %}}}\n",
        "215 kg, is 105.",
        "block: {test: {week: 6, lifts: [back squat], attempts: {third: 103 %}}}\n",
    ),
    # One pair of 25 kg leaves 177.5 kg for a max of 200; a bar of 195 kg is above 95 % of it. Arithmetic.
    Case(
        checks_safety.attempts_and_plates,
        "attempts-capped",
        "gym: {pairs: {25: 1}}\n" + TEST,
        "plates run out",
        TEST,
    ),
    Case(
        checks_safety.attempts_and_plates,
        "opener-heavy",
        "gym: {bars: {bar: 195}}\n" + TEST + monday(SINGLE, ROW),
        "above 95 %",
        TEST,
    ),
    Case(
        checks_safety.left_out,
        "left-out",
        "limits: [{area: back, avoid: [row from the floor]}]\n",
        "row from the floor is to be avoided",
        "limits: [{area: back, avoid: [push press]}]\n",
    ),
    Case(
        notes.replaced,
        "replaced",
        "limits: [{area: back, avoid: [row from the floor], instead: {row from the floor: pull-up}}]\n",
        "row from the floor is replaced by pull-up for the back",
    ),
    Case(
        checks_safety.left_out,
        "drill-untested",
        monday("drill: walkout, of: overhead press, progression: {kind: hold, from: 95 %, to: 100 %}", SQUAT, ROW),
        "the drill on overhead press",
        monday(HELD, SQUAT, ROW),
    ),
    Case(
        notes.changed_for_client,
        "changed-for-client",
        "changes: [{swap: row from the floor, to: pull-up, weeks: 2-3, why: Her back.}]\n",
        "row from the floor is swapped for pull-up on Day 1, weeks 2 to 3: Her back",
        "changes: []\n",
    ),
    # The day of the tests is 2027-01-01; the block starts on 2027-01-04. Calendar.
    Case(
        checks_progression.future_test,
        "test-in-future",
        bench_test("2027-01-02"),
        "dated 2027-01-02, after today",
        bench_test("2027-01-01"),
    ),
    *(
        Case(checks_progression.future_test, "test-in-future", DATED.format(what, "2027-01-02"), f"a {told} is dated",
             DATED.format(what, "2027-01-01"))
        for what, told in (("records", "record"), ("logged", "logged set"))
    ),
    # Twelve weeks: common practice, no source. 85 and 84 days before the start.
    Case(
        checks_progression.stale_test,
        "test-stale",
        bench_test("2026-10-11"),
        "12 weeks old",
        bench_test("2026-10-12"),
    ),
    # Above 10 reps to failure the equations were off: Mayhew et al. 1995 (references, section 1).
    Case(
        checks_progression.weak_test,
        "test-weak",
        bench_test(reps=8, rir=3),
        "11 reps to failure",
        bench_test(reps=8, rir=2),
    ),
    # A table of one's own that gives 70 % to five reps reads 100/0.7 = 142.9, O'Conner 112.5: 21 % of the former.
    # At ten reps the printed formulas and the handbook reach from 125 (O'Conner) to 134.7 (Wathan): 7.3 % of 133.3.
    Case(
        checks_progression.estimate_wide,
        "estimate-wide",
        "percent_table: {1: 100 %, 5: 70 %, 15: 60 %}\n" + bench_test(reps=5),
        "disagree by 21.",
        bench_test(reps=8, rir=2),
    ),
    # After a single of 200 kg fives at 210 kg are beyond reach: 87 % of 200 is 174 (Haff & Triplett 2016).
    Case(
        checks_reach.load_held,
        "load-held",
        squats("kind: single, sets: 3, reps: 5, start: 150 kg, rir: 3, add: 15 kg"),
        "the rule asks for 210 kg, more than is likely; ",
        squats("kind: single, sets: 3, reps: 5, start: 150 kg, rir: 3, add: 2.5 kg"),
    ),
    # Under 18 one rep stays: 170 kg is 85 % of 200, six reps to failure (the same table).
    Case(
        checks_reach.load_held,
        "load-easier",
        "client: {born: 2010}\n" + squats("kind: single, sets: 3, reps: 5, start: 160 kg, rir: 2, add: 5 kg"),
        "likely to leave too little in reserve; ",
        squats("kind: single, sets: 3, reps: 5, start: 160 kg, rir: 2, add: 5 kg"),
    ),
    # 170 kg is 85 % of 200, six reps to failure (the same table): one left after five.
    Case(
        checks_reach.reserve_apart,
        "reserve-apart",
        squats("kind: single, sets: 3, reps: 5, start: 170 kg, rir: 3, add: 1 kg"),
        "the block says 3 in reserve, and the load is likely to leave about",
        squats("kind: single, sets: 3, reps: 5, start: 170 kg, rir: 1, add: 1 kg"),
    ),
    # 177.5 kg is 88.8 %, between four and five reps to failure: five are made on less than half of the days.
    Case(
        checks_reach.week_unlikely,
        "week-unlikely",
        squats("kind: single, sets: 3, reps: 5, start: 177.5 kg, rir: 0, add: 1 kg"),
        "of 100 cases",
        squats("kind: single, sets: 3, reps: 5, start: 165 kg, rir: 0, add: 1 kg"),
    ),
    # 2 to 10 %: ACSM 2009 (references, section 7). 140 to 160 is 14.3 %, 150 to 165 10 %.
    Case(
        checks_progression.step_large,
        "step-large",
        squats("kind: single, sets: 3, reps: 5, start: 140 kg, rir: 3, add: 20 kg"),
        "by 14.3 %, 140 kg to 160 kg; 152.5 kg can be made",
        squats("kind: single, sets: 3, reps: 5, start: 150 kg, rir: 3, add: 15 kg", beyond="allow"),
    ),
    # 140 to 142.5 is 1.8 %; 125 to 127.5 and on to 130 is 2 %, to the tenth of a percent that is shown.
    Case(
        checks_progression.step_small,
        "step-small",
        squats("kind: double, sets: 3, reps: 4-5, start: 140 kg, add: 2.5 kg"),
        "by 1.8 %, 140 kg to 142.5 kg",
        squats("kind: double, sets: 3, reps: 4-5, start: 125 kg, add: 2.5 kg"),
    ),
    # 3 kg on 140 are 2.1 %; of them the plates make 2.5 kg at first.
    Case(
        checks_progression.step_small,
        "step-small",
        squats("kind: double, sets: 3, reps: 4-5, start: 140 kg, add: 2.5 kg"),
        "by 1.8 %, 140 kg to 142.5 kg",
        squats("kind: double, sets: 3, reps: 4-5, start: 140 kg, add: 3 kg"),
    ),
    # 210 kg for 5 with 3 left needs 210/0.80 = 262.5 kg by the handbook's row of 8, 31.25 % above 200. An
    # intermediate's 10 % and a novice's 35 %: common practice, no source.
    Case(
        checks_progression.progress_steep,
        "progress-steep",
        squats("kind: single, sets: 3, reps: 5, start: 150 kg, rir: 3, add: 15 kg", beyond="allow"),
        "210 kg for 5 needs a max 31.2 % above",
        "training: {status: novice}\n" + squats("kind: single, sets: 3, reps: 5, start: 150 kg, rir: 3, add: 15 kg"),
    ),
    # Singles at 112.5 and 110 % of the max need just that max.
    Case(
        checks_progression.progress_steep,
        "progress-steep",
        squats("kind: wave, weeks: [{share: 112.5 %, sets: 1, reps: 1}]", beyond="allow"),
        "225 kg for 1 needs a max 12.5 % above",
        squats("kind: wave, weeks: [{share: 110 %, sets: 1, reps: 1}]", beyond="allow"),
    ),
    Case(
        checks_progression.estimate_wide,
        "estimate-wide",
        "percent_table: {1: 100 %, 5: 70 %, 15: 60 %}\n" + bench_test(reps=5),
        "disagree by 21.",
        "percent_table: {1: 100 %, 5: 70 %, 15: 60 %}\n" + bench_test(reps=11),
    ),
)
