"""The page "What changed": loads side by side, every test in the chart, and a lower result told plainly."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pages.sample_pages import context, html, plain_context
from sources_for_tests import block, client, sources, squat

from builder.pages.changed import REASONS, ChangedPage, changed_section
from builder.pages.context import Context
from builder.pages.explain import change_json, change_text
from builder.pages.figures.draw import Dot, Label, Path
from builder.pages.figures.history import history_drawing
from builder.pages.front import front_sections
from builder.pages.model import Paper, Section
from builder.plan import compare, earlier, make_plan
from builder.values.quantity import Unit
from builder.work import texts

WAVE = squat("kind: wave, weeks: [{share: 70 %, sets: 3, reps: 5}, {share: 80 %, sets: 3, reps: 3}]")
BENCH = "  bench press: {tests: [{date: 2026-12-19, load: 100, reps: 1}]}\n"


def _context(*tests: str, paper: Paper = Paper.A5, squats: str = "{date: 2026-12-19, load: 200, reps: 1}") -> Context:
    listed = ", ".join((squats, *(f"{{{test}}}" for test in tests)))
    read = sources(client(lifts=f"lifts:\n  back squat: {{tests: [{listed}]}}\n{BENCH}"), block(WAVE, weeks=2))
    former = earlier(read)
    assert read.client is not None
    now = plain_context(make_plan(read), paper)
    return replace(now, before=make_plan(former) if former else None, revision=read.client.revision)


def _page(ctx: Context) -> tuple[Section, ChangedPage]:
    section = changed_section(ctx)
    assert section is not None and isinstance(section.data, ChangedPage)
    return section, section.data


def _plain(text: str) -> str:
    return text.replace("\u202f", " ")


BETTER = "date: 2027-02-20, load: 210, reps: 1, attempts: {made: [195, 210], missed: [217.5]}, revision: 2"


def test_a_first_booklet_has_no_such_page_and_a_later_one_has_it_before_the_numbers() -> None:
    assert "changed" not in [s.anchor for s in front_sections(_context())]
    assert "changed" not in [s.anchor for s in front_sections(context("advanced"))]
    assert [s.anchor for s in front_sections(_context(BETTER))][:3] == ["licence", "changed", "numbers"]


def test_before_and_now_stand_side_by_side_as_worked_by_hand() -> None:
    """A single is its own max; 70 and 80 % of 200 are 140 and 160, of 210 147 and 168, on 2.5 kg steps 147.5
    and 167.5."""
    _, page = _page(_context(BETTER))
    rows = [tuple(map(_plain, (r.label, r.before, r.now, r.difference))) for r in page.cards[0].rows]
    assert rows == [
        ("Estimated max", "200 kg", "210 kg", "+10 kg"),
        ("Working max", "200 kg", "210 kg", "+10 kg"),
        ("Week 1, top set", "140 kg × 5", "147.5 kg × 5", "+7.5 kg"),
        ("Week 2, top set", "160 kg × 3", "167.5 kg × 3", "+7.5 kg"),
    ]


def test_what_was_tested_is_told_with_its_attempts_and_so_is_a_lift_left_out() -> None:
    section, page = _page(_context(BETTER))
    said = _plain(html(section))
    assert "Tested on 20 Feb 2027: 210 kg × 1, 0 in reserve." in said
    assert "Attempts made: 195 kg, 210 kg. Attempts missed: 217.5 kg." in said
    assert page.cards[1].tests == ("Not tested this time.",)
    assert {row.difference for row in page.cards[1].rows} == {"none"}


def test_a_better_result_brings_no_reasons_and_a_lower_one_all_of_them_and_the_clinician() -> None:
    section, page = _page(_context(BETTER))
    assert page.reasons == () and "clinician" not in html(section)
    section, page = _page(_context(BETTER.replace("210, reps", "190, reps")))
    assert len(page.reasons) == len(REASONS) == 8
    assert page.cards[0].rows[0].difference.replace("\u202f", " ") == "−10 kg"
    assert "matter for a clinician" in html(section)


def test_a_missed_test_is_told_as_missed_and_leaves_the_numbers() -> None:
    _, page = _page(_context("date: 2027-02-20, load: 210, reps: 1, missed: true, revision: 2"))
    assert "was missed" in page.cards[0].tests[0]
    assert {row.difference for row in page.cards[0].rows} == {"none"}
    assert page.reasons == ()


def test_the_chart_has_a_dot_for_every_test_to_scale_a_cross_for_a_missed_one_and_a_ring_for_the_last() -> None:
    ctx = _context("date: 2027-01-08, load: 215, reps: 1, missed: true", BETTER)
    drawing = history_drawing(ctx.words, ctx.plan.lifts[0], 2, (124, 34), "#123456")
    dots = [mark for mark in drawing.marks if isinstance(mark, Dot)]
    assert [dot.radius for dot in dots] == [1.1, 2.0, 1.1]
    assert dots[0].y > dots[-1].y and dots[0].x < dots[-1].x
    crossed = [m for m in drawing.marks if isinstance(m, Path) and len(m.points) == 2 and m.line == 0.4]
    middle = {round(sum(x for x, _ in stroke.points) / 2, 1) for stroke in crossed}
    # 20 of the 63 days between 19 December and 20 February have passed on 8 January.
    assert middle == {round(dots[0].x + (dots[-1].x - dots[0].x) * 20 / 63, 1)}
    assert "8 Jan 2027: 215" in drawing.title and "missed" in drawing.title and "20 Feb 2027: 210" in drawing.title


@given(st.lists(st.tuples(st.integers(1, 2000), st.integers(100, 240), st.integers(1, 8)), min_size=1, max_size=30))
def test_labels_of_any_history_stay_inside_and_apart(history: list[tuple[int, int, int]]) -> None:
    tests = [
        f"date: {date.fromordinal(date(2020, 1, 1).toordinal() + day)}, load: {load}, reps: {reps}"
        for day, load, reps in history
    ]
    ctx = _context(*tests)
    drawing = history_drawing(ctx.words, ctx.plan.lifts[0], 1, (78, 34), "#123456")
    for mark in drawing.marks:
        if isinstance(mark, Dot):
            assert 0 <= mark.x <= 78 and 0 <= mark.y <= 34
    valued = sorted((m for m in drawing.marks if isinstance(m, Label) and m.weight == 600), key=lambda m: m.x)
    assert valued
    assert all(later.x - earlier.x > 3 for earlier, later in pairwise(valued))


def test_the_terminal_shows_the_same_in_columns_and_json_the_same_loads() -> None:
    ctx = _context(BETTER)
    assert ctx.before is not None
    changes = compare(ctx.before, ctx.plan)
    lines = [line.replace("\u202f", " ") for line in change_text(changes, ctx.plan, ctx.words)]
    assert lines[0] == "back squat"
    assert lines[2:5] == [
        "                        Before            Now   Difference",
        "  Estimated max         200 kg         210 kg       +10 kg",
        "  Working max           200 kg         210 kg       +10 kg",
    ]
    told = change_json(changes, ctx.plan)
    assert told["revision"] == 2 and told["units"] == "kg"
    expected = told["lifts"][0].pop("expected")
    assert expected["before"]["about"] == "200"
    assert 200 < float(expected["now"]["low"]) < float(expected["now"]["about"]) < 210 < float(expected["now"]["high"])
    assert told["lifts"][0] == {
        "movement": "back squat",
        "estimate": {"before": "200", "now": "210"},
        "working_max": {"before": "200", "now": "210"},
        "first_week": {"before": {"week": 1, "load": "140", "reps": 5}, "now": {"week": 1, "load": "147.5", "reps": 5}},
        "last_week": {"before": {"week": 2, "load": "160", "reps": 3}, "now": {"week": 2, "load": "167.5", "reps": 3}},
    }
    assert told["lifts"][1]["first_week"] == {"before": None, "now": None}


@pytest.mark.parametrize("language", texts.languages())
@pytest.mark.parametrize("paper", list(Paper))
def test_the_page_renders_in_every_language_on_every_paper(language: str, paper: Paper) -> None:
    lower = _context(BETTER.replace("210, reps", "190, reps"), paper=paper)
    ctx = replace(lower, words=texts.load_words(language, Unit.KG))
    section, page = _page(ctx)
    assert html(section, paper).count("<title>") == 2
    assert page.lower_title in html(section, paper)
    assert Decimal(page.cards[0].chart.width) > 70
