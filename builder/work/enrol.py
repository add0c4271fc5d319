"""A filled intake form to a profile that a coach can read and edit; what is not clear is a problem of its cell."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from builder.given import Movements
from builder.intake import understood
from builder.intake.load import library
from builder.log import typed
from builder.log.filled import Value
from builder.log.intake import IntakeAnswers
from builder.log.typed import Unclear
from builder.values.fields import (
    AnswerField,
    Field,
    IntakeField,
    IntakeList,
    IntakeOnce,
    IntakePart,
    IntakeRow,
    SignField,
    parse,
    write,
)
from builder.values.formats import FIRST_LINE
from builder.values.problem import Cell, Problem, in_order
from builder.values.quantity import in_unit, plain, to_places
from builder.work.lines import Line, Written, file_stem
from builder.work.retest.written import flow, scalar

DAYS: tuple[IntakeOnce, ...] = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
STATUS: dict[IntakeOnce, str] = {"sessionwise": "novice", "weekwise": "intermediate", "monthwise": "advanced"}
"""How long a lift takes to go up tells who trains: common practice, no source."""
SPOTTER: dict[IntakeOnce, str] = {"never": "never", "sometimes": "sometimes", "always": "always"}
_MONTHS = re.compile(r"(\d{1,3}(?:[.,]5)?)\s*(y|yrs?|years?|j|jahre?n?|m|mon|months?|monate?n?)?\.?")
LONG_AGO = timedelta(days=1100)


@dataclass(frozen=True, slots=True)
class Enrolled:
    """The profile of one form, None where it has problems. `file` is its name, made from the lifter's."""

    file: str
    text: str | None
    problems: tuple[Problem, ...]


def enrol(answers: IntakeAnswers, today: date, names: Mapping[str, str]) -> Enrolled:
    """The profile that a form asks for. `names` are what the form's language calls the movements of the library."""
    reader = _IntakeReader(answers, today, names)
    lines = tuple(reader.lines())
    name = reader.text(IntakeField("name")) or "nobody"
    file = f"{file_stem(name)}.yaml"
    written = Written(file, "".join(f"{line.text}\n" for line in lines), tuple(line.place for line in lines))
    if reader.problems:
        return Enrolled(file, None, in_order(reader.problems))
    # Read as any profile is, so that the bounds of values stand in one place; a problem is told at the cell it came
    # from.
    result = understood([(file, written.text.encode())], need=("client",))
    problems = tuple(written.placed(problem) for problem in result.problems)
    return Enrolled(file, None if result.sources is None else written.text, problems)


