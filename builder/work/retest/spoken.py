"""Results as they are typed after an option, `back squat: 147.5 x 1 rir 0`, to an outcome or located problems."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from pydantic import TypeAdapter, ValidationError

from builder.given import Conditions, TestedSet
from builder.log.results import DayOutcome, LiftOutcome, Result
from builder.values.problem import Problem, Span
from builder.values.scalars import Amount
from builder.work.retest.entry import CONDITIONS
from builder.work.said_set import pointed, said_set

_LIFT = re.compile(r"\s*(?P<lift>[^:]*[^:\s])\s*:\s*(?P<rest>.*\S)\s*")
_ANY = re.compile(r".+")
_CONDITION = re.compile(r"(?P<key>\S+)\s+(?P<value>.+)")
_FORMS = {
    "--result": 'Write "back squat: 147.5 x 1", "back squat: 140 x 3 rir 1" or "back squat: 140 x 3 @9".',
    "--made": 'Write "back squat: 140".',
    "--missed": 'Write "back squat: 152.5".',
    "--condition": 'Write "back squat: belt no" or "back squat: bar low".',
    "--note": 'Write "back squat: slow, but clean".',
}
_BOUNDS = {"reps": "from 1 to 30", "rir": "from 0 to 6"}


@dataclass(frozen=True, slots=True)
class Typed:
    """The texts after each option, as they were typed."""

    results: Sequence[str] = ()
    made: Sequence[str] = ()
    missed: Sequence[str] = ()
    conditions: Sequence[str] = ()
    notes: Sequence[str] = ()
    bodyweight: str | None = None


@dataclass(slots=True)
class _Lift:
    """What has been said of one lift so far."""

    name: str
    result: Result | None = None
    made: list[Amount] = field(default_factory=list)
    missed: list[Amount] = field(default_factory=list)
    conditions: dict[str, Any] = field(default_factory=dict)
    note: str | None = None


def understood_outcome(typed: Typed, day: date) -> tuple[DayOutcome | None, tuple[Problem, ...]]:
    """The outcome of a day, or every problem of what was typed; values are written as in a profile."""
    reader = _OptionReader()
    for text in typed.results:
        reader.result(text)
    for text in typed.made:
        reader.attempt("--made", text)
    for text in typed.missed:
        reader.attempt("--missed", text)
    for text in typed.conditions:
        reader.condition(text)
    for text in typed.notes:
        reader.note(text)
    said = typed.bodyweight
    weight = reader.value("--bodyweight", said, "load", pointed(said), 0) if said else None
    reader.check()
    if reader.problems:
        return None, tuple(reader.problems)
    return DayOutcome(day, tuple(_lift(one) for one in reader.lifts.values()), weight), ()


def _lift(one: _Lift) -> LiftOutcome:
    conditions = Conditions.model_validate(one.conditions)
    return LiftOutcome(one.name, one.result, tuple(one.made), tuple(one.missed), conditions, one.note)


class _OptionReader:
    """Goes through the options, and gathers lifts by name and problems by place."""

    def __init__(self) -> None:
        self.lifts: dict[str, _Lift] = {}
        self.problems: list[Problem] = []

    def result(self, text: str) -> None:
        lift, found, start = self.parts("--result", text, _ANY)
        if lift is None or found is None:
            return
        if (said := said_set(found[0])) is None:
            self.problem("result-form", "--result", text, 0, len(text), f'"{text}" cannot be read', _FORMS["--result"])
            return
        written = {"load": said.load, "reps": said.reps, "rir": said.rir or "0"}
        load, reps, rir = (
            self.value("--result", text, key, value, start + said.places[key]) for key, value in written.items()
        )
        if lift.result is not None:
            help_ = "Give the best one with --result, and single attempts with --made."
            self.problem("result-twice", "--result", text, 0, len(text), f'"{lift.name}" has two results', help_)
        elif None not in (load, reps, rir):
            lift.result = Result(load, reps, rir)

    def attempt(self, option: str, text: str) -> None:
        lift, found, start = self.parts(option, text, _ANY)
        if lift is None or found is None:
            return
        load = self.value(option, text, "load", pointed(found[0]), start)
        if load is not None:
            (lift.made if option == "--made" else lift.missed).append(load)

    def condition(self, text: str) -> None:
        lift, found, start = self.parts("--condition", text, _CONDITION)
        if lift is None or found is None:
            return
        key = found["key"].lower()
        if key not in CONDITIONS:
            fact, help_ = f'"{found["key"]}" is no condition of a test', "Write bar, depth, belt or sleeves."
            self.problem("result-form", "--condition", text, start, len(key), fact, help_)
            return
        lift.conditions[key] = self.value("--condition", text, key, found["value"], start + found.start("value"))

    def note(self, text: str) -> None:
        lift, found, start = self.parts("--note", text, _ANY)
        if lift is not None and found is not None:
            lift.note = self.value("--note", text, "note", found[0], start)

    def check(self) -> None:
        """A lift of which only conditions or made attempts are told has no result."""
        for one in self.lifts.values():
            if one.result is None and (one.made or not one.missed) and not self.problems:
                fact = f'"{one.name}" has no result'
                help_ = f'Add --result "{one.name}: LOAD x REPS", or only attempts with --missed.'
                self.problems.append(Problem("no-result", None, fact, help_))

    def parts(self, option: str, text: str, form: re.Pattern[str]) -> tuple[_Lift | None, re.Match[str] | None, int]:
        """The lift of a text and what follows its colon, with the column where that starts."""
        named = _LIFT.fullmatch(text)
        found = form.fullmatch(named["rest"]) if named else None
        if named is None or found is None:
            fact = f'"{text}" cannot be read' if text.strip() else "nothing was written"
            self.problem("result-form", option, text, 0, len(text), fact, _FORMS[option])
            return None, None, 0
        # In small letters: what is said of a lift in several options is of one lift, however it is typed.
        lift = self.lifts.setdefault(named["lift"].lower(), _Lift(named["lift"]))
        return lift, found, named.start("rest")

    def value(self, option: str, text: str | None, key: str, written: str, at: int) -> Any:
        """A value read as a profile reads it under the same key; None after a problem."""
        try:
            return _ADAPTERS[key].validate_python(written)
        except ValidationError as error:
            told: Mapping[str, Any] = error.errors()[0].get("ctx", {})
            code = error.errors()[0]["type"] if "fact" in told else "out-of-range"
            fact = told.get("fact", f"{written} {key} cannot be")
            help_ = told.get("help", f"Write a number {_BOUNDS.get(key, '')}.")
            self.problem(code, option, text or "", at, len(written), fact, help_)
            return None

    def problem(self, code: str, option: str, text: str, at: int, width: int, fact: str, help_: str) -> None:
        self.problems.append(Problem(code, Span(option, 1, at + 1, max(1, width), text), fact, help_))


def _adapters() -> Iterator[tuple[str, TypeAdapter[Any]]]:
    """For each key of a tested set a reader of its value."""
    for name, info in TestedSet.model_fields.items():
        yield name, TypeAdapter(_annotated(info))


def _annotated(info: Any) -> Any:
    from typing import Annotated

    return Annotated[info.annotation, *info.metadata] if info.metadata else info.annotation


_ADAPTERS = dict(_adapters())
