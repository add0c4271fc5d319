"""What a coach types after the options: values are taken, or refused with the same help, as in a profile."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sources_for_tests import LIFTS, client, problems_of

from builder.given import Conditions
from builder.log.results import DayOutcome, LiftOutcome, Result
from builder.values.problem import Span
from builder.values.quantity import Unit, plain
from builder.values.scalars import Amount
from builder.work.retest import Typed, understood_outcome

DAY = date(2027, 3, 1)


def _outcome(**typed: object) -> DayOutcome:
    outcome, problems = understood_outcome(Typed(**typed), DAY)  # type: ignore[arg-type]
    assert outcome is not None and problems == ()
    return outcome


def _refused(**typed: object) -> list[tuple[str, str, int, str]]:
    outcome, problems = understood_outcome(Typed(**typed), DAY)  # type: ignore[arg-type]
    assert outcome is None
    places = [p.span if isinstance(p.span, Span) else Span("", 0, 0) for p in problems]
    return [(p.code, at.file, at.column, p.help) for p, at in zip(problems, places, strict=True)]


@pytest.mark.parametrize(
    ("text", "lift", "load", "reps", "rir"),
    [
        ("back squat: 147.5 x 1", "back squat", Amount(Decimal("147.5")), 1, "0"),
        ("back squat:147.5x1", "back squat", Amount(Decimal("147.5")), 1, "0"),
        ("Squat : 325lb × 3 rir 1.5", "Squat", Amount(Decimal(325), Unit.LB), 3, "1.5"),
        ("5-count bench: 100 kg * 5 RIR 2", "5-count bench", Amount(Decimal(100), Unit.KG), 5, "2"),
        ("deadlift: 190 KG X 2", "deadlift", Amount(Decimal(190), Unit.KG), 2, "0"),
        # A comma for the point, and effort as people say it, as `start` and a roster read them.
        ("back squat: 147,5 x 1", "back squat", Amount(Decimal("147.5")), 1, "0"),
        ("back squat: 100 x 5 @8", "back squat", Amount(Decimal(100)), 5, "2"),
        ("back squat: 100 x 5 RPE 8,5", "back squat", Amount(Decimal(100)), 5, "1.5"),
        ("back squat: 100x5, 2 left", "back squat", Amount(Decimal(100)), 5, "2"),
        ("back squat: 100 x 5 reps 2 rir", "back squat", Amount(Decimal(100)), 5, "2"),
    ],
)
def test_a_result_is_read(text: str, lift: str, load: Amount, reps: int, rir: str) -> None:
    assert _outcome(results=[text]).lifts == (LiftOutcome(lift, Result(load, reps, Decimal(rir))),)


@given(st.integers(0, 20000), st.sampled_from(["", " kg", "lb"]), st.integers(1, 30), st.integers(0, 12))
def test_any_result_that_can_be_typed_is_read_back_equal(tenth: int, unit: str, reps: int, half: int) -> None:
    load, rir = Decimal(tenth) / 10, Decimal(half) / 2
    (one,) = _outcome(results=[f"back squat: {plain(load)}{unit} x {reps} rir {plain(rir)}"]).lifts
    assert one.result == Result(Amount(load, Unit(unit.strip()) if unit else None), reps, rir)


@pytest.mark.parametrize("written", ["1,500", "147.5 stone", "150 lbs", "heavy", "-5", "2001", "147.5 kilos"])
def test_a_load_that_a_profile_refuses_is_refused_with_the_same_help(written: str) -> None:
    lifts = LIFTS.replace("load: 200", f'load: "{written}"')
    (expected,) = problems_of(client(lifts=lifts))
    assert _refused(results=[f"back squat: {written} x 1"]) == [(expected.code, "--result", 13, expected.help)]
    assert _refused(missed=[f"back squat: {written}"])[0][0] == expected.code
    assert _refused(results=["back squat: 1 x 1"], bodyweight=written) == [
        (expected.code, "--bodyweight", 1, expected.help)
    ]


def test_reps_and_reserve_have_their_bounds() -> None:
    assert _refused(results=["back squat: 100 x 31"]) == [
        ("out-of-range", "--result", 19, "Write a number from 1 to 30.")
    ]
    assert _refused(results=["back squat: 100 x 3 rir 7"]) == [
        ("out-of-range", "--result", 25, "Write a number from 0 to 6.")
    ]
    assert _refused(results=["back squat: 100 x 3 @11"])[0][:3] == ("not-a-number", "--result", 22)
    assert _refused(results=["back squat: 100 x 2.5"])[0][0] == "not-a-whole-number"


UNREADABLE = ("", "back squat", "back squat 147.5 x 1", "back squat: 147.5", ": 147.5 x 1", "a: x 1")


@pytest.mark.parametrize("text", UNREADABLE)
def test_a_text_in_no_known_form_is_told_with_an_example(text: str) -> None:
    ((code, option, _, help_),) = _refused(results=[text])
    assert (code, option) == ("result-form", "--result")
    assert '"back squat: 147.5 x 1"' in help_


def test_all_that_is_said_of_a_lift_comes_together() -> None:
    outcome = _outcome(
        results=["back squat: 147.5 x 1", "bench press: 100 x 3 rir 1"],
        made=["Back Squat: 140", "back squat: 147.5"],
        missed=["back squat: 152.5"],
        conditions=["back squat: belt no", "back squat: bar high"],
        notes=["bench press: paused: long"],
        bodyweight="86.5",
    )
    amounts = {text: Amount(Decimal(text)) for text in ("140", "147.5", "152.5", "86.5")}
    squat, bench = outcome.lifts
    assert (squat.made, squat.missed) == ((amounts["140"], amounts["147.5"]), (amounts["152.5"],))
    assert squat.conditions == Conditions.model_validate({"belt": "no", "bar": "high"})
    assert bench.note == "paused: long" and bench.conditions == Conditions()
    assert (outcome.day, outcome.bodyweight) == (DAY, amounts["86.5"])


def test_a_day_of_misses_needs_no_result_but_everything_else_does() -> None:
    (one,) = _outcome(missed=["back squat: 150"]).lifts
    assert one.result is None and one.missed == (Amount(Decimal(150)),)
    for kind, text in (("made", "140"), ("notes", "hm"), ("conditions", "belt no")):
        typed = {kind: [f"back squat: {text}"]}
        assert [code for code, *_ in _refused(results=["bench press: 100 x 1"], **typed)] == ["no-result"]


def test_two_results_of_a_lift_and_unknown_conditions_are_problems() -> None:
    assert _refused(results=["back squat: 1 x 1", "Back squat: 2 x 1"])[0][0] == "result-twice"
    assert _refused(results=["back squat: 1 x 1"], conditions=["back squat: wraps yes"]) == [
        ("result-form", "--condition", 13, "Write bar, depth, belt or sleeves.")
    ]
    found = _refused(results=["back squat: 1 x 1"], conditions=["back squat: bar middle", "back squat: belt maybe"])
    assert [(code, column) for code, _, column, _ in found] == [("unknown-word", 17), ("not-yes-or-no", 18)]


def test_every_problem_of_a_line_is_told_at_once() -> None:
    assert [code for code, *_ in _refused(results=["back squat: 1,500 x 0 rir 9"], missed=["bench"])] == [
        "decimal-comma", "out-of-range", "out-of-range", "result-form"
    ]  # fmt: skip