class _IntakeReader:
    """Goes through a form part by part, and gathers a problem for each cell that is not clear."""

    def __init__(self, answers: IntakeAnswers, today: date, names: Mapping[str, str]) -> None:
        self.answers, self.today = answers, today
        self.unit = answers.facts.unit
        self.values: dict[Field, Value] = {}
        self.problems: list[Problem] = []
        self.library: Movements = library()
        self.names = {said.lower(): name for name, said in names.items()}
        for value in answers.values:
            try:
                self.values[parse(value.name)] = value
            except ValueError:
                fact = f'"{value.text}" stands in a field that is none of ours'
                self.problem("intake-other", value, fact, "Erase it.")

    def lines(self) -> Iterator[Line]:
        """The profile line by line, each with the cell that it came from."""
        top = Cell(self.answers.file, 1, write(IntakeField("name")))
        yield Line("# Made from an intake form. Read it through before you build from it.", top)
        yield Line(FIRST_LINE, top)
        # Before anything else is read: without it no answer goes into a file.
        if not self.ticked(IntakeField("consent")):
            fact, help_ = "the lifter has not agreed that these answers are kept", "Ask for the tick under the form."
            self.missing(IntakeField("consent"), fact, help_)
            return
        yield from self.client()
        yield from self.training()
        yield from self.lifts()
        yield from self.gym()
        yield from self.limits()
        yield from self.screening()
        if note := self.text(IntakeField("note")):
            yield Line("", top)
            # Each line by itself, or a note could write keys of the profile.
            yield from (Line(f"# {line}", top) for line in ["The lifter's note:", *note.splitlines()])

    def client(self) -> Iterator[Line]:
        top = self.cell(IntakeField("name"))
        yield Line("client:", top)
        name = self.needed(IntakeField("name"), "the name is missing", "Write it.")
        yield Line(f"  name: {scalar(name)}", top)
        yield Line(f"  units: {self.unit}", top)
        if weight := self.mass(IntakeField("bodyweight")):
            yield Line(f"  bodyweight: {weight}", self.cell(IntakeField("bodyweight")))
        if born := self.text(IntakeField("born")):
            yield Line(f"  born: {scalar(born)}", self.cell(IntakeField("born")))
        sexes: dict[IntakeOnce, str] = {"female": "female", "male": "male"}
        if sex := self.one_of(sexes, needed=""):
            yield Line(f"  sex: {sex}", self.cell(IntakeField("female")))

    def training(self) -> Iterator[Line]:
        first = self.cell(IntakeField("mon"))
        yield Line("training:", first)
        status = self.one_of(STATUS, needed="none of the three lines on progress is ticked")
        months = self.read(IntakeField("months"), _months, "how long the lifter has trained is missing")
        yield Line(f"  status: {status}", self.cell(IntakeField("sessionwise")))
        yield Line(f"  months: {months}", self.cell(IntakeField("months")))
        days = [day for day in DAYS if self.ticked(IntakeField(day))]
        if not days:
            self.missing(IntakeField("mon"), "no training day is ticked", "Tick the days.")
        yield Line(f"  days: [{', '.join(days)}]", first)
        minutes = self.read(IntakeField("minutes"), _whole, "the length of a session is missing")
        yield Line(f"  session_minutes: {minutes}", self.cell(IntakeField("minutes")))
        starts = self.read(IntakeField("starts"), self.near, "the first day is missing")
        yield Line(f"  starts: {starts}", self.cell(IntakeField("starts")))

    def lifts(self) -> Iterator[Line]:
        tested = [row for row in self.rows("lift") if self.text(IntakeRow("lift", row, "load"))]
        if tested:
            yield Line("lifts:", self.cell(IntakeRow("lift", tested[0], "load")))
        for row in tested:
            place = self.cell(IntakeRow("lift", row, "load"))
            parts: dict[str, str] = {
                "date": self.read(IntakeRow("lift", row, "date"), self.past, "the day of the set is missing"),
                "load": self.mass(IntakeRow("lift", row, "load")) or "",
                "reps": self.read(IntakeRow("lift", row, "reps"), _reps, "the reps of the set are missing"),
                "rir": self.read(IntakeRow("lift", row, "rir"), _reserve, "the reps that were left are missing"),
            }
            bars: tuple[IntakePart, ...] = ("high", "low")
            # Two ticks are no answer, and a guess would change what the lift is compared with.
            bar = [part for part in bars if self.ticked(IntakeRow("lift", row, part))]
            if len(bar) == 2:
                self.missing(IntakeRow("lift", row, "high"), "high bar and low bar are both ticked", "Keep one tick.")
            parts |= {"bar": bar[0]} if bar else {}
            parts |= {"belt": "true"} if self.ticked(IntakeRow("lift", row, "belt")) else {}
            yield Line(f"  {scalar(self.lift(row))}:", place)
            yield Line(f"    tests: [{flow(parts)}]", place)

    def lift(self, row: int) -> str:
        """The library's name of the lift in a row, or the lifter's own."""
        printed = self.answers.facts.lifts
        if row <= len(printed):
            return printed[row - 1]
        said = self.needed(IntakeRow("lift", row, "name"), "the name of the lift is missing", "Write it.")
        return self.movement(said)

    def movement(self, said: str) -> str:
        return self.names.get(said.lower()) or self.library.named(said) or said

    def gym(self) -> Iterator[Line]:
        first = self.cell(IntakeRow("bar", 1, "weight"))
        yield Line("gym:", first)
        bars = [row for row in self.rows("bar") if self.text(IntakeRow("bar", row, "weight"))]
        if not bars:
            self.missing(IntakeRow("bar", 1, "weight"), "no bar has a weight", "Write what the bar weighs.")
        named = {self.text(IntakeRow("bar", row, "name")) or f"bar {row}": row for row in bars}
        weights = {name: self.mass(IntakeRow("bar", row, "weight")) or "" for name, row in named.items()}
        yield Line(f"  bars: {flow(weights)}", first)
        pairs = {
            size: self.read(IntakeRow("plate", row, "pairs"), _whole, "")
            for row, size in enumerate(self.answers.facts.plates, 1)
            if self.text(IntakeRow("plate", row, "pairs"))
        }
        yield Line(f"  pairs: {flow({size: count for size, count in pairs.items() if count != '0'})}",
                   self.cell(IntakeRow("plate", 1, "pairs")))  # fmt: skip
        if collars := self.mass(IntakeField("collars")):
            yield Line(f"  collars: {collars}", self.cell(IntakeField("collars")))
        for row, key in enumerate(("dumbbells", "kettlebells"), 1):
            if steps := self.steps("bell", row):
                yield Line(f"  {key}: {steps}", self.cell(IntakeRow("bell", row, "from")))
        stacks = [row for row in self.rows("stack") if self.steps("stack", row, told=False)]
        if stacks:
            yield Line("  stacks:", self.cell(IntakeRow("stack", stacks[0], "name")))
        for row in stacks:
            name = self.needed(IntakeRow("stack", row, "name"), "the name of the machine is missing", "Write it.")
            yield Line(f"    {scalar(name)}: {self.steps('stack', row)}", self.cell(IntakeRow("stack", row, "name")))
        if any(self.text(IntakeRow("pins", 1, part)) for part in _PINS):
            absent = "a number of the rack is missing"
            holes: dict[str, str] = {part: self.read(IntakeRow("pins", 1, part), _number, absent) for part in _PINS}
            yield Line(f"  pins: {flow(holes)}", self.cell(IntakeRow("pins", 1, "first")))
        yes_no: dict[IntakeOnce, str] = {"safeties": "true", "unsafe": "false"}
        safeties = self.one_of(yes_no, needed="whether there are safeties is not ticked")
        yield Line(f"  safeties: {safeties}", self.cell(IntakeField("safeties")))
        spotter = self.one_of(SPOTTER, needed="whether somebody spots is not ticked")
        yield Line(f"  spotter: {spotter}", self.cell(IntakeField("never")))

    def steps(self, kind: IntakeList, row: int, *, told: bool = True) -> str:
        """Even steps such as `{from: 5, to: 40, step: 2.5}`, "" for a row that says none."""
        parts: tuple[IntakePart, ...] = ("from", "to", "step")
        if not any(self.text(IntakeRow(kind, row, part)) for part in parts):
            return ""
        if not told:
            return "some"
        return flow({
            str(part): self.read(IntakeRow(kind, row, part), self.weight, f'the box "{part}" of this row is empty')
            for part in parts
        })  # fmt: skip

    def limits(self) -> Iterator[Line]:
        rows = [row for row in self.rows("limit") if self.text(IntakeRow("limit", row, "area"))]
        for row in self.rows("limit"):
            if row not in rows and self.text(IntakeRow("limit", row, "avoid")):
                self.missing(IntakeRow("limit", row, "area"), "where it hurts is missing", "Write it.")
        if rows:
            yield Line("limits:", self.cell(IntakeRow("limit", rows[0], "area")))
        for row in rows:
            area = self.text(IntakeRow("limit", row, "area"))
            help_ = "Write the exercises, with commas between them."
            avoid = self.needed(IntakeRow("limit", row, "avoid"), "what to leave out is missing", help_)
            words = [self.movement(word.strip()) for word in re.split(r"[,;\n]", avoid) if word.strip()]
            yield Line(f"  - area: {scalar(area)}", self.cell(IntakeRow("limit", row, "area")))
            yield Line(f"    avoid: {flow(words)}", self.cell(IntakeRow("limit", row, "avoid")))
            if self.text(IntakeRow("limit", row, "since")):
                since = self.read(IntakeRow("limit", row, "since"), self.past, "")
                yield Line(f"    since: {since}", self.cell(IntakeRow("limit", row, "since")))

    def screening(self) -> Iterator[Line]:
        said = {number: self.answer(number) for number in range(1, 6)}
        place = self.cell(AnswerField(1, "yes"))
        if said[5] is False:
            yield Line("# The lifter cannot set the safeties yet: show it before the first heavy set.", place)
        if not said[1]:
            yield Line("# No screening form was answered in the last twelve months.", place)
            return
        signed = self.read(SignField("screening", "date"), self.past, "the day of the signature is missing")
        # What has changed since asks for a clinician anew, whatever was cleared before.
        asked = bool(said[2] or said[4])
        parts = {"answered": signed} | ({"clinician_advised": "true"} if asked else {})
        parts |= {"cleared": signed} if said[2] and said[3] and not said[4] else {}
        yield Line(f"screening: {flow(parts)}", place)

    def answer(self, number: int) -> bool | None:
        """The answer to a question of the screening; both ticks, or none, are a problem."""
        yes, no = (self.ticked(AnswerField(number, one)) for one in ("yes", "no"))
        # The third is only for who was told to see a clinician.
        if yes == no and not (number == 3 and not yes):
            fact = f"question {number} has {'both answers' if yes else 'no answer'}"
            self.missing(AnswerField(number, "yes"), fact, "Tick one of the two.")
            return None
        return yes

    def rows(self, kind: IntakeList) -> list[int]:
        """The rows of a list in which something is written, in order."""
        return sorted({field.row for field in self.values if isinstance(field, IntakeRow) and field.list == kind})

    def cell(self, field: Field) -> Cell:
        value = self.values.get(field)
        return Cell(self.answers.file, value.page if value else 0, write(field))

    def text(self, field: Field) -> str:
        value = self.values.get(field)
        return " ".join(value.text.split(" ")).strip() if value else ""

    def ticked(self, field: Field) -> bool:
        return field in self.values

    def one_of(self, words: Mapping[IntakeOnce, str], *, needed: str) -> str:
        """What the one tick among some says; with `needed` it is a problem when there is none."""
        found = [part for part in words if self.ticked(IntakeField(part))]
        first = next(iter(words))
        if len(found) > 1:
            self.missing(IntakeField(found[1]), "more than one line is ticked", "Keep one tick.")
        if not found and needed:
            self.missing(IntakeField(first), needed, "Tick one line.")
        return words[found[0]] if found else ""

    def needed(self, field: Field, fact: str, help_: str) -> str:
        text = self.text(field)
        if not text:
            self.missing(field, fact, help_)
        return text

    def read(self, field: Field, understand: Callable[[str], str], absent: str) -> str:
        """A value as it is understood; "" with a problem where it is not, or is missing."""
        text = self.text(field)
        if not text:
            self.missing(field, absent, "Write it.")
            return ""
        try:
            return understand(text)
        except Unclear as unclear:
            self.problem("unclear", self.values[field], f'"{text}" {unclear}', unclear.help)
            return ""

    def mass(self, field: Field) -> str:
        return self.read(field, self.weight, "") if self.text(field) else ""

    def weight(self, text: str) -> str:
        """A mass as a profile writes it: bare in the form's unit."""
        load = typed.load(text, self.unit)
        if load.added:
            raise Unclear("is no weight", f'Write a weight such as "102.5"; it is in {self.unit}.')
        return plain(to_places(in_unit(load.kg, self.unit), 2))

    def near(self, text: str) -> str:
        return typed.day(text, self.today).isoformat()

    def past(self, text: str) -> str:
        """A day that is over; one that lies years back is written with its year."""
        found = re.fullmatch(r"\d{4}-\d{2}-\d{2}", text.strip())
        if found and (early := _iso(text)) is not None and self.today - LONG_AGO <= early <= self.today:
            return early.isoformat()
        day = typed.day(text, self.today)
        if day > self.today:
            raise Unclear("is still to come", f'Write a day that is over, such as "{self.today.isoformat()}".')
        return day.isoformat()

    def missing(self, field: Field, fact: str, help_: str) -> None:
        self.problems.append(Problem("intake-missing", self.cell(field), fact, help_))

    def problem(self, code: str, value: Value, fact: str, help_: str) -> None:
        self.problems.append(Problem(code, Cell(self.answers.file, value.page, value.name), fact, help_))


