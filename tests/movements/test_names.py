"""A movement is found by the words that coaches use for it, and no word means two."""

import pytest
from sources_for_tests import block, client, codes, plan, problems_of

from builder.given.movements import loosely
from builder.intake.load import library

FIVES = "kind: single, reps: 5, start: 20 kg, add: 1 kg"


@pytest.mark.parametrize(
    ("word", "name"),
    # Short names are common practice in the trade; no source.
    [
        ("RDL", "Romanian deadlift"),
        ("OHP", "overhead press"),
        ("SLDL", "stiff-leg deadlift"),
        ("CGBP", "close-grip bench press"),
        ("BSS", "Bulgarian split squat"),
        ("DB row", "one-arm dumbbell row"),
        ("DB bench press", "dumbbell bench press"),
        ("BB curl", "barbell curl"),
        ("SL RDL", "single-leg Romanian deadlift"),
        ("Back Squats", "back squat"),
        ("pullups", "pull-up"),
        ("Chin Ups", "chin-up"),
        ("push ups", "push-up"),
        ("dips", "dip"),
        ("front-squat", "front squat"),
        ("face pulls", "face pull"),
        ("farmers walk", "farmer's carry"),
        ("military presses", "overhead press"),
    ],
)
def test_a_word_of_the_trade_finds_its_movement(word: str, name: str) -> None:
    """As it is spoken at the rack."""
    assert library().named(word) == name


def test_no_word_means_two_movements() -> None:
    """Every name and other name, written loosely, belongs to one movement only."""
    owners: dict[str, set[str]] = {}
    for name, movement in library().movements.items():
        for word in (name, *movement.also):
            owners.setdefault(loosely(word), set()).add(name)
    assert {word: names for word, names in owners.items() if len(names) > 1} == {}


def _planned(limit: str, *slots: str) -> list[list[str]]:
    made = plan(client(screening=f"limits: [{{area: shoulder, {limit}}}]\n"), block(*slots, weeks=1))
    return [[slot.movement for slot in session.slots] for session in made.sessions()]


OVERHEAD = (f"movement: overhead press, progression: {{{FIVES}}}", f"movement: push press, progression: {{{FIVES}}}")
BENCH = f"movement: bench press, progression: {{{FIVES}}}"


@pytest.mark.parametrize("word", ["vertical push", "vertical pressing", "overhead", "Overhead"])
def test_a_pattern_to_avoid_takes_all_its_movements(word: str) -> None:
    """The bench stays."""
    assert _planned(f"avoid: [{word}]", *OVERHEAD, BENCH) == [["bench press"]]


def test_a_region_to_avoid_takes_all_its_movements() -> None:
    """Nothing of the upper body is left, the squat is."""
    squat = f"movement: back squat, progression: {{{FIVES}}}"
    assert _planned("avoid: [upper body]", *OVERHEAD, BENCH, squat) == [["back squat"]]


def test_one_movement_may_replace_a_whole_pattern_even_out_of_it() -> None:
    """What the limit itself names as a replacement is no longer to be avoided."""
    swapped = "avoid: [vertical push], instead: {vertical push: half-kneeling press}"
    assert _planned(swapped, *OVERHEAD) == [["half-kneeling press", "half-kneeling press"]]


def test_a_movement_named_for_one_goes_before_that_for_the_pattern() -> None:
    """The closer word counts."""
    swapped = "avoid: [vertical push], instead: {vertical push: push-up, push press: dip}"
    assert _planned(swapped, *OVERHEAD) == [["push-up", "dip"]]


def test_a_word_that_names_nothing_is_asked_back() -> None:
    """The help lists what may stand there."""
    wrong = client(screening="limits: [{area: knee, avoid: [xylophone]}]\n")
    (problem,) = problems_of(wrong, block(BENCH))
    assert problem.code == "unknown-movement"
    assert "vertical push" in problem.help and "upper body" in problem.help


def test_what_is_replaced_must_be_avoided() -> None:
    """A movement outside the avoided pattern, and a pattern of which only one movement is avoided."""
    outside = "limits: [{area: knee, avoid: [vertical push], instead: {bench press: push-up}}]\n"
    narrow = "limits: [{area: knee, avoid: [push press], instead: {vertical push: push-up}}]\n"
    assert codes(client(screening=outside), block(BENCH)) == ["not-avoided"]
    assert codes(client(screening=narrow), block(BENCH)) == ["not-avoided"]
