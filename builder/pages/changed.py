"""What changed: for each lift the last test, the numbers before and now, and all tests so far as a chart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from builder.pages.context import Context
from builder.pages.figures.draw import Drawing
from builder.pages.figures.history import history_drawing
from builder.pages.figures.page import drawn, half
from builder.pages.model import Section
from builder.pages.names import movement_title
from builder.plan.change import Both, LiftChange, TopLoad, compare
from builder.plan.model import LiftNumbers, TestValue
from builder.plan.numbers import carried
from builder.values.scalars import Amount
from builder.words import Words

REASONS = ("sleep", "food", "illness", "pain", "technique", "conditions", "fatigue", "former")
LARGE_CHART, SMALL_CHART = 34.0, 27.0
"""Height in mm; with the lower one two lifts share a small page."""
FOR_NUMBERS = 12.0
"""mm that the numbers take from the chart beside them."""


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """One number of a lift as printed: before, now and the difference with its sign."""

    label: str
    before: str
    now: str
    difference: str


@dataclass(frozen=True, slots=True)
class ChangeCard:
    """One lift; `tests` are sentences about its last tests."""

    name: str
    tests: tuple[str, ...]
    rows: tuple[ChangeRow, ...]
    note: str
    chart: Drawing


@dataclass(frozen=True, slots=True)
class ChangedPage:
    """Everything that is printed, words included; `reasons` only where a result is lower than the one before."""

    title: str
    lead: str
    head: tuple[str, ...]
    cards: tuple[ChangeCard, ...]
    chart_note: str
    lower_title: str
    lower_lead: str
    reasons: tuple[str, ...]
    clinician: str


def changed_section(ctx: Context) -> Section | None:
    """The section of what the last retest changed; None in a first booklet."""
    if ctx.before is None:
        return None
    words = ctx.words
    changes = compare(ctx.before, ctx.plan)
    lower = any(change.worse for change in changes)
    page = ChangedPage(
        title=words("change.title"),
        lead=words("change.lead", revision=ctx.revision),
        head=change_head(words),
        cards=tuple(_card(ctx, change) for change in changes),
        chart_note=words("change.chart"),
        lower_title=words("change.lower.title") if lower else "",
        lower_lead=words("change.lower.lead"),
        reasons=tuple(words(f"change.lower.{reason}") for reason in REASONS) if lower else (),
        clinician=words("change.lower.clinician"),
    )
    return Section("changed", page.title, "changed", page)


def change_head(words: Words) -> tuple[str, ...]:
    """The heads of the columns before, now and difference."""
    return tuple(words(f"change.head.{column}") for column in ("before", "now", "difference"))


def change_rows(words: Words, change: LiftChange) -> tuple[ChangeRow, ...]:
    """The numbers of one lift, the max first."""
    return tuple(_rows(words, change))


def test_sentences(words: Words, numbers: LiftNumbers, revision: int) -> tuple[str, ...]:
    """What was done in the tests that led to a revision; that there was none, when there was none."""
    values = [value for value in numbers.tests if value.test.revision == revision]
    if not values:
        return (words("change.untested"),)
    return tuple(sentence for value in values for sentence in _test(words, numbers, value))


def _card(ctx: Context, change: LiftChange) -> ChangeCard:
    words, numbers = ctx.words, ctx.plan.lift(change.movement)
    assert numbers is not None
    page = ctx.sheet
    size = (page.width, SMALL_CHART) if page.facing else (half(page) - FOR_NUMBERS, LARGE_CHART)
    return ChangeCard(
        name=movement_title(change.movement, words),
        tests=test_sentences(words, numbers, ctx.revision),
        rows=change_rows(words, change),
        note=words("change.bodyweight") if carried(ctx.plan.client, numbers.about) else "",
        chart=drawn(history_drawing(words, numbers, ctx.revision, size, ctx.accent), ctx.theme),
    )


def _rows(words: Words, change: LiftChange) -> Iterator[ChangeRow]:
    for key, both in (("estimate", change.estimate), ("working", change.working)):
        yield _row(words, words(f"change.{key}"), _map_mass(words, both), both)
    tops = [change.first] if _week(change.first) == _week(change.last) else [change.first, change.last]
    for top in tops:
        if week := _week(top):
            loads = Both(*(one.load if one else None for one in (top.before, top.now)))
            yield _row(words, words("change.week", week=week), _map_top(words, top), loads)


def _row(words: Words, label: str, shown: tuple[str, str], masses: Both[Decimal]) -> ChangeRow:
    return ChangeRow(label, *shown, _difference(words, masses))


def _week(top: Both[TopLoad]) -> int | None:
    one = top.now or top.before
    return one.week if one else None


def _map_mass(words: Words, both: Both[Decimal]) -> tuple[str, str]:
    before, now = (words("change.none") if mass is None else words.mass(mass) for mass in (both.before, both.now))
    return before, now


def _map_top(words: Words, both: Both[TopLoad]) -> tuple[str, str]:
    before, now = (
        words("change.none") if top is None else words("change.top", load=words.mass(top.load), reps=top.reps)
        for top in (both.before, both.now)
    )
    return before, now


def _difference(words: Words, both: Both[Decimal]) -> str:
    """What was added, with its sign."""
    if both.before is None or both.now is None:
        return words("change.new" if both.before is None else "change.gone")
    apart = words.mass(both.now - both.before)
    if both.now == both.before:
        return words("change.same")
    return f"+{apart}" if both.now > both.before else apart


def _test(words: Words, numbers: LiftNumbers, value: TestValue) -> Iterator[str]:
    test = value.test
    key = "change.test-missed" if test.missed else "change.test"
    done = words.mass(numbers.load_of(value.load))
    yield words(key, day=words.date(test.day), load=done, reps=test.reps, rir=test.rir)
    if test.attempts is not None:
        for made, loads in (("made", test.attempts.made), ("missed", test.attempts.missed)):
            if loads:
                yield words(f"change.attempts.{made}", loads=_loads(words, loads))


def _loads(words: Words, loads: Sequence[Amount]) -> str:
    return ", ".join(words.mass(load.kg(words.unit)) for load in loads)
