"""Checks of safety: the client's cautions and what the plan did about them, spotting, attempts, what was left out."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from builder.given import Pattern
from builder.plan import Plan, PlannedSlot, WeekKind
from builder.plan.cautions import NO_MAX_TEST
from builder.plan.drills import GATES, SUPRAMAXIMAL
from builder.plan.model import Fact
from builder.review.finding import Finding, Gravity, Hit, Rule
from builder.review.where import heaviest, listed, load, on_barbell, percent, spots
from builder.training.norms import COMMON_PRACTICE
from builder.values.lists import TrainingStatus

SPOTTING = (
    "Haff GG, Triplett NT (eds). Essentials of Strength Training and Conditioning, 4th ed. Champaign, IL: "
    "Human Kinetics, 2016, ch. 15 (as quoted by others)."
)
SCREENING = "Riebe D et al. Med Sci Sports Exerc 2015;47(11):2473-2479."
THIRD_AT_MOST = Decimal("1.05")

_TOLD = {
    Rule(
        "minor", 'Name the professional who is present under "supervisor:", or leave it so.', COMMON_PRACTICE,
        Gravity.CAUTION,
    ): "the lifter may be under 18 and no supervising professional is named",
    Rule(
        "supervised-minor", "See that this person is there for every attempt and heavy hold.", COMMON_PRACTICE,
        Gravity.CAUTION,
    ): "the lifter may be under 18; the profile names a supervising professional",
    Rule(
        "older", "See that the screening is recent, and lower the working maxes when in doubt.", COMMON_PRACTICE,
        Gravity.CAUTION,
    ): "the lifter may be over 65 during the block; no load was changed for it",
    Rule(
        "clinician", 'Wait for the clinician, then write the day under "cleared:".', SCREENING,
        Gravity.CAUTION,
    ): "a clinician was advised and has not cleared the lifter",
    Rule(
        "recent-limit", "Ask before each session how it is, and stop at sharp pain.", COMMON_PRACTICE,
        Gravity.CAUTION,
    ): "a limit began less than six weeks before the block",
    Rule(
        "unscreened", 'Have a screening form answered first, then add "screening:".', SCREENING,
        Gravity.CAUTION,
    ): "no screening has been answered; no load was changed for it",
}  # fmt: skip
"""The fact of each caution about a client."""


def client_cautions(plan: Plan, _today: date) -> Iterator[Finding]:
    """Each caution about the client, with what the plan did about it; the gym's are checked where they matter."""
    for rule, fact in _TOLD.items():
        if rule.code in plan.cautions:
            done = _done_about(plan, rule.code)
            yield rule.at("", fact + (f": {done}" if done else ""))


def _done_about(plan: Plan, code: str) -> str:
    # Only what the plan really did: a lifter without screening keeps attempts, and no caution may say otherwise.
    done = []
    if code in NO_MAX_TEST and any(spot.slot.kind == "rep_test" for spot in spots(plan, WeekKind.TEST)):
        done.append("the test is a set of five in place of attempts")
    if code in GATES and any(spot.slot.kind == "hold" for spot in spots(plan)):
        done.append("no hold is above the max")
    return " and ".join(done)


_BENCH = Rule(
    "bench-alone",
    "Press between safeties set just below the chest, or with dumbbells; keep the reps in reserve.",
    SPOTTING,
    Gravity.CAUTION,
)


def bench_alone(plan: Plan, _today: date) -> Iterator[Finding]:
    """A barbell over the chest needs a spotter, or safeties and a rep in reserve."""
    within = plan.client.gym.safeties
    if names := listed(slot.movement for slot in _pressed_alone(plan) if not (within and _keeps_a_rep(slot))):
        how = "sets may end at failure" if within else "nor are there safeties"
        yield _BENCH.at("", f"{names}: no spotter is ever there, {how}; the bar is loaded without collars")


def pressed_under_safeties(plan: Plan) -> str:
    """The movements that `bench_alone` passes over though nobody is there."""
    within = plan.client.gym.safeties
    return listed(slot.movement for slot in _pressed_alone(plan) if within and _keeps_a_rep(slot))


def _pressed_alone(plan: Plan) -> Iterator[PlannedSlot]:
    if "no-spotter" in plan.cautions:
        yield from (s.slot for s in spots(plan) if s.slot.kind != "hold" and s.slot.about.over_chest)


def _keeps_a_rep(slot: PlannedSlot) -> bool:
    """Whether each set is known to end a rep before failure."""
    return all(planned.left is not None and planned.left >= 1 for planned in slot.work)


_SAFETIES = Rule(
    "squat-without-safeties",
    "Squat in a rack with safety bars set just below the lowest point.",
    SPOTTING,
    Gravity.CAUTION,
)


def squat_without_safeties(plan: Plan, _today: date) -> Iterator[Finding]:
    """A barbell squat belongs in a rack with safety bars."""
    squatted = any(on_barbell(spot.slot, Pattern.SQUAT) for spot in spots(plan))
    held = any(spot.slot.kind == "hold" for spot in spots(plan))
    if "no-safeties" in plan.cautions and (squatted or held):
        done = "holds stay at or below the max" if held else "no load was changed for it"
        yield _SAFETIES.at("", f"the bar is on the shoulders and the gym has no safeties; {done}")


