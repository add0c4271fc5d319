"""The sheets of the technique trials: two ways of one lift, scored on three days by what matters in that lift."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from builder.given import Pattern
from builder.pages.bars import training_ladder
from builder.pages.context import Context
from builder.pages.model import Section
from builder.pages.names import movement_title
from builder.plan.model import LiftNumbers
from builder.plan.numbers import carried
from builder.training.loading import Ladder, Rung, side_text
from builder.values.fields import FieldSpec, TrialField, write
from builder.values.quantity import Rounding
from builder.words import Words

TRIAL_SHARE = Decimal("0.7")
SCORED = ("range", "path", "speed", "comfort")
ROWS = (*SCORED, "sum", "rir")
"""What is written down on each day; only what is scored is added up."""
NAME = len(ROWS) + 1
"""The number of the line that names a way, in the names of fields."""
WAYS, DAYS = ("A", "B"), (1, 2, 3)
MOST_TRIALS = 2
_KINDS = {
    Pattern.SQUAT: "squat",
    Pattern.LUNGE: "squat",
    Pattern.HINGE: "pull",
    Pattern.HORIZONTAL_PUSH: "bench",
    Pattern.VERTICAL_PUSH: "press",
}


@dataclass(frozen=True, slots=True)
class TrialRow:
    """One criterion, with a field for each day of each way; `apart` when it is not part of the sum."""

    text: str
    fields: tuple[str, ...]
    apart: bool


@dataclass(frozen=True, slots=True)
class Trial:
    """Two ways of doing one lift at one load; `names` are the fields that say what the ways are."""

    title: str
    load: str
    film: str
    names: tuple[tuple[str, str], ...]
    rows: tuple[TrialRow, ...]


@dataclass(frozen=True, slots=True)
class TrialPage:
    """The trial sheets with what to do; `days` heads the columns of one way."""

    title: str
    lead: str
    steps: tuple[str, ...]
    corner: str
    days: tuple[str, ...]
    trials: tuple[Trial, ...]
    verdict: str


def trial_sections(ctx: Context) -> tuple[Section, ...]:
    """The sheets of the technique trials; none when no tested lift is trained."""
    words = ctx.words
    lifts = [n for n in ctx.plan.lifts if _trained(ctx, n)][:MOST_TRIALS]
    if not lifts:
        return ()
    page = TrialPage(
        title=words("trial.title"),
        lead=words("trial.lead"),
        steps=tuple(words(f"trial.step.{n}") for n in (1, 2, 3)),
        corner=words("trial.criterion"),
        days=tuple(words("trial.day", day=day) for day in DAYS),
        trials=tuple(_trial(ctx, number, numbers) for number, numbers in enumerate(lifts, 1)),
        verdict=words("trial.verdict"),
    )
    fields = tuple(one for number, numbers in enumerate(lifts, 1) for one in _fields(words, number, numbers))
    return (Section("trial", page.title, "trial", page, fields=fields),)


def _trained(ctx: Context, numbers: LiftNumbers) -> bool:
    return any(name == numbers.movement for week in ctx.plan.weeks for name, _ in week.by_movement)


def _trial(ctx: Context, number: int, numbers: LiftNumbers) -> Trial:
    words, kind = ctx.words, _kind(numbers)
    target = numbers.working_max * TRIAL_SHARE - carried(ctx.plan.client, numbers.about)
    ladder = training_ladder(ctx.plan, numbers)
    return Trial(
        title=movement_title(numbers.movement, words),
        # Rounded down, so that an error is on the light side.
        load=_load(words, ladder, ladder.pick(target, Rounding.DOWN)),
        film=words(f"trial.film.{kind}"),
        names=tuple((words("trial.way", way=WAYS[way - 1]), write(TrialField(number, way, NAME))) for way in (1, 2)),
        rows=tuple(
            TrialRow(
                _criterion(words, code, kind),
                tuple(write(TrialField(number, way, i, day)) for way in (1, 2) for day in DAYS),
                code not in SCORED,
            )
            for i, code in enumerate(ROWS, 1)
        ),
    )


def _kind(numbers: LiftNumbers) -> str:
    """The family of lifts whose criteria hold."""
    return _KINDS.get(numbers.about.pattern, "other")


def _criterion(words: Words, code: str, kind: str) -> str:
    """A criterion in the words of the lift; where the bar travels and how far is another matter in each."""
    return words(f"trial.criterion.{code}.{kind}" if code in ("range", "path") else f"trial.criterion.{code}")


def _load(words: Words, ladder: Ladder, rung: Rung) -> str:
    if not ladder.plated:
        return words.mass(rung.mass)
    return words("trial.load", load_kg=rung.mass, side=words.plates(side_text(rung)) or words("side.none"))


def _fields(words: Words, number: int, numbers: LiftNumbers) -> Iterator[FieldSpec]:
    """In reading order: what the ways are, then row by row."""
    lift, kind = words.movement(numbers.movement), _kind(numbers)
    for way, letter in enumerate(WAYS, 1):
        label = words("trial.label.name", lift=lift, way=letter)
        yield FieldSpec(write(TrialField(number, way, NAME)), "text", label, font_size=9)
    for i, code in enumerate(ROWS, 1):
        for way, letter in enumerate(WAYS, 1):
            for day in DAYS:
                label = words("trial.label", lift=lift, way=letter, day=day, criterion=_criterion(words, code, kind))
                name = write(TrialField(number, way, i, day))
                yield FieldSpec(name, "text", label, align="center", font_size=9)
