"""What pages say of records: session, chart, record table and numbers speak of the same sets."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

import pytest
from pages.sample_pages import NAMES, context

from builder.pages.back import RecordPages, records_section
from builder.pages.context import Context
from builder.pages.figures.tops import TopPoint, top_points
from builder.pages.figures.weekly import week_points
from builder.pages.glance import main_lifts
from builder.plan.model import LiftNumbers, PlannedSet, WeekKind
from builder.plan.numbers import carried


@dataclass(frozen=True)
class Marked:
    """A set of a session that is a milestone or has a record mark, with the numbers of its lift."""

    numbers: LiftNumbers
    week: int
    one: PlannedSet

    def load(self, ctx: Context) -> Decimal:
        """Kilograms that count for records: with the bodyweight where that is lifted."""
        assert self.one.rung is not None
        return self.one.rung.mass + carried(ctx.plan.client, self.numbers.about)


def marked(ctx: Context) -> Iterator[Marked]:
    for numbers in ctx.plan.lifts:
        for session in ctx.plan.sessions():
            for slot in session.slots:
                for one in slot.work if slot.movement == numbers.movement else ():
                    if one.mark or one.milestone:
                        yield Marked(numbers, session.week, one)


def tops(ctx: Context, numbers: LiftNumbers) -> tuple[TopPoint, ...]:
    points = week_points(ctx.plan.weeks, numbers.movement)
    return top_points(ctx.plan.weeks, numbers, points, carried(ctx.plan.client, numbers.about))


@pytest.mark.parametrize("name", NAMES)
def test_the_bars_of_the_chart_are_the_bests_of_the_record_table(name: str) -> None:
    ctx = context(name)
    section = records_section(ctx)
    assert section is not None and isinstance(section.data, RecordPages)
    tables = [(lift, place, table) for table in section.data.tables for place, lift in enumerate(table.lifts)]
    compared = 0
    for numbers, (_, place, table) in zip(ctx.plan.lifts, tables, strict=True):
        bests = {reps: cells[place].load for reps, cells in table.rows}
        for point in tops(ctx, numbers):
            if str(point.reps) in bests:
                compared += 1
                assert (ctx.words.amount(point.record) if point.record else "") == bests[str(point.reps)]
    assert compared >= len(ctx.plan.weeks)


@pytest.mark.parametrize("name", NAMES)
def test_a_mark_of_a_session_is_more_than_the_record_table_has(name: str) -> None:
    ctx, seen = context(name), 0
    for found in marked(ctx):
        assert found.one.mark is not None
        best = dict(found.numbers.best_by_reps).get(found.one.mark.reps)
        assert best is None or found.load(ctx) > best.load
        seen += 1
    assert seen


@pytest.mark.parametrize("name", NAMES)
def test_a_full_dot_of_the_chart_is_a_record_on_its_session_s_page_and_no_other_dot_is(name: str) -> None:
    """Done as planned, the set reaches its mark; an attempt has none, and is heavier than every single before."""
    ctx = context(name)
    for numbers in main_lifts(ctx.plan):
        for point in tops(ctx, numbers):
            if point.load is None:
                continue
            mine = [found.one for found in marked(ctx) if found.numbers is numbers and found.week == point.week.number]
            made = {(one.rung.mass, one.reps) for one in mine if one.rung and one.mark and one.reps >= one.mark.reps}
            tried = point.week.kind is WeekKind.TEST and point.record is not None and point.load > point.record
            assert point.beats == ((point.load, point.reps) in made or tried)
