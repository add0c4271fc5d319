"""Walkouts and pin squats: when they come, how they begin, and the gates before anything above the max."""

from decimal import Decimal

import pytest
from sources_for_tests import CLIENT, LIFTS, block, client, first_slots, mass, plan, plan_of, slot_in, squat

from builder.plan import Plan
from builder.plan.drills import turn
from builder.values.scalars import Every

SAFE = "safeties: true, spotter: always"
BARE_GYM = "gym: {{bars: {{bar: 20}}, pairs: {{25: 6, 20: 1, 15: 1, 10: 1, 5: 1, 2.5: 1, 1.25: 1}}, {}}}\n"


def _walkout(shares: str = "from: 95 %, to: 105 %", **more: str) -> str:
    rule = ", ".join(["kind: hold", shares, *(f"{k}: {v}" for k, v in more.items())])
    return f"drill: walkout, of: back squat, progression: {{{rule}}}"


def _pins(rule: str) -> str:
    return f"drill: pin squat, of: back squat, progression: {{kind: pins, {rule}}}"


def _held(made: Plan) -> dict[int, str]:
    """Loads of the drill by week."""
    return {
        w.number: mass(s.slots[0].work[0])
        for w in made.weeks
        for s in w.sessions
        if s.slots and s.slots[0].drill and s.slots[0].work[0].rung
    }


def test_a_cadence_of_weeks_counts_from_the_first_time() -> None:
    """Every second week, whatever else is trained."""
    assert [w for w in range(6) if turn(Every(2, "weeks"), 0, w).due] == [0, 2, 4]


def test_a_cadence_of_exposures_counts_how_often_the_slot_came() -> None:
    """Every third time."""
    assert [n for n in range(7) if turn(Every(3, "exposures"), n, 99).due] == [0, 3, 6]


@pytest.mark.parametrize(
    ("every", "weeks"),
    [("1 week", [1, 2, 3, 4, 5, 6]), ("2 weeks", [1, 3, 5]), ("3 weeks", [1, 4]), ("4 exposures", [1, 5])],
)
def test_a_walkout_comes_at_its_cadence(every: str, weeks: list[int]) -> None:
    """Once or twice a month is the trade's way (common practice, no source): every second or fourth week."""
    assert list(_held(plan_of(_walkout(every=every), weeks=6))) == weeks


def test_a_drill_that_begins_later_counts_from_there() -> None:
    """Weeks 3 to 8, every second: 3, 5, 7."""
    assert list(_held(plan_of(_walkout() + ", weeks: 3-8", weeks=8))) == [3, 5, 7]


def test_a_walkout_is_reached_by_holds_and_the_squats_after_it_ramp_on_from_what_was_squatted() -> None:
    """The walkout at 190: up to half of it squatted, then held for 3 s. The squats at 160 begin above that."""
    made = plan_of(_walkout(), squat("kind: single, reps: 5, start: 80 %, add: 1 kg"), weeks=1)
    drill, work = made.weeks[0].sessions[0].slots
    assert [(mass(s), s.reps, s.seconds) for s in drill.ramp] == [
        ("20", 8, None), ("70", 5, None), ("110", 1, 3), ("140", 1, 3), ("170", 1, 3),
    ]  # fmt: skip
    assert work.ramp and all(s.rung and 70 < s.rung.mass <= 144 and s.seconds is None for s in work.ramp)


def test_a_walkout_prints_no_cues_of_the_squat() -> None:
    """Its page says not to squat it. The coach's own cues stay."""
    assert plan_of(_walkout(), weeks=1).weeks[0].sessions[0].slots[0].cues == ()
    own = plan_of(_walkout() + ", cues: [Feet first]", weeks=1)
    assert own.weeks[0].sessions[0].slots[0].cues == ("Feet first",)


