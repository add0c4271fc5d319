"""A client's changes of a shared block are the block rewritten by hand, and those for some weeks end with them."""

from __future__ import annotations

from random import Random

from invariants.test_sameness import all_of
from made.cases import Case, for_some_cases
from made.changes import rewritten
from made.masses import Data, written
from sources_for_tests import assembled

from builder.plan import Plan, PlannedSlot, make_plan


def _over(changes: list[Data]) -> str:
    return written({"format": 1, "changes": changes})


@for_some_cases
def test_changes_are_the_block_rewritten_by_hand(case: Case) -> None:
    """Slots dropped, altered, swapped and added: the same plan, and the same codes where it is none."""
    changes, block = rewritten(case.block, Random(case.made.texts[1]))
    if not changes:
        return
    changed, by_hand = (*case.made.texts, _over(changes)), (case.made.texts[0], written(block))
    (one, found), (other, wanted) = assembled(*changed), assembled(*by_hand)
    assert [problem.code for problem in found] == [problem.code for problem in wanted], changes
    if not found:
        assert all_of(make_plan(one)) == all_of(make_plan(other)), changes


@for_some_cases
def test_a_slot_that_is_swapped_for_a_week_goes_on_as_if_it_had_not_been(case: Case) -> None:
    """In all other weeks its loads, reps and sets are those of the plan without the change."""
    dice, weeks = Random(case.made.texts[0]), case.block["block"]["weeks"]
    every = [slot for day in case.block["days"] for slot in day["slots"] if "name" in slot]
    name, week = dice.choice(every)["name"], dice.randint(1, weeks)
    changed = (*case.made.texts, _over([{"swap": name, "to": "push press", "weeks": week}]))
    sources, problems = assembled(*changed)
    if problems:
        return  # The slot is not trained in that week, or is a push press already.
    made = make_plan(sources)
    assert _outside(made, name, week) == _outside(case.plan, name, week)
    swapped = [slot for session in made.weeks[week - 1].sessions for slot in session.slots if slot.changed]
    assert all(slot.movement == "push press" or slot.replaces for slot in swapped)


def _outside(made: Plan, name: str, week: int) -> list[object]:
    mine = (slot for one in made.weeks if one.number != week for s in one.sessions for slot in s.slots)
    return [_work(slot) for slot in mine if slot.cues[:1] == (name,)]


def _work(slot: PlannedSlot) -> object:
    return slot.movement, slot.exposure, [(s.reps, s.length, s.target, s.rung) for s in slot.work]