_HOLD = Rule(
    "hold-alone",
    "Have someone there for these holds, or end them at 100 %.",
    SPOTTING,
    Gravity.CAUTION,
)


def hold_alone(plan: Plan, _today: date) -> Iterator[Finding]:
    """A hold above the max when a spotter is never there."""
    if "no-spotter" in plan.cautions:
        held = [(spot, heaviest(plan, spot.slot)) for spot in spots(plan) if spot.slot.kind == "hold"]
        yield from _HOLD.once(
            Hit(spot.place, f"the hold is {percent(share)} of the max and no spotter is ever there", share)
            for spot, share in held
            if share > SUPRAMAXIMAL
        )


_ALONE = Rule("attempt-alone", "Have someone there on the test days.", SPOTTING, Gravity.CAUTION)


def attempt_alone(plan: Plan, _today: date) -> Iterator[Finding]:
    """Attempts at a max under a bar when a spotter is never there."""
    if "no-spotter" in plan.cautions:
        risky = (s.slot for s in spots(plan, WeekKind.TEST) if s.slot.attempts and s.slot.about.overhead_risk)
        names = listed(slot.movement for slot in risky)
        if names:
            yield _ALONE.at("", f"{names}: attempts at a max are planned and no spotter is ever there")


_NOVICE = Rule("novice-attempts", "Test a set of five with two in reserve; a novice's records come in training.")


def novice_attempts(plan: Plan, _today: date) -> Iterator[Finding]:
    """A novice has no need of a max."""
    if plan.client.training.status is TrainingStatus.NOVICE:
        tried = [s for s in spots(plan, WeekKind.TEST) if s.slot.attempts]
        yield from _NOVICE.once(Hit(s.place, "a novice goes for attempts at a max") for s in tried)


_ABOVE = Rule(
    "work-at-max",
    "Lower the start, the shares or what is added; test again before such weeks.",
    COMMON_PRACTICE,
    Gravity.CAUTION,
)


def work_at_max(plan: Plan, _today: date) -> Iterator[Finding]:
    """Working sets at or above today's max for a lifter whom a caution keeps from holds or attempts there."""
    # The gates of the plan hold drills and attempts; what a coach's own rule asks is left standing and told here.
    codes = [code for code in plan.cautions if code in (*GATES, *NO_MAX_TEST)]
    if codes:
        worked = [spot for spot in spots(plan, WeekKind.TRAINING) if spot.slot.drill is None]
        yield from _ABOVE.once(
            Hit(spot.place, f"{percent(share)} of today's max is planned in spite of {', '.join(codes)}", share)
            for spot in worked
            if (share := heaviest(plan, spot.slot)) >= SUPRAMAXIMAL
        )


_THIRD = Rule("third-attempt", "Plan the third attempt near 100 %; a good day shows in the second.")


def third_attempt(plan: Plan, _today: date) -> Iterator[Finding]:
    """A third attempt far above what is expected of the day."""
    for spot in spots(plan, WeekKind.TEST):
        day, last = spot.slot.expected, spot.slot.work[-1]
        if spot.slot.attempts is None or day is None or last.rung is None:
            continue
        share = last.rung.mass / day.about
        if share > THIRD_AT_MOST:
            fact = f"the third attempt, {load(plan, last.rung.mass)}, is {percent(share)} of the max expected by then"
            yield _THIRD.at(spot.place, fact)


_CAPPED = Rule("attempts-capped", "Lend plates for the test day, or test a set of reps.")
_OPENER = Rule("opener-heavy", "Test with a lighter bar, or test a set of reps.")


def attempts_and_plates(plan: Plan, _today: date) -> Iterator[Finding]:
    """Attempts that the gym's bars and plates cannot make as planned."""
    noted = [(spot, note.step) for spot in spots(plan, WeekKind.TEST) for note in spot.slot.notes]
    yield from _CAPPED.once(
        Hit(spot.place, "the plates run out before the last attempt, or the next load is too far above the max")
        for spot, code in noted
        if code == "attempts-capped"
    )
    yield from _OPENER.once(
        Hit(spot.place, "the lightest load is above 95 % of the max") for spot, code in noted if code == "opener-heavy"
    )


_LEFT = {
    "left-out": Rule("left-out", 'Name what replaces it under "instead:" of the limit.', "the client's own limits"),
    "drill-untested": Rule("drill-untested", "Add a tested set of its lift to the profile.", "the client's own tests"),
}


def left_out(plan: Plan, _today: date) -> Iterator[Finding]:
    """Movements that the limits take out, and drills without a tested lift."""
    for code, rule in _LEFT.items():
        noted = [dict(note.facts) for note in plan.notes if note.step == code]
        yield from rule.once(Hit("", _left_fact(code, facts)) for facts in noted)


def _left_fact(code: str, facts: dict[str, Fact]) -> str:
    movement = facts["movement"]
    if code == "left-out":
        return f"{movement} is to be avoided and nothing replaces it"
    return f"the drill on {movement} is left out, since the lift has no tested set"
