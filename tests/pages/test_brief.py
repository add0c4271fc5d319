"""The plan at a glance: a table, one lift, and what differs from another plan."""

from __future__ import annotations

from sources_for_tests import CLIENT, block, plan, squat

from builder.pages.explain import against_text, brief_text, lift_text
from builder.values.quantity import Unit
from builder.work.texts import load_words

WORDS = load_words("en", Unit.KG)
FIVES = "kind: single, sets: 3, reps: 5, start: 100 kg, add: 10 kg"
PRESS = "movement: bench press, progression: {kind: single, sets: 3, reps: 5, start: 50 kg, add: 5 kg}"
PAUSE = "movement: pause back squat, weeks: 2-4, progression: {kind: single, sets: 2, reps: 3, start: 80 kg, add: 5 kg}"
DELOADED = "deload: {weeks: [3], load: 80 %, sets: 60 %}"


def test_lifts_stand_down_and_weeks_across() -> None:
    """100, 110, 80 % of 110 in the deload (88, rounded down to 87.5), 120; the variant from week 2 on."""
    made = plan(CLIENT, block(squat(FIVES), PRESS, PAUSE, head=DELOADED))
    rows = [line.split("  ") for line in brief_text(made, WORDS)]
    cells = [[cell.strip() for cell in row if cell.strip()] for row in rows if any(row)]
    assert cells[0] == ["1", "2", "3 deload", "4"]
    assert cells[1] == ["back squat", "100×5", "110×5", "87.5×5", "120×5"]
    assert cells[2] == ["bench press", "50×5", "55×5", "42.5×5", "60×5"]
    assert cells[3] == ["pause back squat", "80×3", "62.5×3", "85×3"]


def test_a_narrow_terminal_gets_the_weeks_in_parts() -> None:
    """No line is longer than it has room for, and no week is left out."""
    made = plan(CLIENT, block(squat(FIVES), weeks=10))
    lines = list(brief_text(made, WORDS, 40))
    assert max(map(len, lines)) <= 40
    assert sum(line.count("×5") for line in lines) == 10


def test_one_lift_is_told_session_by_session_with_its_variants() -> None:
    """A line each; the bench is no part of it."""
    made = plan(CLIENT, block(squat(FIVES), PRESS, PAUSE))
    lines = list(lift_text(made, WORDS, "back squat"))
    assert len(lines) == 7
    assert lines[0].startswith("Week 1, Mon 4 Jan  back squat: 3 × 5 × 100 kg")
    assert "pause back squat: 2 × 3 × 80 kg" in lines[2]


def test_two_plans_are_told_apart_slot_by_slot() -> None:
    """Heavier from week 2 on, the bench gone, the variant new."""
    old = plan(CLIENT, block(squat(FIVES), PRESS, weeks=2))
    new = plan(CLIENT, block(squat(FIVES.replace("10 kg", "20 kg")), PAUSE.replace("2-4", "2-2"), weeks=2))
    lines = list(against_text(new, old, WORDS))
    assert lines[-1] == "4 slots differ."
    assert any("3 × 5 × 110 kg" in line and "→ 3 × 5 × 120 kg" in line for line in lines)
    assert sum(": gone, " in line for line in lines) == 2
    assert sum(": new, " in line for line in lines) == 1


def test_a_plan_does_not_differ_from_itself() -> None:
    """One line that says so."""
    made = plan(CLIENT, block(squat(FIVES)))
    assert list(against_text(made, made, WORDS)) == ["No set differs."]


def test_a_working_max_that_changed_is_told() -> None:
    """From 200 to 180 kg."""
    less = "format: 1\nlifts: {back squat: {working_max: 90 %}}\n"
    old, new = plan(CLIENT, block(squat(FIVES))), plan(CLIENT, less, block(squat(FIVES)))
    assert [line.replace("\N{NARROW NO-BREAK SPACE}", " ") for line in against_text(new, old, WORDS)][-2:] == [
        "back squat: working max 200 kg → 180 kg", "No set differs.",
    ]  # fmt: skip
