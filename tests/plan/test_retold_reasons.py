"""Reasons that a reader with a pencil can follow: what the body carries, what is expected, what a gate takes off."""

from __future__ import annotations

from decimal import Decimal

from sources_for_tests import GYM, block, client, fact, plan, slot_in, squat, steps

from builder.pages.explain import plan_json
from builder.work.texts import load_words

PULL_UPS = "lifts: {pull-up: {tests: [{date: 2026-12-19, load: 20, reps: 1}]}}\n"
"""With 80 kg of body the max is 100."""


def test_a_pull_up_tells_what_the_body_is_of_its_max() -> None:
    """87 % of 100 is 87: the body is 80, 7 are to add (5 reps, handbook table: references.md, section 1)."""
    rule = "movement: pull-up, progression: {kind: single, reps: 5, rir: 0, add: 1 kg}"
    made = plan(client(lifts=PULL_UPS), block(rule))
    first = slot_in(made, 1).work[0]
    assert [fact(first, "effort", name) for name in ("share", "max_kg", "own_kg", "target_kg")] == [
        Decimal("0.87"), 100, 80, 7,
    ]  # fmt: skip
    told = plan_json(made, load_words("en", made.unit))
    (sentence,) = [
        why["text"] for why in told["weeks"][0]["sessions"][0]["slots"][0]["sets"][0]["why"] if "own_kg" in why["facts"]
    ]
    assert "of which the body is" in sentence
    assert told["client"]["lifts"][0]["test"]["load"] == "100"


def test_the_body_counts_in_a_deload_and_says_so() -> None:
    """90 % of 80 + 20 is 90: 10 kg to add."""
    rule = "movement: pull-up, progression: {kind: single, reps: 3, start: 20 kg, add: 1 kg}, beyond: allow"
    made = plan(client(lifts=PULL_UPS), block(rule, head="deload: {weeks: [2]}"))
    lighter = slot_in(made, 2).work[0]
    assert (fact(lighter, "deload", "own_kg"), lighter.target) == (80, 10)


def test_a_squat_has_no_body_in_its_reasons() -> None:
    """Only what the movement lifts besides its load is told."""
    made = plan(client(), block(squat("kind: single, reps: 5, add: 1 kg")))
    assert "own_kg" not in dict(slot_in(made, 1).work[0].why[3].facts)


def test_an_expected_gain_says_how_much_it_is() -> None:
    """2 % at each exposure, or 5 kg: 2 times by the third week."""
    for gain, step, name, amount in (
        ("2 %", "expected-gain", "add_share", "0.02"),
        ("5 kg", "expected-gain-load", "add_kg", "5"),
    ):
        top = slot_in(plan(client(), block(squat(f"kind: top_set, reps: 1, rir: 0, gain: {gain}"))), 3).work[0]
        assert (fact(top, step, name), fact(top, step, "times")) == (Decimal(amount), 2)


def test_pins_behind_a_gate_tell_the_share_that_is_left() -> None:
    """110 % from high pins is 100 % without safeties, in the set as in its reason."""
    gym = GYM.replace("safeties: true", "safeties: false")
    slot = "drill: pin squat, of: back squat, progression: {kind: pins, from: 95 cm, to: 90 cm, shares: [110 %, 90 %]}"
    pinned = slot_in(plan(client(gym=gym), block(slot)), 1)
    assert (pinned.work[0].share, fact(pinned.work[0], "pin-share", "share"), pinned.work[0].target) == (1, 1, 200)
    assert "pin-share" in steps(pinned.work[0])


def test_a_hold_at_exactly_the_max_is_not_said_to_be_held_down() -> None:
    """160 kg for 5 with 1 left and a working max of 52 %: 100 % worked out in two ways differ in their 28th digit."""
    gym = GYM.replace("safeties: true", "safeties: false")
    lifts = (
        "lifts: {back squat: {tests: [{date: 2026-12-19, load: 160, reps: 5, rir: 1}], working_max: 52 %, "
        "held: {load: 220}}}\n"
    )
    slot = "drill: walkout, of: back squat, progression: {kind: hold, from: 100 %, to: 105 %}"
    made = plan(client(gym=gym, lifts=lifts, equation="equation: wathan\n"), block(slot))
    assert slot_in(made, 1).notes == ()
    assert [note.step for note in slot_in(made, 3).notes] == ["hold-capped-no-safeties"]
