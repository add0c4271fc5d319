"""Rules that ask a client for what a caution forbids are problems with a way out, not pages at odds with themselves."""

from __future__ import annotations

import pytest
from sources_for_tests import GYM, IDENTITY, SCREENED, block, client, codes, problems_of, squat

from builder.values.problem import Span

MINOR = {"client": IDENTITY.replace("born: 1990", "born: 2012")}
SUPERVISED = {"client": IDENTITY.replace("born: 1990", "born: 2012, supervisor: Dr Ash")}
WAITING = {"screening": "screening: {answered: 2027-01-01, clinician_advised: true}\n"}
CLEARED = {"screening": "screening: {answered: 2027-01-01, clinician_advised: true, cleared: 2027-01-02}\n"}
BARE = {"gym": GYM.replace("safeties: true", "safeties: false")}

FAILING = [
    "kind: single, reps: 5, rir: 0, add: 2.5 kg",
    "kind: double, reps: 4-6, rir: 0.5, add: 2.5 kg",
    "kind: top_set, reps: 3, rir: [2, 0]",
    "kind: wave, weeks: [{rir: 0, sets: 3, reps: 5}]",
    "kind: wave, weeks: [{share: 90 %, sets: 3, reps: 2}, {share: 100 %, sets: 1, reps: 1}]",
    "kind: rep_out, sets: 3, reps: 5, stop: {rir: 0, most: 10}",
    "kind: single, reps: 1, start: 100 %, add: 2.5 kg",
    "kind: single, reps: 5, add: 2.5 kg, then: [{reps: 8, rir: 2}, {reps: 8, rir: 0}]",
    "kind: top_set, reps: 3, rir: 2, then: [{reps: 1, rpe: 10}]",
    "kind: volume, sets: 3-5, reps: 5, then: [{reps: 1, share: 102 %}]",
    "kind: wave, weeks: [{share: 80 %, sets: 3, reps: 5, then: [{reps: 5, up: 5 kg, stop: {rir: 0}}]}]",
]


@pytest.mark.parametrize("rule", FAILING)
@pytest.mark.parametrize("who", [MINOR, WAITING, BARE], ids=["minor", "clinician", "no-safeties"])
def test_failure_and_the_max_are_forbidden_to_some(rule: str, who: dict[str, str]) -> None:
    """Told once at the value, with what to write in the rule or in the profile."""
    (problem,) = problems_of(client(**who), block(squat(rule)))
    assert problem.code == "forbidden" and ", or " in problem.help


@pytest.mark.parametrize("rule", FAILING)
@pytest.mark.parametrize("who", [SUPERVISED, CLEARED, {}], ids=["supervised", "cleared", "adult"])
def test_the_way_out_is_one(rule: str, who: dict[str, str]) -> None:
    """The same rules with a supervisor, a clinician's agreement, or safeties."""
    assert codes(client(**who), block(squat(rule))) == []


@pytest.mark.parametrize(
    ("rule", "at"),
    [
        ("kind: single, reps: 5, rpe: 10, add: 2.5 kg", "10"),
        ("kind: top_set, reps: 3, rpe: [8, 9.5]", "9.5"),
        ("kind: top_set, reps: 3, rir: 2, then: [{reps: 1, rpe: 10}]", "10"),
        ("kind: rep_out, sets: 3, reps: 5, stop: {rpe: 10}", "10"),
    ],
)
def test_a_rating_is_answered_with_a_rating_at_its_place(rule: str, at: str) -> None:
    (problem,) = problems_of(client(**MINOR), block(squat(rule)))
    assert problem.help.startswith('Write "rpe: 9" or less') and isinstance(problem.span, Span)
    assert problem.span.source[problem.span.column - 1 :].startswith(at)


def test_without_safeties_only_what_is_under_the_bar_is_forbidden() -> None:
    """A curl or a deadlift may fail without a rack."""
    pull = "movement: deadlift, progression: {kind: single, reps: 5, rir: 0, start: 100 kg, add: 2.5 kg}"
    assert codes(client(**BARE), block(pull)) == []
    assert codes(client(**MINOR), block(pull)) == ["forbidden"]


def test_one_left_is_enough() -> None:
    assert codes(client(screening=SCREENED, **MINOR), block(squat("kind: single, reps: 5, rir: 1, add: 2.5 kg"))) == []


@pytest.mark.parametrize("who", [MINOR, WAITING, BARE], ids=["minor", "clinician", "no-safeties"])
def test_going_beyond_what_is_likely_is_forbidden_too(who: dict[str, str]) -> None:
    """At the word that allows it, with what to type."""
    (problem,) = problems_of(client(**who), block(squat("kind: single, reps: 5, rir: 1, add: 1 kg", beyond="allow")))
    assert problem.code == "forbidden" and problem.help.startswith('Take "beyond: allow" out, or ')
    assert isinstance(problem.span, Span) and problem.span.source[problem.span.column - 1 :].startswith("allow")
