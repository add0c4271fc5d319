"""Effort as a rating: written as one, planned as the reserve that it means, printed and read back as a rating."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from sources_for_tests import CLIENT, block, codes, plan, plan_of, slot_in, sources, squat, written

from builder.log import typed
from builder.log.manifest import planned_rows
from builder.log.resume import _still_meaning
from builder.log.rows import RowTexts, read_row
from builder.pages.reasons import reason_sentence
from builder.pages.setlines import set_lines
from builder.training.effort import rpe_of
from builder.values.fields import SetField
from builder.values.quantity import Unit
from builder.work.texts import catalogue, languages, load_words


@pytest.mark.parametrize(
    ("rated", "reserve"),
    # RPE 10 is none left, 9 one, 8 two, 8.5 one or two: Zourdos et al. 2016; halves likewise: Helms et al. 2016.
    [("10", "0"), ("9.5", "0.5"), ("9", "1"), ("8.5", "1.5"), ("8", "2"), ("7.5", "2.5"), ("7", "3")],
)
@pytest.mark.parametrize(
    "rule",
    [
        "kind: single, sets: 3, reps: 5, add: 2.5 kg, {}",
        "kind: double, sets: 3, reps: 4-6, add: 2.5 kg, {}",
        "kind: step, sets: 3, reps: 5, hold: 2, add: 2.5 kg, {}",
        "kind: volume, sets: 3-5, reps: 5, {}",
        "kind: wave, weeks: [{{sets: 3, reps: 5, {}}}]",
        "kind: top_set, reps: 3, {}, backoff: {{sets: 2, reps: 5, share: 85 %}}",
        "kind: rep_out, sets: 3, reps: 5, {}",
        "kind: rep_out, sets: 3, reps: 5, stop: {{most: 9, {}}}",
    ],
)
def test_a_rating_may_stand_wherever_a_reserve_may(rule: str, rated: str, reserve: str) -> None:
    """Set by set the same plan."""
    as_rating = plan_of(squat(rule.format(f"rpe: {rated}")))
    as_reserve = plan_of(squat(rule.format(f"rir: {reserve}")))
    for week in (1, 3):
        assert written(slot_in(as_rating, week)) == written(slot_in(as_reserve, week))


def test_ratings_of_a_top_set_may_be_a_list_and_a_tested_set_may_be_rated() -> None:
    """Taken in turn, as reserves are; a set at 9 had one left."""
    listed = plan_of(squat("kind: top_set, reps: 3, rpe: [8, 9, 9.5]"))
    assert [slot_in(listed, week).work[0].rir for week in (1, 2, 3)] == [2, 1, Decimal("0.5")]
    test = "lifts: {back squat: {tests: [{date: 2026-12-20, load: 200, reps: 3, rpe: 9}]}}\n"
    made = plan(CLIENT, "format: 1\n" + test, block(squat("kind: single, reps: 5, add: 1 kg")))
    assert made.lifts[0].chosen.test.rir == 1


@pytest.mark.parametrize(
    ("rule", "code"),
    [
        ("rpe: 8, rir: 2", "effort-twice"),
        ("rpe: 11", "out-of-range"),
        ("rpe: 3", "out-of-range"),
        ("rpe: hard", "not-a-number"),
        ("rpe: [8, 9]", "wrong-type"),
    ],
)
def test_a_wrong_rating_is_one_problem(rule: str, code: str) -> None:
    """It is told of the rating, not of the reserve that it stands for."""
    assert codes(CLIENT, block(squat(f"kind: single, reps: 5, add: 2.5 kg, {rule}"))) == [code]


RATED = squat("kind: single, reps: 5, rpe: 8, add: 2.5 kg")
RESERVED = squat("kind: single, reps: 5, rir: 2, add: 2.5 kg")
BRAND = "format: 1\nbrand: {name: Quill}\neffort: "


@pytest.mark.parametrize(
    ("texts", "rated"),
    [
        ((block(RATED),), True),
        ((block(RESERVED),), False),
        ((block(RATED, RESERVED),), False),
        ((block(squat("kind: single, reps: 5, start: 100 kg, add: 1 kg")),), False),
        ((block(RATED, head="effort: rir"),), False),
        ((block(RESERVED, head="effort: rpe"),), True),
        ((block(RESERVED), BRAND + "rpe\n"), True),
        ((block(RESERVED, head="effort: rir"), BRAND + "rpe\n"), False),
        ((block(RATED), BRAND + "rir\n"), False),
    ],
)
def test_the_block_says_how_effort_is_printed_then_the_brand_then_how_it_was_written(
    texts: tuple[str, ...], rated: bool
) -> None:
    """A block that uses both words prints reserves."""
    assert sources(CLIENT, *texts).rated is rated


@pytest.mark.parametrize("language", languages())
def test_a_rated_page_names_no_reserve(language: str) -> None:
    """Set lines and reasons; the other sentences are the usual ones."""
    usual = load_words(language, Unit.KG)
    words = replace(usual, rated=True)
    slot = slot_in(plan_of(RESERVED), 1)
    assert set_lines(slot, words)[0].effort.startswith("RPE 8")
    assert set_lines(slot, usual)[0].effort.startswith("2 RIR")
    effort = next(why for why in slot.work[0].why if why.step == "effort")
    assert "RPE 8" in reason_sentence(words, effort)
    assert words.effort(Decimal("1.5")) == usual.number(rpe_of(Decimal("1.5")))
    assert words("rest.minutes", minutes=3) == usual("rest.minutes", minutes=3)


@pytest.mark.parametrize("language", languages())
def test_every_rated_sentence_stands_beside_its_usual_one(language: str) -> None:
    """It takes the same values, the reserve excepted."""
    sentences = catalogue(language)
    rated = [key for key in sentences if key.endswith(".rated")]
    assert len(rated) > 15
    assert all(key.removesuffix(".rated") in sentences and "{rir}" not in sentences[key] for key in rated)


@pytest.mark.parametrize(
    ("text", "usual", "rated"),
    [
        ("8", "8", "2"), ("8.5", "8.5", "1.5"), ("7-8", "7.5", "2.5"), ("9-10", "9.5", "0.5"), ("@8", "2", "2"),
        ("rpe 9", "1", "1"), ("2 rir", "2", "2"), ("rir 2", "2", "2"), ("10", "10", "0"),
    ],
)  # fmt: skip
def test_a_cell_is_read_as_what_the_booklet_asks_for(text: str, usual: str, rated: str) -> None:
    """A bare number counts what the column is headed by; a named one what it names."""
    assert typed.effort(text).value == Decimal(usual)
    assert typed.effort(text, rated=True).value == Decimal(rated)


@pytest.mark.parametrize("text", ["0", "11", "8+"])
def test_a_number_that_is_no_rating_is_unclear(text: str) -> None:
    """The scale goes from 1 to 10, and 'at least 8' is no rating."""
    with pytest.raises(typed.Unclear):
        typed.effort(text, rated=True)


def test_a_row_of_a_rated_booklet_is_a_reserve_in_the_log() -> None:
    """What later stages count in."""
    row = planned_rows(plan_of(RATED))[0]
    entry, faults = read_row(row, RowTexts(rir="9", done=True), Unit.KG, rated=True)
    assert (entry.rir, faults) == (1, ())


@pytest.mark.parametrize(
    ("text", "was", "now", "moved"),
    [
        ("8", True, False, "2"), ("2", False, True, "2 rir"), ("7-8", True, False, "2.5"),
        ("3+", False, True, "3+ rir"), ("@8", True, False, "2"), ("8", True, True, "8"), ("hm", True, False, "hm"),
        ("12", False, True, "12"), ("8+", True, False, "@8+"),
    ],
)  # fmt: skip
def test_an_entry_keeps_its_meaning_where_the_booklet_asks_otherwise(
    text: str, was: bool, now: bool, moved: str
) -> None:
    """Half-way changes may come with another block or brand."""
    assert _still_meaning(SetField(1, 1, 1, 1, "rir"), text, was=was, now=now) == moved
    assert _still_meaning(SetField(1, 1, 1, 1, "reps"), text, was=was, now=now) == text