class TestHolds:
    """Loads of 95 to 105 % (common practice, no source) of a 200 kg max."""

    def test_the_way_up(self) -> None:
        """95, 97, 99, 101, 103 and 105 %, rounded down to 2.5 kg; there it stays."""
        made = plan_of(_walkout(), weeks=13)
        assert list(_held(made).values()) == ["190", "192.5", "197.5", "200", "205", "210", "210"]

    def test_loads_round_down_even_where_the_gym_rounds_up(self) -> None:
        """97 % is 194: 192.5."""
        up = client(gym=BARE_GYM.format(SAFE + ", rounding: up"))
        assert _held(plan(up, block(_walkout(), weeks=3)))[3] == "192.5"

    def test_a_first_timer_starts_at_a_load_really_handled(self) -> None:
        """A test of 160 x 5 with 1 left means a max of 188.24; the first hold is 160, not 95 % of it; then 2 % more."""
        lifts = "lifts: {back squat: {tests: [{date: 2026-12-19, load: 160, reps: 5, rir: 1}]}}\n"
        made = plan(client(lifts=lifts), block(_walkout(), weeks=3))
        assert _held(made) == {1: "160", 3: "162.5"}
        assert "first-hold" in [note.step for note in slot_in(made, 1).notes]

    def test_a_record_has_been_handled_too(self) -> None:
        """170 for a double in the log lets the holds begin at 170."""
        lifts = (
            "lifts: {back squat: {tests: [{date: 2026-12-19, load: 160, reps: 5, rir: 1}], "
            "records: [{load: 170, reps: 2}]}}\n"
        )
        assert _held(plan(client(lifts=lifts), block(_walkout(), weeks=1))) == {1: "170"}

    def test_what_was_held_before_counts_most(self) -> None:
        """Someone who has held 210 starts where the rule says; a hold of 150 does not undercut a lift of 200."""
        for held, first in (("210", "190"), ("150", "190")):
            lifts = LIFTS.replace("reps: 1}]}", f"reps: 1}}], held: {{load: {held}}}}}", 1)
            assert _held(plan(client(lifts=lifts), block(_walkout(), weeks=1))) == {1: first}

    def test_a_first_timers_hold_of_a_variant_starts_below_what_was_tested(self) -> None:
        """A hold never begins above a load really handled, whatever the deload or the ratio says."""
        walkout = "drill: walkout, of: back squat, ratio: 120 %, progression: {kind: hold, from: 100 %, to: 105 %}"
        assert Decimal(_held(plan_of(walkout, weeks=1))[1]) <= 200

    def test_a_missed_load_was_not_handled(self) -> None:
        """A failed 220 does not count."""
        lifts = (
            "lifts: {back squat: {tests: [{date: 2026-12-19, load: 160, reps: 5, rir: 1}, "
            "{date: 2026-12-20, load: 220, reps: 1, missed: true}]}}\n"
        )
        assert _held(plan(client(lifts=lifts), block(_walkout(), weeks=1))) == {1: "160"}

    @pytest.mark.parametrize(
        ("changes", "code"),
        [
            ({"gym": BARE_GYM.format("safeties: false, spotter: always")}, "no-safeties"),
            ({"client": "client: {name: Q, units: kg, born: 2010}\n"}, "minor"),
            ({"screening": "screening: {answered: 2027-01-01, clinician_advised: true}\n"}, "clinician"),
            ({"screening": "limits: [{area: back, avoid: [good morning], since: 2026-12-20}]\n"}, "recent-limit"),
        ],
    )
    def test_nothing_above_the_max_behind_a_gate(self, changes: dict[str, str], code: str) -> None:
        """From 101 % on the load stays at the max, and the note says why."""
        made = plan(client(**changes), block(_walkout(), weeks=11))
        assert list(_held(made).values()) == ["190", "192.5", "197.5", "200", "200", "200"]
        notes = [[n.step for n in slot.notes] for slot in first_slots(made)]
        assert notes == [[], [], [], *[[f"hold-capped-{code}"]] * 3]

    @pytest.mark.parametrize(
        "changes",
        [
            {"client": "client: {name: Q, units: kg, born: 2010, supervisor: A professional}\n"},
            {"client": "client: {name: Q, units: kg, born: 2008}\n"},
            {"screening": "screening: {answered: 2027-01-01, clinician_advised: true, cleared: 2027-01-02}\n"},
            {"screening": "limits: [{area: back, avoid: [good morning], since: 2026-06-01}]\n"},
        ],
    )
    def test_the_gate_opens_when_its_reason_is_gone(self, changes: dict[str, str]) -> None:
        """A named supervisor, an eighteenth birthday surely past, a clearance, an old limit."""
        assert list(_held(plan(client(**changes), block(_walkout(), weeks=11))).values())[-1] == "210"

    def test_a_walkout_of_an_untested_lift_is_left_out_and_said(self) -> None:
        """Nothing is known that it could be gated by."""
        made = plan_of(
            "drill: walkout, of: hip thrust, progression: {kind: hold, from: 95 %, to: 105 %}",
            squat("kind: single, reps: 5, add: 1 kg"),
            weeks=1,
        )
        assert [s.movement for s in made.weeks[0].sessions[0].slots] == ["back squat"]
        assert [(n.step, dict(n.facts)) for n in made.notes] == [("drill-untested", {"movement": "hip thrust"})]

    def test_in_a_deload_that_keeps_drills_a_hold_is_lighter(self) -> None:
        """90 % of 190 is 171: 170; the next one goes on as if nothing had been."""
        made = plan_of(_walkout(every="1 week"), weeks=3, head="deload: {weeks: [1], drop: []}")
        assert _held(made) == {1: "170", 2: "190", 3: "192.5"}