_PINS: tuple[IntakePart, ...] = ("first", "spacing", "holes")


def _iso(text: str) -> date | None:
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        return None


def _whole(text: str) -> str:
    found = re.fullmatch(r"(\d{1,3})\s*(?:min(?:utes|uten)?\.?|x|×)?", typed.plainly(text))
    if not found:
        raise Unclear("is no whole number", 'Write a number such as "2".')
    return str(int(found[1]))


def _number(text: str) -> str:
    found = re.fullmatch(r"(\d{1,3})(?:[.,](\d{1,2}))?\s*(?:cm)?", typed.plainly(text))
    if not found:
        raise Unclear("is no number", 'Write a number such as "32.5".')
    return found[1] + (f".{found[2]}" if found[2] else "")


def _months(text: str) -> str:
    found = _MONTHS.fullmatch(typed.plainly(text))
    if not found:
        raise Unclear("is no number of months", 'Write "14", or "2 years".')
    value = Decimal(found[1].replace(",", ".")) * (12 if (found[2] or "m")[0] in "yj" else 1)
    return str(int(value))


def _reps(text: str) -> str:
    count = typed.reps(text)
    if count.at_least or count.failed:
        raise Unclear("is not one number of reps", 'Write the good reps such as "5".')
    return plain(count.value)


def _reserve(text: str) -> str:
    count = typed.effort(text)
    if count.at_least:
        raise Unclear("is not one number", 'Write the reps that were left such as "2".')
    return plain(count.value)
