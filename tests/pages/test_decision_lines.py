"""The line that says what comes next decides something every time, and its numbers stand in it."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from pages.sample_pages import NAMES, context
from sources_for_tests import plan_of, slot_in, squat

from builder.pages.decisions import decisions
from builder.pages.planview import slot_notes, slot_view
from builder.pages.sheet import Density
from builder.plan.model import Outcome, PlannedSlot
from builder.training.loading import Rung
from builder.values.quantity import OnBar
from builder.words import Words


def said(slot: PlannedSlot) -> str:
    return " · ".join(f"{head} {value}" for head, value in decisions(slot, words()))


def words() -> Words:
    return context("intermediate").words


def rung(mass: str) -> Rung:
    return Rung(OnBar(Decimal(mass)), ())


@pytest.mark.parametrize("name", NAMES)
def test_every_printed_line_of_a_sample_leads_to_different_loads_or_says_that_one_is_held(name: str) -> None:
    """Two ways that end the same are one: a line of them would have a lifter read for nothing.

    Back-off sets are looked up by their top set, and two of those may lead to one load.
    """
    plan = context(name).plan
    slots = [slot for session in plan.sessions() for slot in session.slots]
    lines = [decisions(slot, words()) for slot in slots if slot.outcomes and not slot.outcomes[0].top]
    assert lines
    for line in lines:
        values = [value for _, value in line]
        assert len(set(values)) == len(values), line
        assert len(values) != 1, line


def test_a_step_that_is_held_says_so() -> None:
    made = plan_of(squat("kind: step, reps: 4, hold: 2, start: 100 kg, add: 5 kg"))
    assert said(slot_in(made, 1)) == "load held at 100 · missed twice → 90"
    assert said(slot_in(made, 2)) == "all reps made → 105 · missed once → 100 · missed twice → 90"


def test_outcomes_that_all_lead_to_the_same_load_print_no_line() -> None:
    made = slot_in(plan_of(squat("kind: single, reps: 5, add: 5 kg")), 1)
    same = tuple(replace(one, rung=made.outcomes[0].rung) for one in made.outcomes)
    assert decisions(replace(made, outcomes=same), words()) == ()
    again = tuple(Outcome(word, rung("100"), 5) for word in ("reps-reached", "reps-short"))
    assert decisions(replace(made, outcomes=again), words()) == ()


def test_a_range_names_its_top_and_what_follows_it() -> None:
    made = plan_of(squat("kind: double, reps: 3-5, start: 100 kg, add: 5 kg"))
    assert said(slot_in(made, 1)) == "all 5s → 105 × 3 · else 100 × 4 · missed twice → 90"


def test_a_range_on_the_heaviest_load_of_the_gym_stays_there() -> None:
    made = slot_in(plan_of(squat("kind: double, reps: 3-5, start: 100 kg, add: 5 kg")), 1)
    first, *others = made.outcomes
    assert said(replace(made, outcomes=(replace(first, rung=others[0].rung), *others))) == (
        "no heavier load; stay at 100 × 4 · missed twice → 90"
    )


def test_supersets_are_named_as_the_day_goes_and_one_without_its_partner_is_none() -> None:
    """Letters of the block run on from day to day, and a deload drops partners."""
    for name in NAMES:
        for session in context(name).plan.sessions():
            letters = [slot.superset for slot in session.slots if slot.superset]
            assert sorted(set(letters)) == list("ABCDEF"[: len(set(letters))]), session
            assert all(letters.count(letter) > 1 for letter in letters), session


def test_a_rep_that_is_a_way_or_a_time_is_told_at_every_density() -> None:
    ctx = context("intermediate")
    carries = [s for session in ctx.plan.sessions() for s in session.slots if s.movement == "suitcase carry"]
    assert carries
    # The same carry, counted in reps of its movement.
    reps = tuple(replace(one, metres=None, reps=2) for one in carries[0].sets)
    carry = replace(carries[0], sets=reps, outcomes=())
    for density in Density:
        view = slot_view(ctx, carry, 1, density)
        assert "one rep 20\N{NO-BREAK SPACE}m" in view.tags
        assert not any("20 m" in note.text for note in slot_notes(ctx, carry, density))