class TestPins:
    """Heights in holes or centimetres; shares fall with them."""

    GYM = BARE_GYM.format(SAFE + ", pins: {first: 30, spacing: 5, holes: 24}")

    def test_parallel_is_trained_at_65_to_75_percent_and_higher_pins_heavier(self) -> None:
        """As is the trade's way (common practice, no source), every second week, for 4 to 6 reps."""
        made = plan_of(_pins("from: 100 cm, to: 90 cm, lower: 5, shares: [85 %, 70 %], reps: 5"), weeks=6)
        assert _held(made) == {1: "170", 3: "155", 5: "140"}
        shares = [slot.work[0].share for slot in first_slots(made)]
        assert shares == [Decimal(x) for x in ("0.85", "0.775", "0.7")]

    def test_holes_are_shown_with_their_height(self) -> None:
        """Hole 1 at 30 cm, 5 cm apart: hole 10 is at 75 cm."""
        made = plan(client(gym=self.GYM), block(_pins("from: hole 10, to: hole 8"), weeks=5))
        pins = [slot.pin for slot in first_slots(made)]
        assert [(p.hole, p.centimetres) for p in pins if p] == [(10, Decimal(75)), (9, Decimal(70)), (8, Decimal(65))]

    def test_a_height_in_a_known_rack_is_its_next_hole_down(self) -> None:
        """78 cm lies between hole 10 (75) and 11 (80): hole 10, and the booklet prints the real 75 cm."""
        made = plan(client(gym=self.GYM), block(_pins("from: 78 cm, to: 78 cm"), weeks=1))
        pin = slot_in(made, 1).pin
        assert pin is not None
        assert (pin.hole, pin.centimetres) == (10, Decimal(75))

    def test_a_height_without_a_known_rack_stays_in_centimetres(self) -> None:
        """No hole is made up."""
        pin = slot_in(plan_of(_pins("from: 78.5 cm, to: 70 cm"), weeks=1), 1).pin
        assert pin is not None
        assert (pin.hole, pin.centimetres) == (None, Decimal("78.5"))

    def test_one_height_is_trained_at_the_lower_share(self) -> None:
        """Where nothing falls the pins are as low as they get: 65 % of 200 is 130."""
        assert _held(plan_of(_pins("from: 90 cm, to: 90 cm, shares: [80 %, 65 %]"), weeks=1)) == {1: "130"}

    def test_the_last_step_does_not_go_below_the_lowest_height(self) -> None:
        """100 to 93 in steps of 4: 100, 96, 93."""
        made = plan_of(_pins("from: 100 cm, to: 93 cm, lower: 4"), weeks=5)
        pins = [slot.pin for slot in first_slots(made)]
        assert [p.centimetres for p in pins if p] == [100, 96, 93]


def test_drills_of_a_lift_to_avoid_are_left_out_even_with_a_replacement() -> None:
    """Nobody walks out a bench press, though it has been tested."""
    avoid = "limits: [{area: back, avoid: [back squat], instead: {back squat: bench press}}]\n"
    made = plan(client(screening=avoid), block(_walkout(), squat("kind: single, reps: 5, add: 1 kg"), weeks=1))
    assert [(s.movement, s.drill) for s in made.weeks[0].sessions[0].slots] == [("bench press", None)]


def test_the_usual_client_has_no_gate() -> None:
    """What the tests above change is what makes the difference."""
    assert set(plan(CLIENT, block(_walkout(), weeks=1)).cautions) == set()
