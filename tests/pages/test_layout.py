"""Every printed page of the samples, measured by pdfium, pikepdf and poppler, which do not know how it was made.

LOADLEAF_EVERY_BOOKLET=1 takes each sample in each paper, theme and language; otherwise eleven booklets do, in which
each of these comes up, and which other tests look at, too. Pictures of chosen pages are kept in `.pictures/`, or where
LOADLEAF_PICTURES says.
"""

from __future__ import annotations

import json
import os
import shutil
from collections import Counter
from dataclasses import replace
from io import BytesIO
from itertools import product
from pathlib import Path
from typing import Any

import pdfplumber
import pytest
from pages import layout, pictures
from pages.broken_pages import SPOILT, small_book
from pages.layout import CHECKS, Book
from pages.leaves import Leaves
from pages.plan_on_paper import differences, poppler
from pages.plans import odd, sparse
from pages.pressed import print_booklet, printed
from pages.sample_pages import NAMES, context
from short import shortened

from builder.pages.explain import plan_json
from builder.pages.model import Edition, Layout, Paper
from builder.places import themes
from builder.plan import make_plan

SOME = (
    ("advanced", "A5", "default", "en"), ("advanced", "A4", "default", "en"),
    ("intermediate", "A5", "default", "en"), ("intermediate", "A5", "default", "de"),
    ("intermediate", "Letter", "ink-saver", "de"),
    ("intermediate", "half-letter", "large-print", "de"),
    ("novice", "A5", "default", "en"), ("novice", "A4", "default", "en"), ("novice", "A5", "ink-saver", "en"),
    ("novice", "A5", "large-print", "en"), ("novice", "A4", "large-print", "en"),
)  # fmt: skip
ALL = tuple(product(NAMES, [str(paper) for paper in Paper], themes(), ("en", "de")))
CASES = ALL if "LOADLEAF_EVERY_BOOKLET" in os.environ else SOME
AROUND = ("contents", "licence", "numbers", "guide", "glance", "flow", "records", "loads", "effort", "after")
"""Templates of what stands before and behind the training."""
MOST_PAGES = {"novice": 60, "intermediate": 72, "advanced": 100}
"""Pages of a sample on paper of the size of A5, half as many again in large print. The aims of this project."""


needs_poppler = pytest.mark.skipif(not shutil.which("pdftotext"), reason="needs pdftotext of poppler")


@pytest.mark.slow
@pytest.mark.parametrize("case", CASES, ids="-".join)
def test_every_page_is_laid_out_as_meant_and_says_what_the_plan_says(case: tuple[str, ...], tmp_path: Path) -> None:
    """All checks of a booklet in one test, so that no worker presses what another one has pressed."""
    one, (name, paper, look, _) = printed(*case), case
    assert one.pressed.warnings == ()
    if paper == "A5":
        assert len(one.texts) <= MOST_PAGES[name] * (1.5 if look == "large-print" else 1)
    book = Book(one.booklet, one.pressed, one.leaves)
    assert pictures.keep(book, "-".join(case))
    faults = {check.__name__: found for check in CHECKS if (found := list(check(book)))}
    if shutil.which("pdftotext"):
        ctx = context(case[0])
        told = list(differences(plan_json(ctx.plan, ctx.words), poppler(book.leaves.pdf, tmp_path), case[3]))
        faults |= {"poppler reads": told} if told else {}
    assert faults == {}


@pytest.mark.slow
@pytest.mark.parametrize(
    ("edition", "paper"),
    [(Edition.LOG, Paper.A5), (Edition.LOG, Paper.A4), (Edition.POCKET, Paper.HALF_LETTER), (Edition.POCKET, Paper.A4)],
)
def test_smaller_editions_are_laid_out_as_meant_with_long_titles(edition: Edition, paper: Paper) -> None:
    """The advanced sample, its second day with a title as long as a file may have."""
    ctx = context("advanced", paper)
    week = ctx.plan.weeks[0]
    one, two, *more = week.sessions
    sessions = (one, replace(two, title=("Bench press, heavy and light in turn " * 4)[:120].strip()), *more)
    plan = replace(ctx.plan, weeks=(replace(week, sessions=sessions), *ctx.plan.weeks[-2:]))
    done = print_booklet(replace(ctx, plan=plan, edition=edition))
    book = Book(done.booklet, done.pressed, done.leaves)
    assert {check.__name__: found for check in CHECKS if (found := list(check(book)))} == {}


