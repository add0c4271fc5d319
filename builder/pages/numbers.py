"""Your numbers: what was tested, what it is worth by each equation, what was lifted before, and what the gym has."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from builder.given import Client, TestedSet
from builder.pages.context import Context
from builder.pages.figures.draw import Drawing
from builder.pages.figures.page import drawn, half
from builder.pages.figures.spread import spread_drawing
from builder.pages.gym import gym_lines
from builder.pages.model import Section
from builder.pages.names import movement_title
from builder.pages.reasons import exact_share
from builder.plan.model import LiftNumbers, TestValue
from builder.plan.numbers import carried
from builder.training.estimate import Equation, Evidence
from builder.training.expected import Expected
from builder.training.records import Performance
from builder.training.scores import gl_points, relative
from builder.values.quantity import in_unit, on_bar
from builder.words import Words

LINE = 4.6
"""mm of a line of text on large paper."""
BIG_THREE = ("back squat", "bench press", "deadlift")


@dataclass(frozen=True, slots=True)
class TestRow:
    """One tested set; `chosen` marks the one that the numbers stand on."""

    day: str
    load: str
    reps: str
    rir: str
    conditions: str
    worth: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class LiftCard:
    """The numbers of one lift."""

    name: str
    expected: str
    working_max: str
    working_note: str
    tests: tuple[TestRow, ...]
    chart: Drawing
    facts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class EquationRow:
    """What every equation makes of the chosen test of one lift; `used` marks the one in use."""

    lift: str
    values: tuple[str, ...]
    used: tuple[bool, ...]


@dataclass(frozen=True, slots=True)
class NumbersPage:
    """Everything on the pages of numbers, words included."""

    title: str
    lead: str
    expected_label: str
    working_label: str
    test_head: tuple[str, ...]
    cards: tuple[LiftCard, ...]
    chosen_note: str
    equations_title: str
    equations_lead: str
    equations_head: tuple[str, ...]
    equations: tuple[EquationRow, ...]
    scores_title: str
    scores: tuple[tuple[str, str], ...]
    scores_note: str
    gym_title: str
    gym: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]


def numbers_section(ctx: Context) -> Section:
    """The section of the lifter's numbers."""
    words, plan = ctx.words, ctx.plan
    scores = _scores(words, plan.client, plan.lifts)
    page = NumbersPage(
        title=words("numbers.title"),
        lead=words("numbers.lead" if plan.lifts else "numbers.none"),
        expected_label=words("numbers.expected"),
        working_label=words("numbers.working-max"),
        test_head=tuple(words(f"numbers.test.{c}") for c in ("day", "load", "reps", "rir", "conditions", "worth")),
        cards=tuple(_card(ctx, numbers) for numbers in plan.lifts),
        chosen_note=words("numbers.chosen"),
        equations_title=words("numbers.equations"),
        equations_lead=words("numbers.equations.lead", unit=words.unit),
        equations_head=(words("numbers.lift"), *(words(f"equation.{equation}") for equation in Equation)),
        equations=tuple(_equation_row(words, numbers) for numbers in plan.lifts),
        scores_title=words("numbers.scores"),
        scores=scores,
        scores_note=words("numbers.scores.note"),
        gym_title=words("numbers.gym"),
        gym=gym_lines(words, plan.client),
        notes=tuple(words(f"numbers.note.{c}") for c in _notes(plan.lifts)),
    )
    return Section("numbers", page.title, "numbers", page)


def numbers_end(ctx: Context) -> float:
    """About how many mm of their last page the numbers take on large paper, where all parts are of whole half lines."""
    lifts, high, end = ctx.plan.lifts, ctx.sheet.height / LINE, 4.5
    said = [text for _, text in gym_lines(ctx.words, ctx.plan.client)]
    rows = sum(ctx.faces.text.lines(text, 10.0, ctx.sheet.width * 0.58 - 30) for text in said)
    for part in (*(6.5 + len(one.tests) for one in lifts), 6.5 + len(lifts), 2.5 + rows):
        end = part if end + part > high else end + part
    return end * LINE


