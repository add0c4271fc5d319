"""Test day: for each lift the ramp, three attempts with their decision table, and the form of the result."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import get_args

from builder.given import Equipment
from builder.pages.context import Context
from builder.pages.measures import (
    CHOICE_APART,
    CHOICE_CLOSER,
    CHOICE_HEAD,
    CHOICE_MEANING,
    CHOICE_OUTCOME,
    CHOICE_PLATES,
    RULE_IN,
    RULE_ROOMY,
    STEP_ROOMY,
)
from builder.pages.model import Section
from builder.pages.names import page_code, running_head, session_anchor, session_title, slot_name, week_anchor
from builder.pages.planview import Note, slot_notes
from builder.pages.reasons import reason_sentence
from builder.pages.setlines import SetLine, each_words, load_text, reps_text, rest_text, set_lines, side_words
from builder.pages.sheet import Density
from builder.pages.widths import POINT, plates, turned
from builder.plan.model import Plan, PlannedSession, PlannedSlot, PlannedWeek
from builder.training.attempts import OUTCOMES, Choice
from builder.training.loading import Rung
from builder.values import fields
from builder.values.fields import AttemptField, FieldSpec, ResultField, ResultPart, RetestNote
from builder.words import Words

TEST_KINDS = ("attempts", "rep_test")
TEST, RULE, STEP = 62.4, 4.2, 5.54
"""mm on a small page of a test for what is on each; of a line of a rule and of a step of the ramp."""
CHOICE, MEANT = 7.5, 6.8
"""mm of a choice without plates and of an outcome without its meaning."""

ROOMY = 59.0
"""mm of a roomy page without rules and ramp."""


@dataclass(frozen=True, slots=True)
class Tested:
    """A lift of the test, numbered from 1 in the order of the sessions; the number stands in its field names."""

    number: int
    session: PlannedSession
    slot: PlannedSlot


@dataclass(frozen=True, slots=True)
class RampRow:
    """One warm-up set of a test, with the rest after it."""

    load: str
    reps: str
    side: str
    rest: str


@dataclass(frozen=True, slots=True)
class LoadCell:
    """A load that may be called for, with its side and what that side is."""

    load: str
    side: str
    each: str


@dataclass(frozen=True, slots=True)
class Decision:
    """After one outcome of the opener: the second attempt, and the third after each outcome of the second."""

    after: str
    meaning: str
    second: LoadCell
    third: tuple[LoadCell, ...]


@dataclass(frozen=True, slots=True)
class AttemptRow:
    """One attempt to be written down: its load, how planned, and whether it was good."""

    number: str
    planned: str
    load: str
    good: str


@dataclass(frozen=True, slots=True)
class TestPage:
    """All that is printed for one tested lift; `opener` is None for a rep test, which has `lines` in its place.

    With `spread` what is read and what is written take two pages. With `apart` these are three: the ramp, the
    decision table with the attempts, and the result. Where plates make the table long, the page is `crowded`, and the
    rules of the test head the page that faces it. A page of rules, ramp and opener alone is `roomy` where it has room
    for larger letters.
    """

    title: str
    kicker: str
    week_link: str
    badge: str
    name: str
    minutes: str
    rules: tuple[str, ...]
    ramp: tuple[RampRow, ...]
    ramp_heads: tuple[str, ...]
    opener: LoadCell | None
    unit: str
    second_heads: tuple[str, ...]
    decisions: tuple[Decision, ...]
    lines: tuple[SetLine, ...]
    notes: tuple[Note, ...]
    attempts: tuple[AttemptRow, ...]
    result: tuple[tuple[str, str], ...]
    result_note: str
    retest_note: str
    spread: bool
    apart: bool
    crowded: bool
    roomy: bool
    says: dict[str, str]


def tested_lifts(plan: Plan) -> tuple[Tested, ...]:
    """Every tested lift with its number; the reader of a filled form counts the same way."""
    found = [(session, slot) for session in plan.sessions() for slot in session.slots if slot.kind in TEST_KINDS]
    return tuple(Tested(number, session, slot) for number, (session, slot) in enumerate(found, 1))


def test_sections(ctx: Context, week: PlannedWeek, session: PlannedSession) -> tuple[Section, ...]:
    """A page for each tested lift of the session, or two facing ones on small papers."""
    every = tested_lifts(ctx.plan)
    mine = [tested for tested in every if tested.session is session]
    return tuple(_section(ctx, tested, first=tested is mine[0], last=tested is every[-1]) for tested in mine)


def _section(ctx: Context, tested: Tested, *, first: bool, last: bool) -> Section:
    words, session = ctx.words, tested.session
    title = words("test.outline", day=words.day(session.on), lift=slot_name(tested.slot, words))
    anchor = session_anchor(session) if first else f"{session_anchor(session)}-lift-{tested.number}"
    return Section(
        anchor=anchor, title=title, template="test_lift", data=_page(ctx, tested, last=last), level=3,
        side="left" if ctx.sheet.facing and not ctx.sheet.enlarged else "any", tone="test",
        running=running_head(session, words, ctx.sheet.width),
        code=words("code.page", code=ctx.code, page=f"{page_code(session)}.{tested.number}"),
        fields=tuple(_fields(tested, words, last=last)),
    )  # fmt: skip


def _page(ctx: Context, tested: Tested, *, last: bool) -> TestPage:
    words, slot, session = ctx.words, tested.slot, tested.session
    plan, decisions = slot.attempts, tuple(_decisions(slot, words))
    rules, ramp = tuple(_rules(ctx, slot)), tuple(_ramp(slot, words))
    says = ("ramp", "attempts", "opener", "second", "result", "write", "good", "load", "note", "after")
    return TestPage(
        title=words("test.lift", lift=slot_name(slot, words)),
        kicker=words("test.kicker", title=session_title(session, words), day=words.day(session.on)),
        week_link=week_anchor(session.week) if ctx.edition.whole else "",
        badge=words("tone.test"),
        name=slot_name(slot, words),
        minutes=words("session.minutes", minutes=session.minutes),
        rules=rules,
        ramp=ramp,
        ramp_heads=tuple(words(f"test.head.{key}") for key in ("load", "reps", "side", "rest")),
        opener=_cell(slot, plan.opener, words) if plan else None,
        unit=str(words.unit),
        second_heads=tuple(words(f"test.third.{code}") for code in OUTCOMES),
        decisions=decisions,
        lines=() if plan else set_lines(slot, words),
        notes=() if plan else tuple(slot_notes(ctx, slot, Density.AIRY)),
        attempts=tuple(_attempt(tested, n, words) for n in (1, 2, 3)) if plan else (),
        result=tuple(
            (words(f"test.result.{part}", unit=words.unit), fields.write(ResultField(tested.number, part)))
            for part in get_args(ResultPart)
            if part != "note"
        ),
        result_note=fields.write(ResultField(tested.number, "note")),
        retest_note=fields.write(RetestNote()) if last else "",
        spread=ctx.sheet.facing,
        apart=ctx.sheet.enlarged,
        crowded=ctx.sheet.facing and not ctx.sheet.enlarged and _height(ctx, rules, ramp, decisions) > ctx.sheet.height,
        roomy=plan is not None and ctx.sheet.enlarged and _roomy_height(ctx, rules, ramp) <= ctx.sheet.height,
        says={key: words(f"test.says.{key}") for key in (*says, "retest_note")} | {"table": _table_head(slot, words)},
    )


def _rules(ctx: Context, slot: PlannedSlot) -> Iterator[str]:
    words = ctx.words
    for key in ("warm", "rest", "stop"):
        yield words(f"test.rule.{key}.{slot.kind}")
    if slot.about.overhead_risk:
        yield words("test.rule.safe")
    for code in ctx.plan.cautions:
        if words.has(f"caution.session.{code}"):
            yield words(f"caution.session.{code}")
    for reason in slot.notes:
        yield reason_sentence(words, reason)


def _ramp(slot: PlannedSlot, words: Words) -> Iterator[RampRow]:
    for one in slot.ramp:
        load = load_text(slot, one.rung, words)
        yield RampRow(load, reps_text(one, words), side_words(slot, one.rung, words), rest_text(one.rest, words))


def _cell(slot: PlannedSlot, rung: Rung, words: Words) -> LoadCell:
    return LoadCell(load_text(slot, rung, words), side_words(slot, rung, words), each_words(slot, rung, words))


def _decisions(slot: PlannedSlot, words: Words) -> Iterator[Decision]:
    plan = slot.attempts
    for choice in plan.second if plan else ():
        assert plan is not None
        third: dict[str, Choice] = {row.after: row for row in plan.third_after(choice)}
        yield Decision(
            after=words(f"test.after.{choice.after}"),
            meaning=words(f"test.meaning.{choice.after}"),
            second=_cell(slot, choice.rung, words),
            third=tuple(_cell(slot, third[code].rung, words) for code in OUTCOMES),
        )


def _height(ctx: Context, rules: tuple[str, ...], ramp: tuple[RampRow, ...], decisions: tuple[Decision, ...]) -> float:
    """mm of a small page that has all but the form."""
    said = sum(turned(ctx.faces.text.parts(rule, ctx.sheet.about.points), ctx.sheet.width, RULE_IN) for rule in rules)
    return TEST + RULE * said + STEP * len(ramp) + _table_height(ctx, decisions)


def _roomy_height(ctx: Context, rules: tuple[str, ...], ramp: tuple[RampRow, ...]) -> float:
    """mm of rules, ramp and opener in larger letters."""
    said = sum(turned(ctx.faces.text.parts(rule, RULE_ROOMY.points), ctx.sheet.width, RULE_IN) for rule in rules)
    return ROOMY + RULE_ROOMY.mm * said + STEP_ROOMY * len(ramp)


def _table_height(ctx: Context, decisions: tuple[Decision, ...]) -> float:
    """mm of the decision table; a cell has a load over its plates."""
    face, words = ctx.faces.medium, ctx.words
    room = (ctx.sheet.width - CHOICE_OUTCOME - CHOICE_APART) / (1 + len(OUTCOMES)) - CHOICE_APART
    told = (words("test.says.second"), *(words(f"test.third.{code}") for code in OUTCOMES))
    heads = max(
        face.lines(words("test.says.after"), CHOICE_HEAD.points, CHOICE_OUTCOME),
        *(face.lines(one, CHOICE_HEAD.points, room) for one in told),
    )
    points = CHOICE_PLATES.points

    closer = CHOICE_CLOSER * points * POINT

    def lines(side: str) -> int:
        words = plates(side).split(" ")
        each = [face.width(word, points) + closer * word.count("\N{NO-BREAK SPACE}") for word in words]
        return turned(((width, face.width(" ", points) + closer) for width in each), room)

    def height(row: Decision) -> float:
        most = max(lines(cell.side) for cell in (row.second, *row.third))
        meaning = CHOICE_MEANING.height(face, row.meaning, CHOICE_OUTCOME)
        return max(CHOICE + CHOICE_PLATES.mm * most, MEANT + meaning)

    return CHOICE_HEAD.mm * heads + sum(map(height, decisions))


def _table_head(slot: PlannedSlot, words: Words) -> str:
    """What stands over the decision table; of a bar it has the plates, too."""
    return words("test.says.table.plates" if slot.about.equipment is Equipment.BARBELL else "test.says.table")


def _attempt(tested: Tested, number: int, words: Words) -> AttemptRow:
    attempts = tested.slot.work
    planned = load_text(tested.slot, attempts[number - 1].rung, words)
    key = "test.planned.opener" if number == 1 else "test.planned.later"
    return AttemptRow(
        number=words(f"test.attempt.{number}"),
        planned=words(key, load=planned, unit=words.unit),
        load=fields.write(AttemptField(tested.number, number, "load")),
        good=fields.write(AttemptField(tested.number, number, "good")),
    )


def _fields(tested: Tested, words: Words, *, last: bool) -> Iterator[FieldSpec]:
    lift = slot_name(tested.slot, words)
    if tested.slot.attempts is not None:
        for number in (1, 2, 3):
            load = words("field.attempt.load", lift=lift, attempt=number, unit=words.unit)
            good = words("field.attempt.good", lift=lift, attempt=number)
            name = fields.write(AttemptField(tested.number, number, "load"))
            yield FieldSpec(name, "text", load, align="center", max_length=12, font_size=14)
            yield FieldSpec(fields.write(AttemptField(tested.number, number, "good")), "tick", good)
    for part in get_args(ResultPart):
        label = words(f"field.result.{part}", lift=lift, unit=words.unit)
        name = fields.write(ResultField(tested.number, part))
        if part == "note":
            yield FieldSpec(name, "multiline", label, max_length=300, font_size=9)
        else:
            yield FieldSpec(name, "text", label, align="center", max_length=16, font_size=9 if part == "date" else 12)
    if last:
        label = words("field.retest.note")
        yield FieldSpec(fields.write(RetestNote()), "multiline", label, max_length=600, font_size=9)
