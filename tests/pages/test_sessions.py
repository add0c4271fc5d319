"""Session pages say what the plan says, and fill their pages without running over."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import groupby, pairwise

import pytest
from pages.plans import busy, sparse, with_slots
from pages.pressed import MM, Printed, print_booklet, printed
from pages.sample_pages import context

from builder.pages.context import Context
from builder.pages.log import slot_fields
from builder.pages.model import Edition, Layout, Paper
from builder.pages.onepage import OnePage
from builder.pages.paging import shared_out
from builder.pages.sessions import SessionPage, session_sections
from builder.pages.setlines import load_text, set_lines, side_words
from builder.pages.theme import theme
from builder.places import themes
from builder.plan.model import PlannedSession
from builder.values.fields import SetField, parse
from builder.work.texts import load_words

PAPERS = [*Paper]
ALL_CAUTIONS = ("minor", "no-safeties", "no-spotter", "clinician", "unscreened", "recent-limit")


def roomy(paper: Paper) -> Context:
    """Two weeks of the novice, their sessions with room."""
    ctx = context("novice", paper)
    plan = replace(ctx.plan, weeks=ctx.plan.weeks[:2])
    return replace(ctx, plan=plan, edition=Edition.POCKET, layout=Layout.SPREAD)


def _squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def _session_texts(one: Printed, session: PlannedSession) -> str:
    texts, mine = one.texts, f"w{session.week:02d}.d{session.day}."
    numbers = [n for code, pages in one.pages_by_code().items() if code.startswith(mine) for n in pages]
    return _squeezed(" ".join(texts[n] for n in numbers))


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["A5", "A4"])
def test_each_planned_load_reps_and_side_stands_on_its_session_s_pages(paper: str) -> None:
    one, ctx = printed("novice", paper), context("novice", Paper(paper))
    for session in ctx.plan.sessions():
        text = _session_texts(one, session)
        for slot in session.slots:
            for single in slot.sets:
                assert load_text(slot, single.rung, ctx.words) in text
                assert _squeezed(side_words(slot, single.rung, ctx.words)) in text
            if slot.attempts is None:
                lines = set_lines(slot, ctx.words)
                # A milestone among sets that are else alike has a star and no line of its own on one page.
                alike = [list(some) for _, some in groupby(lines, lambda line: (line.scheme.split()[-1], line.load))]
                for some in alike:
                    count = sum(int(line.scheme.split()[0]) for line in some)
                    joined = f"{count}{''.join(some[0].scheme.split()[1:])}"
                    assert joined in text or all(_squeezed(line.scheme) in text for line in some)


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["A5", "A4"])
def test_no_session_runs_over_its_pages(paper: str) -> None:
    one = printed("novice", paper)
    pages = one.pages_by_code()
    sessions = {code: s.template for s in one.booklet.sections if s.code for code in s.code.split(" · ")[1:]}
    wanted = {code: 2 if Paper(paper).small and kind != "session_page" else 1 for code, kind in sessions.items()}
    assert {code: len(found) for code, found in pages.items()} == wanted


@pytest.mark.slow
def test_on_small_paper_a_plan_on_the_left_faces_its_log_on_the_right() -> None:
    for left, right in print_booklet(roomy(Paper.A5)).pages_by_code().values():
        assert right == left + 1
        assert left % 2 == 1, "the first page of a booklet is a right one, so left pages have odd numbers from 0"


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
def test_ten_slots_with_36_sets_stay_within_their_pages(paper: Paper) -> None:
    ctx = replace(busy(paper), edition=Edition.POCKET, layout=Layout.SPREAD)
    assert sum(len(slot.work) for slot in ctx.plan.weeks[0].sessions[0].slots) == 36
    pages = print_booklet(ctx).pages_by_code()
    assert len(pages) == 2
    assert all(len(found) == (2 if paper.small else 1) for found in pages.values())


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("language", ["en", "de"])
def test_every_caution_at_once_finds_room_on_a_full_day(paper: Paper, language: str) -> None:
    """A minor who waits for a clinician, was hurt lately, and trains without safeties or a spotter."""
    words = load_words(language, busy(paper).plan.unit)
    ctx = replace(busy(paper), edition=Edition.POCKET, words=words, layout=Layout.SPREAD)
    codes = ALL_CAUTIONS
    one = print_booklet(replace(ctx, plan=replace(ctx.plan, cautions=codes)))
    pages = one.pages_by_code()
    assert all(len(found) == (2 if paper.small else 1) for found in pages.values())
    text = _session_texts(one, ctx.plan.weeks[0].sessions[0])
    said = [ctx.words(key) for code in codes if ctx.words.has(key := f"caution.session.{code}")]
    assert len(said) == 5
    assert all(_squeezed(sentence) in text for sentence in said)


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("look", themes())
def test_every_caution_at_once_finds_room_however_many_slots_there_are(paper: Paper, look: str) -> None:
    """Each setting, the roomy ones too, counts on the height that a caution really takes."""
    slots = busy(paper).plan.weeks[0].sessions[0].slots
    for count in (1, 2, 4):
        ctx = replace(with_slots(paper, slots[:count], Edition.POCKET), theme=theme(look), layout=Layout.SPREAD)
        pages = print_booklet(replace(ctx, plan=replace(ctx.plan, cautions=ALL_CAUTIONS))).pages_by_code()
        facing = paper.small or look == "large-print"
        assert all(len(found) == (2 if facing else 1) for found in pages.values()), count


@pytest.mark.parametrize("paper", PAPERS)
def test_two_slots_get_the_roomiest_setting(paper: Paper) -> None:
    ctx = replace(sparse(paper), layout=Layout.SPREAD)
    sections = session_sections(ctx, ctx.plan.weeks[0], ctx.plan.weeks[0].sessions[0])
    pages = [section.data for section in sections if isinstance(section.data, SessionPage)]
    assert {page.density for page in pages if page.density} == {"airy"}
    assert {page.row for page in pages if page.shape} == {11.0}
    assert max(page.note_mm for page in pages) >= 40


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["A5", "A4"])
def test_writing_cells_are_large_enough_for_a_pencil(paper: str) -> None:
    one = printed("novice", paper)
    kinds = {spec.name: spec.kind for spec in one.booklet.fields}
    assert sum(name.startswith("record") for name in kinds) == 80
    for name, (_, (x0, y0, x1, y1)) in one.rectangles.items():
        if kinds[name] != "tick":
            assert y1 - y0 >= 8 * MM - 0.1, name
            assert x1 - x0 >= 14 * MM - 0.1, name


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["A5", "A4"])
def test_fields_of_a_page_do_not_overlap(paper: str) -> None:
    by_page: dict[int, list[tuple[float, ...]]] = {}
    for number, rectangle in printed("novice", paper).rectangles.values():
        by_page.setdefault(number, []).append(rectangle)
    for rectangles in by_page.values():
        for i, a in enumerate(rectangles):
            for b in rectangles[i + 1 :]:
                wide, high = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
                assert wide < 0.5 or high < 0.5, (a, b)


def test_fields_follow_the_page_and_count_working_sets_only() -> None:
    ctx = context("advanced", Paper.A5)
    session = ctx.plan.weeks[0].sessions[0]
    for number, slot in enumerate(session.slots, 1):
        fields = [parse(spec.name) for spec in slot_fields(session, number, ctx.words)]
        sets = [field.set for field in fields if isinstance(field, SetField) and field.part == "load"]
        assert sets == list(range(1, len(slot.work) + 1))
        assert all(a.set <= b.set for a, b in pairwise(f for f in fields if isinstance(f, SetField)))


def test_sharing_out_keeps_supersets_together_and_the_order() -> None:
    slots = context("advanced", Paper.A5).plan.weeks[0].sessions[0].slots
    numbers = tuple(range(1, len(slots) + 1))
    runs = shared_out(numbers, slots, lambda run: len(run) / 4)
    assert tuple(n for run in runs for n in run) == numbers
    for run, following in pairwise(runs):
        one, two = slots[run[-1] - 1].superset, slots[following[0] - 1].superset
        assert one is None or one != two


def test_a_deload_and_a_milestone_are_named_on_their_pages() -> None:
    ctx = context("advanced", Paper.A5)
    tones = {}
    for week in ctx.plan.weeks:
        for session in week.sessions:
            for section in session_sections(ctx, week, session):
                assert isinstance(section.data, SessionPage | OnePage)
                tones[section.tone] = section.data.badge
    assert tones == {"training": "", "deload": "Deload", "taper": "Taper", "milestone": "Milestone"}
