"""What stands beside and over the sets of a lift: heads that fit what is counted, and nothing that is said twice."""

from __future__ import annotations

import pytest
from pages.sample_pages import plain_context
from sources_for_tests import plan_of, slot_in, squat

from builder.pages.decisions import decisions
from builder.pages.figures.draw import wide
from builder.pages.grid import grids
from builder.pages.lifts import lift
from builder.pages.log import column_heads
from builder.pages.model import Paper
from builder.pages.setlines import set_lines
from builder.pages.sheet import Density, sheet
from builder.pages.theme import theme
from builder.plan.model import PlannedSlot
from builder.values.quantity import Unit
from builder.work.texts import load_words

WORDS = load_words("en", Unit.KG)
FIVES = squat("kind: rep_out, sets: 3, reps: 5, start: 100 kg, add: 2.5 kg", rest="3 min")
PUSH_UP = "movement: push-up, progression: {kind: double, reps: 8-12, add: 2 kg}"
PLANK = "movement: plank, progression: {kind: double, sets: 3, time: 30-60 s, longer: 10 s}"
CARRY = "movement: farmer's carry, progression: {kind: double, sets: 2, distance: 20-40 m, longer: 10 m}"
BIKE = "conditioning: easy bike, progression: {kind: double, sets: 1, time: 20-30 min, longer: 5 min}"


def only(text: str) -> PlannedSlot:
    """The first slot of a plan of one."""
    return slot_in(plan_of(text, weeks=1), 1)


@pytest.mark.parametrize(
    ("slots", "head"),
    [
        ([FIVES, PUSH_UP], "reps"), ([PLANK], "time"), ([CARRY], "m"), ([FIVES, BIKE], "reps/time"),
        ([FIVES, PLANK, CARRY], "reps, s, m"),
    ],
)  # fmt: skip
def test_the_head_of_the_count_says_what_is_counted(slots: list[str], head: str) -> None:
    assert column_heads([only(text) for text in slots], WORDS) == ("load", head, "RIR", "done")


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("slots", [[FIVES, PLANK], [FIVES, CARRY], [PLANK, CARRY], [FIVES, PLANK, CARRY]])
def test_every_head_ends_before_the_next_cell_begins(slots: list[str], language: str) -> None:
    """On each paper; a longer one would push those behind it over the next cells. 7.5 pt, 8.5 pt in large print."""
    head = column_heads([only(text) for text in slots], load_words(language, Unit.KG))[1]
    for paper in Paper:
        for name, points in (("plain", 7.5), ("large-print", 8.5)):
            page = sheet(paper, theme(name))
            shared = not (page.enlarged or page.facing)
            for grid in (*grids(page, False), *grids(page, shared)):
                assert wide(head, points * 0.3528) < grid.cell, (paper, name, head)


def test_a_rest_that_stays_is_told_once() -> None:
    """Two fives and an open one with three minutes before each; four minutes after a top set, then three."""
    made = plan_of(FIVES, weeks=1)
    open_last = slot_in(made, 1)
    assert [line.effort.count("3 min") for line in set_lines(open_last, WORDS)] == [1, 0]
    lines = lift(plain_context(made), made.sessions()[0], 1, Density.NORMAL).lines
    assert [line.rest.count("3") for line in lines] == [1, 0]
    further = squat(
        "kind: single, sets: 1, reps: 3, start: 100 kg, add: 1 kg, then: [{reps: 3, rest: 60 s}]", rest="3 min"
    )
    assert len({line.effort for line in set_lines(only(further), WORDS)}) == 2


@pytest.mark.parametrize(("slot", "head"), [(BIKE, "20 min done →"), (PLANK, "all 3 × 30 s done →")])
def test_what_is_to_be_done_in_full_is_named(slot: str, head: str) -> None:
    assert decisions(only(slot), WORDS)[0][0].replace("\N{NO-BREAK SPACE}", " ") == head
