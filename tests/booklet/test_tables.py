"""The tables of the back matter agree with the gym's loads and with the effort maths."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

import pytest
from sample_pages import NAMES, context, html, plain_context
from sources_for_tests import block, client, squat
from sources_for_tests import plan as plan_from

from builder.booklet.back import RecordPages, ReferencePage, back_sections, records_section, reference_section
from builder.booklet.model import Paper
from builder.booklet.tables import SHARES, EffortPage, effort_section, load_section, load_table
from builder.plan.numbers import carried
from builder.training.effort import load_share
from builder.training.estimate import DEFAULT
from builder.training.loading import side_text


def test_the_shares_run_from_40_to_105_percent_in_steps_of_two_and_a_half() -> None:
    assert SHARES[0] == Decimal("0.4")
    assert SHARES[-1] == Decimal("1.05")
    assert {b - a for a, b in pairwise(SHARES)} == {Decimal("0.025")}


@pytest.mark.parametrize("name", NAMES)
def test_each_load_is_the_one_that_the_gym_picks_with_its_side(name: str) -> None:
    ctx = context(name)
    gym = ctx.plan.client.gym
    for numbers in ctx.plan.lifts:
        table = load_table(ctx, numbers)
        assert len(table.rows) == len(SHARES)
        for share, row in zip(SHARES, table.rows, strict=True):
            target = numbers.working_max * share - carried(ctx.plan.client, numbers.about)
            rung = numbers.ladder.pick(target, gym.rounding, gym.ties)
            assert row.whole + row.fraction == ctx.words.amount(rung.mass)
            assert row.side.startswith(side_text(rung) or ctx.words("side.none"))


def test_a_hand_worked_row() -> None:
    """200 kg max, 20 kg bar, 2.5 kg steps: 82.5 % is 165 kg, 72.5 kg a side, and 25×2 + 20 + 2.5 the fewest."""
    ctx = plain_context(plan_from(client(), block(squat("kind: single, sets: 3, reps: 5, start: 60 %, add: 2.5 kg"))))
    row = load_table(ctx, ctx.plan.lifts[0]).rows[SHARES.index(Decimal("0.825"))]
    assert (row.target, row.whole, row.fraction) == ("165.0", "165", "")
    assert row.side == "25×2 + 20 + 2.5"


@pytest.mark.parametrize("paper", Paper)
def test_every_lift_has_its_table_once(paper: Paper) -> None:
    section = load_section(context("advanced", paper))
    assert section is not None
    page = html(section, paper)
    assert page.count('class="m-loads') == len(context("advanced").plan.lifts)
    assert page.count("<tbody>") == page.count("<thead>")


@pytest.mark.parametrize("name", NAMES)
def test_the_effort_table_is_the_effort_maths(name: str) -> None:
    ctx = context(name)
    page = effort_section(ctx).data
    assert isinstance(page, EffortPage)
    equation = ctx.plan.client.equation or DEFAULT
    assert len(page.rows) == 12
    for reps, row in enumerate(page.rows, 1):
        for left, printed in enumerate(row.shares):
            if reps + left > 15:
                assert printed == ctx.words("figure.none")
                continue
            share = load_share(reps, left, equation, ctx.plan.rows) * 100
            assert abs(Decimal(printed.split("\N{NARROW NO-BREAK SPACE}")[0]) - share) <= Decimal("0.05")


def test_the_effort_table_reads_the_handbook_rows() -> None:
    """5 reps at RPE 8 are 83 %, 3 at RPE 9 90 %, 8 at RPE 8 75 %, 1 at RPE 8 93 % (NSCA table, RM = reps + RIR)."""
    ctx = plain_context(plan_from(client(), block(squat("kind: single, sets: 3, reps: 5, start: 60 %, add: 2.5 kg"))))
    page = effort_section(ctx).data
    assert isinstance(page, EffortPage)
    read = {(reps, rir): page.rows[reps - 1].shares[rir].split("\N{NARROW NO-BREAK SPACE}")[0]
            for reps, rir in ((5, 2), (3, 1), (8, 2), (1, 2))}  # fmt: skip
    assert read == {(5, 2): "83", (3, 1): "90", (8, 2): "75", (1, 2): "93"}


@pytest.mark.parametrize("name", NAMES)
def test_the_record_table_has_the_best_by_reps(name: str) -> None:
    ctx = context(name)
    section = records_section(ctx)
    assert section is not None
    page = section.data
    assert isinstance(page, RecordPages)
    columns = {}
    for table in page.tables:
        for i, lift in enumerate(table.lifts):
            columns[lift.lower()] = [bests[i].load for _, bests in table.rows]
    for numbers in ctx.plan.lifts:
        best = dict(numbers.best_by_reps)
        wanted = [ctx.words.amount(best[reps].load) if reps in best else "" for reps in range(1, 11)]
        assert columns[numbers.movement.lower()] == wanted


def test_the_last_page_names_the_booklet_and_its_files() -> None:
    ctx = context("advanced")
    section = reference_section(ctx)
    page = html(section)
    for text in (ctx.code, ctx.version, "client.yaml, block.yaml", "4 Jan 2027"):
        assert text in page
    assert isinstance(section.data, ReferencePage)
    assert len(section.data.glossary) > 30
    assert len(section.data.sources) > 20


@pytest.mark.parametrize("name", NAMES)
def test_tables_have_heads_with_a_scope(name: str) -> None:
    for section in back_sections(context(name)):
        for cell in html(section).split("<th")[1:]:
            assert cell.startswith((" scope=", "ead>")), cell[:60]