@pytest.mark.slow
@pytest.mark.parametrize(("name", "paper"), [("novice", Paper.A5), ("intermediate", Paper.A4)])
def test_plans_and_logs_with_room_are_laid_out_as_meant(name: str, paper: Paper) -> None:
    """The training of a few weeks: the pages around it have nothing to do with it."""
    sources = shortened(name).sources
    assert sources is not None
    ctx = replace(context(name, paper), plan=make_plan(sources), layout=Layout.SPREAD)
    done = print_booklet(ctx, without=AROUND)
    book = Book(done.booklet, done.pressed, done.leaves)
    assert {check.__name__: found for check in CHECKS if (found := list(check(book)))} == {}


@pytest.mark.slow
@pytest.mark.parametrize("case", [("A5", "default", "en"), ("Letter", "ink-saver", "de")], ids="-".join)
def test_files_that_ask_much_of_a_page_are_laid_out_as_meant(case: tuple[str, str, str]) -> None:
    """Only the last page of a text or of the records may be nearly empty."""
    done = print_booklet(odd(Paper(case[0]), *case[1:]))
    book = Book(done.booklet, done.pressed, done.leaves)
    checks = [check for check in CHECKS if check is not layout.empty_pages]
    assert {check.__name__: found for check in checks if (found := list(check(book)))} == {}


def test_a_small_booklet_without_a_fault_passes_every_check(monkeypatch: pytest.MonkeyPatch) -> None:
    book, html = small_book()
    monkeypatch.setattr(layout, "render", lambda booklet: html)
    assert {check.__name__: list(check(book)) for check in CHECKS} == {check.__name__: [] for check in CHECKS}


@pytest.mark.parametrize(
    ("name", "old", "new"), [(name, *way) for name, ways in SPOILT.items() for way in ways], ids=str
)
def test_each_check_finds_the_fault_that_it_is_for(
    name: str, old: str, new: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    book, html = small_book(old, new, loose=name == "broken_tables")
    monkeypatch.setattr(layout, "render", lambda booklet: html)
    assert list(getattr(layout, name)(book))


def test_every_check_has_a_page_on_which_it_speaks() -> None:
    assert {check.__name__ for check in CHECKS} == SPOILT.keys()


def test_a_table_that_goes_on_under_its_head_is_sound(monkeypatch: pytest.MonkeyPatch) -> None:
    book, html = small_book("<tr><td>Press", "<tr><td>Press</td></tr>" * 40 + "<tr><td>Press")
    monkeypatch.setattr(layout, "render", lambda booklet: html)
    assert len(book.leaves.elements("Table")) == 3
    assert list(layout.broken_tables(book)) == []


def test_a_cover_with_a_page_number_is_found() -> None:
    book, _ = small_book()
    first, *others = book.booklet.sections
    sections = (replace(first, template="cover"), *others)
    assert list(layout.heads_and_feet(replace(book, booklet=replace(book.booklet, sections=sections))))


def _first(plan: dict[str, Any]) -> list[dict[str, Any]]:
    """The sets of the first slot."""
    return plan["weeks"][0]["sessions"][0]["slots"][0]["sets"]


@needs_poppler
@pytest.mark.slow
def test_a_plan_with_another_load_rep_side_or_order_is_not_what_poppler_reads(tmp_path: Path) -> None:
    ctx = replace(sparse(Paper.A5), edition=Edition.POCKET)
    texts, plan = poppler(print_booklet(ctx).pressed.pdf, tmp_path), json.dumps(plan_json(ctx.plan, ctx.words))
    assert list(differences(json.loads(plan), texts, "en")) == []
    for key, value in (("load", "91"), ("reps", 9), ("side", [["25", 1]])):
        for place in (0, -1):
            other = json.loads(plan)
            _first(other)[place][key] = value
            assert list(differences(other, texts, "en")), (key, place)
    other = json.loads(plan)
    other["weeks"][0]["sessions"][0]["slots"].reverse()
    assert list(differences(other, texts, "en"))


@pytest.mark.slow
def test_pdfplumber_finds_the_same_letters_in_the_same_sizes_and_places() -> None:
    pdf = print_booklet(replace(sparse(Paper.A4), edition=Edition.POCKET)).pressed.pdf
    with pdfplumber.open(BytesIO(pdf)) as read:
        for page, leaf in zip(read.pages, Leaves(pdf).pages, strict=True):
            letters = [char for char in page.chars if char["text"].strip()]
            glyphs = [glyph for run in leaf.runs for glyph in run.glyphs]
            ours = Counter((letter, round(glyph.size, 1)) for glyph in glyphs for letter in glyph.text)
            assert Counter((letter, round(char["size"], 1)) for char in letters for letter in char["text"]) == ours
            for char in letters:
                left, right, base, first = char["x0"] - 1.5, char["x1"] + 1.5, char["matrix"][5], char["text"][0]
                same = (one.box for one in glyphs if one.text == first and abs(one.base - base) < 0.1)
                assert any(left < box[0] and box[2] < right for box in same), char["text"]