def _card(ctx: Context, numbers: LiftNumbers) -> LiftCard:
    words = ctx.words
    own = carried(ctx.plan.client, numbers.about)
    return LiftCard(
        name=movement_title(numbers.movement, words),
        expected=expected_text(words, numbers.expected),
        working_max=words.mass(numbers.working_max),
        working_note=words(
            "numbers.working-note.bodyweight" if own else "numbers.working-note",
            share=exact_share(words, numbers.working_share),
            estimate=words.amount(numbers.estimate),
        ),
        tests=tuple(_test_row(words, value, value is numbers.chosen, own) for value in reversed(numbers.tests)),
        chart=drawn(
            spread_drawing(words, numbers.movement, numbers.spread, numbers.equation, half(ctx.sheet), ctx.accent),
            ctx.theme,
        ),
        facts=tuple(_facts(words, ctx.plan.client, numbers, own)),
    )


def expected_text(words: Words, max_: Expected) -> str:
    """A max with its likely range in whole units: "about 154 kg, likely 147 to 162"."""
    about, low, high = (words.number(in_unit(kg, words.unit), 0) for kg in (max_.about, max_.low, max_.high))
    return words("numbers.about", about=about, low=low, high=high, unit=words.unit)


def _test_row(words: Words, value: TestValue, chosen: bool, own: Decimal) -> TestRow:
    test = value.test
    load = words.mass(on_bar(value.load, own))
    return TestRow(
        day=words.date(test.day),
        load=f"+{load}" if own else load,
        reps=words.number(test.reps),
        rir=words.effort(test.rir),
        conditions=", ".join(conditions(words, test)),
        worth=_worth(words, value),
        chosen=chosen,
    )


def conditions(words: Words, test: TestedSet) -> tuple[str, ...]:
    """How a set was lifted, as far as the profile says so."""
    gear = (("belt", test.belt), ("sleeves", test.sleeves))
    said = (
        f"bar.{test.bar}" if test.bar else None,
        f"depth.{test.depth.replace(' ', '-')}" if test.depth else None,
        *(f"{thing}.{'yes' if worn else 'no'}" for thing, worn in gear if worn is not None),
    )
    return tuple(words(f"condition.{key}") for key in said if key is not None)


def _worth(words: Words, value: TestValue) -> str:
    if value.estimate is None:
        return words("numbers.missed" if value.test.missed else "numbers.refused")
    mass = words.mass(value.estimate)
    return words("numbers.weak", load=mass) if value.evidence is Evidence.WEAK else mass


def _facts(words: Words, client: Client, numbers: LiftNumbers, own: Decimal) -> list[tuple[str, str]]:
    # A set of more reps is the best for fewer, too; it is told once.
    best = [done for reps, done in numbers.best_by_reps if done.reps == reps]
    facts = [(words("numbers.best"), " · ".join(_performed(words, done, own) for done in best))]
    if numbers.held is not None:
        facts.append((words("numbers.held"), words.mass(numbers.held)))
    weight = client.client.bodyweight
    if weight is not None and not own:
        times = relative(numbers.estimate, weight.kg(client.unit))
        facts.append((words("numbers.relative"), words("numbers.times", times=words.number(times, 2))))
    return facts


def _performed(words: Words, done: Performance, own: Decimal) -> str:
    return words("numbers.performed", load=words.amount(on_bar(done.load, own)), reps=done.reps)


def _equation_row(words: Words, numbers: LiftNumbers) -> EquationRow:
    every = numbers.spread.by_equation
    values = tuple(words.number(in_unit(value, words.unit), 1) for _, value in every)
    return EquationRow(
        movement_title(numbers.movement, words), values, tuple(which is numbers.equation for which, _ in every)
    )


def _scores(words: Words, client: Client, lifts: tuple[LiftNumbers, ...]) -> tuple[tuple[str, str], ...]:
    """The estimated total and its GL points; nothing unless sex and bodyweight are known and all three lifts tested."""
    found = {n.movement: n for n in lifts if n.movement in BIG_THREE}
    weight, sex = client.client.bodyweight, client.client.sex
    if len(found) < len(BIG_THREE) or weight is None or sex is None:
        return ()
    total = sum((n.estimate for n in found.values()), Decimal(0))
    body = weight.kg(client.unit)
    points = gl_points(total, body, sex)
    return (
        (words("numbers.total"), words.mass(total)),
        (words("numbers.bodyweight"), words.mass(body)),
        (words("numbers.gl"), words.number(points, 1)),
    )


def _notes(lifts: tuple[LiftNumbers, ...]) -> tuple[str, ...]:
    """Which remarks these tests need."""
    weak = any(n.chosen.evidence is Evidence.WEAK for n in lifts)
    pulls = any(n.about.floor for n in lifts)
    return tuple(code for code, holds in (("weak", weak), ("deadlift", pulls)) if holds)
