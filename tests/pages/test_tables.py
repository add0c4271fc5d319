"""The tables of the back matter agree with the gym's loads and with the effort maths."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

import pytest
from pages.sample_pages import NAMES, context, html, marked_fields, plain_context
from sources_for_tests import block, client, squat
from sources_for_tests import plan as plan_from

from builder.pages.back import RecordPages, back_sections, record_numbers, records_section
from builder.pages.bars import training_ladder
from builder.pages.figures.tops import top_points
from builder.pages.figures.weekly import week_points
from builder.pages.front import front_sections, handbook_sections
from builder.pages.measures import LOADS_SHARE
from builder.pages.model import Edition, Paper
from builder.pages.reference import ReferencePage, again_section, reference_section
from builder.pages.tables import SHARES, EffortPage, LoadPages, effort_section, load_section, load_table
from builder.pages.testday import tested_lifts as lifts_of_the_test
from builder.plan.numbers import carried
from builder.training.effort import load_share
from builder.training.estimate import DEFAULT
from builder.training.loading import side_text
from builder.values.fields import RecordField, TrendField, parse
from builder.work.texts import catalogue

SINGLE = squat("kind: single, sets: 3, reps: 5, start: 60 %, add: 2.5 kg")


def test_the_shares_run_from_40_to_105_percent_in_steps_of_two_and_a_half() -> None:
    assert SHARES[0] == Decimal("0.4")
    assert SHARES[-1] == Decimal("1.05")
    assert {b - a for a, b in pairwise(SHARES)} == {Decimal("0.025")}


@pytest.mark.parametrize("name", NAMES)
def test_each_load_is_the_one_that_the_gym_picks_with_its_side(name: str) -> None:
    ctx = context(name)
    gym = ctx.plan.client.gym
    for numbers in ctx.plan.lifts:
        table, ladder = load_table(ctx, numbers), training_ladder(ctx.plan, numbers)
        assert len(table.rows) == len(SHARES)
        for share, row in zip(SHARES, table.rows, strict=True):
            target = numbers.working_max * share - carried(ctx.plan.client, numbers.about)
            rung = ladder.pick(target, gym.rounding, gym.ties)
            assert row.whole + row.fraction == ctx.words.amount(rung.mass)
            assert row.side == side_text(rung)
            assert row.side or row.note == ctx.words("side.none")


@pytest.mark.parametrize("name", NAMES)
def test_a_load_has_the_same_side_in_the_table_as_in_the_sessions(name: str) -> None:
    ctx = context(name)
    met = 0
    for numbers in ctx.plan.lifts:
        ladder = training_ladder(ctx.plan, numbers)
        printed = {row.whole + row.fraction: row.side for row in load_table(ctx, numbers).rows}
        for session in ctx.plan.sessions():
            for slot in session.slots:
                if slot.movement != numbers.movement or slot.implement != ladder.name:
                    continue
                for planned in slot.sets:
                    load = ctx.words.amount(planned.rung.mass) if planned.rung else ""
                    if planned.rung and planned.rung.side and load in printed:
                        assert printed[load] == side_text(planned.rung)
                        met += 1
    assert met > 10


def test_a_hand_worked_row() -> None:
    """200 kg max, 20 kg bar, 2.5 kg steps: 82.5 % is 165 kg, 72.5 kg a side, and 25×2 + 20 + 2.5 the fewest."""
    ctx = plain_context(plan_from(client(), block(squat("kind: single, sets: 3, reps: 5, start: 60 %, add: 2.5 kg"))))
    row = load_table(ctx, ctx.plan.lifts[0]).rows[SHARES.index(Decimal("0.825"))]
    assert (row.whole, row.fraction) == ("165", "")
    assert row.side == "25×2 + 20 + 2.5"


BELLS = (
    "lifts:\n  pull-up: {tests: [{date: 2026-12-19, load: 10, reps: 5, rir: 1}]}\n"
    "  dumbbell bench press: {tests: [{date: 2026-12-19, load: 30, reps: 5, rir: 0}]}\n"
)
BELL_GYM = "gym: {bars: {bar: 20}, pairs: {20: 1, 5: 1, 2.5: 1}, dumbbells: {from: 14, to: 40, step: 2}}\n"
BELL_BLOCK = block(
    "movement: pull-up, progression: {kind: single, sets: 3, reps: 5, add: 2.5 kg}",
    "movement: dumbbell bench press, progression: {kind: single, sets: 3, reps: 6, add: 2 kg}",
)


def test_lifts_without_a_bar_name_no_side() -> None:
    ctx = plain_context(plan_from(client(lifts=BELLS, gym=BELL_GYM), BELL_BLOCK))
    pull_up, press = (load_table(ctx, numbers) for numbers in ctx.plan.lifts)
    assert (pull_up.rows[0].whole, pull_up.rows[0].note) == ("0", ctx.words("loads.bodyweight"))
    assert (press.rows[0].whole, press.rows[4].side, press.rows[4].note) == ("14", "", "")
    sections = (*front_sections(ctx), *handbook_sections(ctx), *back_sections(ctx))
    pages = [html(section) for section in sections if section.anchor in ("guide", "trial", "loads")]
    assert len(pages) == 3
    assert not any(ctx.words("side.none") in page for page in pages)


def test_records_of_a_bodyweight_lift_are_compared_by_what_hangs_from_the_belt() -> None:
    plan = plain_context(plan_from(client(lifts=BELLS, gym=BELL_GYM), BELL_BLOCK)).plan
    numbers = plan.lifts[0]
    tops = top_points(plan.weeks, numbers, week_points(plan.weeks, "pull-up"), carried(plan.client, numbers.about))
    assert tops[0].record == 10


@pytest.mark.parametrize("paper", Paper)
def test_every_lift_has_its_table_once(paper: Paper) -> None:
    section = load_section(context("advanced", paper))
    assert section is not None
    page = html(section, paper)
    assert page.count('colspan="2" class="m-load"') == len(context("advanced").plan.lifts)
    assert page.count("<tbody>") == page.count("<thead>")


@pytest.mark.parametrize(("name", "paper", "lifts"), [("intermediate", Paper.A5, 3), ("advanced", Paper.A4, 4)])
def test_three_lifts_stand_on_one_small_page_and_four_on_a_large_one(name: str, paper: Paper, lifts: int) -> None:
    """In columns that are wide enough for plates of 12 pt, and no wider together than the page."""
    ctx = context(name, paper)
    section = load_section(ctx)
    assert section is not None
    assert isinstance(section.data, LoadPages)
    (tables,) = section.data.pages
    assert len(tables) == lifts
    assert sum(one.load + one.side for one in tables) + LOADS_SHARE == pytest.approx(ctx.sheet.width, abs=0.1)
    needed = [load_table(ctx, numbers).side for numbers in ctx.plan.lifts]
    assert all(one.side >= side for one, side in zip(tables, needed, strict=True))


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


@pytest.mark.parametrize("name", NAMES)
def test_every_cell_for_a_new_record_has_its_fields_and_the_lifts_are_numbered_as_on_test_day(name: str) -> None:
    plan = context(name).plan
    section = records_section(context(name))
    assert section is not None
    names = [spec.name for spec in section.fields]
    assert marked_fields(html(section)) == names
    found = [parse(one) for one in names]
    numbers = record_numbers(plan)
    assert {(f.lift, f.reps) for f in found if isinstance(f, RecordField) and f.part == "load"} == {
        (numbers[lift.movement], reps) for lift in plan.lifts for reps in range(1, 11)
    }
    weeks = {(f.lift, f.week) for f in found if isinstance(f, TrendField)}
    assert weeks == {(numbers[lift.movement], week.number) for lift in plan.lifts for week in plan.weeks}
    assert len(set(names)) == len(names) == 20 * len(plan.lifts) + len(weeks)
    for tested in lifts_of_the_test(plan):
        assert numbers[tested.slot.movement] == tested.number


def test_lifts_that_the_block_does_not_test_are_numbered_after_those_that_it_tests() -> None:
    plan = plan_from(client(), block(SINGLE, head="test: {week: 4, lifts: [bench press]}"))
    assert record_numbers(plan) == {"bench press": 1, "back squat": 2}


def test_a_screen_reader_hears_lift_reps_and_part_of_a_new_record() -> None:
    section = records_section(context("advanced"))
    assert section is not None
    labels = {spec.name: spec.label for spec in section.fields}
    number = record_numbers(context("advanced").plan)["front squat"]
    assert labels[f"record-l{number}-r1-load"] == "Front squat, new record for 1 rep: load"
    assert labels[f"record-l{number}-r5-date"] == "Front squat, new record for 5 reps: date"


def test_the_coachs_copy_names_the_booklet_and_its_files() -> None:
    ctx = replace(context("advanced"), edition=Edition.COACH)
    page = html(again_section(ctx))
    for text in (ctx.code, ctx.version, "client.yaml, block.yaml", "4 Jan 2027"):
        assert text in page
    section = reference_section(ctx)
    assert isinstance(section.data, ReferencePage)
    assert len(section.data.glossary) > 30
    assert len(section.data.sources) > 20


@pytest.mark.parametrize(
    ("rir", "said"),
    [
        # Levels 10 to 6 of the scale in Zourdos et al. 2016 (J Strength Cond Res 30(1):267-275), put in other words.
        ("0", "not a heavier load"),
        ("0-5", "a little more load"),
        ("1", "One more rep was"),
        ("1-5", "perhaps two"),
        ("2", "Two more reps were"),
        ("2-5", "perhaps three"),
        ("3", "Three more reps were"),
        ("4", "Four or more"),
    ],
)
def test_the_printed_scale_follows_the_published_levels(rir: str, said: str) -> None:
    assert said in catalogue("en")[f"effort.feels.{rir}"]
