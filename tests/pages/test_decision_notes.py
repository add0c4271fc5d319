"""The small tables under a slot: what follows from a result, and what an open set says of the max."""

from __future__ import annotations

from dataclasses import replace

from pages.sample_pages import context
from sources_for_tests import plan_of, slot_in, squat

from builder.pages.model import Paper
from builder.pages.planview import Note, slot_notes
from builder.pages.sheet import Density
from builder.plan import Plan


def notes(made: Plan) -> list[Note]:
    ctx = replace(context("advanced", Paper.A5), plan=made)
    return [note for note in slot_notes(ctx, slot_in(made, 1), Density.AIRY) if note.cells]


def test_an_open_set_tells_its_max_for_each_number_of_reps() -> None:
    """150 kg with one left: 5 reps are 6 to failure, 85 %, so 176.5 kg; then 83, 80, 77 and 75 % (Haff & Triplett
    2016, table 17.7): 180.7, 187.5, 194.8 and 200 kg.
    """
    made = plan_of(squat("kind: rep_out, sets: 2, reps: 5, start: 150 kg, add: 2.5 kg, stop: {rir: 1}"))
    _, worth = notes(made)
    assert [value.replace("\N{NARROW NO-BREAK SPACE}", " ") for _, value in worth.cells] == [
        "176.5 kg", "180.7 kg", "187.5 kg", "194.8 kg", "200 kg",
    ]  # fmt: skip
    heads = [head.strip("· ").split("\N{NO-BREAK SPACE}") for head, _ in worth.cells]
    assert heads == [["5", "="], ["6", "="], ["7", "="], ["8", "="], ["9", "="]]


def test_the_table_says_in_its_text_what_its_cells_say() -> None:
    """The text is what the height of the page is worked out from."""
    (note,) = notes(plan_of(squat("kind: single, reps: 5, add: 5 kg")))
    assert note.text == " ".join((note.lead, *(f"{head} {value}" for head, value in note.cells)))
    assert "all reps made → 170" in note.text
