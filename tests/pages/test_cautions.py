"""Each caution stands on the pages that need it, in every language, and the gates behind it act in plan and review."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache
from html import unescape
from itertools import zip_longest
from pathlib import Path

import pytest
from pages.sample_pages import plain_context
from sources_for_tests import CLIENT, GYM, client, plan

from builder.pages.context import Context
from builder.pages.make import make_booklet
from builder.pages.model import Edition, Paper
from builder.pdf.html import render
from builder.plan import PlannedSlot, Role
from builder.review import review
from builder.work import texts

GUIDE = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
TODAY = date(2027, 1, 2)
LANGUAGES = texts.languages()
BLOCK = """format: 1
block: {title: T, weeks: 8, suits: [intermediate], deload: {weeks: [7]}, test: {week: 8, lifts: [back squat]}}
days:
  - title: Squats
    slots:
      - {drill: walkout, of: back squat, progression: {kind: hold, from: 98 %, to: 105 %, rise: 4 %, every: 1 week}}
      - {movement: back squat, progression: {kind: single, reps: 5, start: 60 %, add: 2.5 kg}}
  - title: Rows
    slots:
      - {movement: barbell row, progression: {kind: single, reps: 8, start: 40 kg, add: 1 kg}}
"""


@dataclass(frozen=True)
class Holds:
    """A caution: the part of the profile that it hangs on, what it gates, and what else is printed for it."""

    code: str
    parts: tuple[tuple[str, str], ...]
    capped: bool = False
    rep_test: bool = False
    every_day: bool = False
    under_the_bar: bool = False
    text: str = ""


def _who(more: str) -> tuple[tuple[str, str], ...]:
    return (("client", f"client: {{name: Q, units: kg, bodyweight: 80, {more}}}\n"),)


def _gym(more: str) -> tuple[tuple[str, str], ...]:
    return (("gym", GYM.replace("safeties: true, spotter: always", more)),)


LIMIT = "screening: {answered: 2027-01-01}\nlimits: [{area: wrist, avoid: [push press], since: 2026-12-20}]\n"
EVERY = (
    Holds("minor", _who("born: 2010"), capped=True, rep_test=True, every_day=True, text="minors"),
    Holds("supervised-minor", _who("born: 2010, supervisor: Dr Ash"), every_day=True, text="minors"),
    Holds("older", _who("born: 1955"), text="older"),
    Holds("no-safeties", _gym("safeties: false, spotter: always"), capped=True, under_the_bar=True),
    Holds("no-spotter", _gym("safeties: true, spotter: never"), under_the_bar=True),
    Holds(
        "clinician", (("screening", "screening: {answered: 2027-01-01, clinician_advised: true}\n"),),
        capped=True, rep_test=True, every_day=True,
    ),
    Holds("unscreened", (("screening", ""),)),
    Holds("recent-limit", (("screening", LIMIT),), capped=True, every_day=True),
)  # fmt: skip
BY_CODE = pytest.mark.parametrize("holds", EVERY, ids=lambda holds: holds.code)


@lru_cache
def _context(holds: Holds | None, language: str, edition: Edition = Edition.PERSONAL) -> Context:
    made = plan(client(**dict(holds.parts)) if holds else CLIENT, BLOCK)
    words, longer = texts.load_words(language, made.unit), texts.load_texts(language)
    return replace(plain_context(made, Paper.A5), words=words, texts=longer, edition=edition)


@lru_cache
def _pages(holds: Holds | None, language: str, edition: Edition = Edition.PERSONAL) -> tuple[tuple[str, str], ...]:
    """The anchor and the text, marks left in, of each part of the booklet."""
    booklet = make_booklet(_context(holds, language, edition))
    return tuple((one.anchor, unescape(render(replace(booklet, sections=(one,))))) for one in booklet.sections)


def _days(holds: Holds | None, language: str, day: int, edition: Edition = Edition.PERSONAL) -> Iterator[str]:
    """The plan pages of one day of each week, all parts of a session together."""
    sessions: dict[str, str] = {}
    for anchor, text in _pages(holds, language, edition):
        if anchor.startswith("week-") and f"-day-{day}" in anchor:
            key = anchor[: anchor.index(f"-day-{day}") + len(f"-day-{day}")]
            sessions[key] = sessions.get(key, "") + text
    yield from sessions.values()


@BY_CODE
def test_the_profile_gives_this_caution_and_no_other(holds: Holds) -> None:
    """The usual lifter of these tests has none at all."""
    assert _context(holds, "en").plan.cautions == (holds.code,)
    assert _context(None, "en").plan.cautions == ()


@pytest.mark.parametrize("language", LANGUAGES)
@BY_CODE
def test_the_safety_page_says_it(holds: Holds, language: str) -> None:
    """With the longer text for minors and older lifters, and not for anyone else."""
    words = texts.load_words(language, _context(holds, language).plan.unit)
    page, usual = (dict(_pages(one, language))["licence"] for one in (holds, None))
    sentence = words(f"caution.{holds.code}")
    assert sentence in page and sentence not in usual
    for name in ("minors", "older"):
        heading = ">" + texts.load_texts(language).markdown[name].split("\n")[0].lstrip("# ") + "</h"
        assert (heading in page) is (name == holds.text)
        assert heading not in usual


@pytest.mark.parametrize("edition", [Edition.PERSONAL, Edition.POCKET])
@pytest.mark.parametrize("language", LANGUAGES)
@BY_CODE
def test_session_pages_say_it_where_it_matters(holds: Holds, language: str, edition: Edition) -> None:
    """What is about the lifter on every day; what is about the gym on days with something over or on the lifter."""
    words = texts.load_words(language, _context(holds, language).plan.unit)
    key = f"caution.session.{holds.code}"
    assert words.has(key) is (holds.every_day or holds.under_the_bar)
    if words.has(key):
        squats, rows = (list(_days(holds, language, day, edition)) for day in (1, 2))
        assert len(squats) == 8 and len(rows) == 7  # The last week has one day: the test.
        assert all(words(key) in page for page in squats)
        assert all((words(key) in page) is holds.every_day for page in rows)
        assert all(words(key) not in page for page in _days(None, language, 1, edition))


@pytest.mark.parametrize("language", LANGUAGES)
@BY_CODE
def test_drill_pages_say_what_a_gate_took_off(holds: Holds, language: str) -> None:
    """On the page of all drills and on the day."""
    words = texts.load_words(language, _context(holds, language).plan.unit)
    key = f"why.hold-capped-{holds.code}"
    assert words.has(key) is holds.capped
    if holds.capped:
        assert words(key) in dict(_pages(holds, language))["drills"]
        days = list(_days(holds, language, 1))
        assert words(key) not in days[0]  # 98 %
        assert all(words(key) in page for page in days[1:6])  # From 102 % on.


@pytest.mark.parametrize("language", LANGUAGES)
@BY_CODE
def test_test_pages_say_why_there_is_no_max(holds: Holds, language: str) -> None:
    """A set of five in place of attempts, and the sentence for it; else the attempts."""
    words = texts.load_words(language, _context(holds, language).plan.unit)
    page = list(_days(holds, language, 1))[-1]
    assert (words("test.says.opener") in page) is not holds.rep_test
    if holds.rep_test:
        assert words(f"why.rep-test-{holds.code}") in page


def _drills_and_tests(holds: Holds | None) -> tuple[list[PlannedSlot], list[PlannedSlot]]:
    slots = [slot for session in _context(holds, "en").plan.sessions() for slot in session.slots]
    return [slot for slot in slots if slot.kind == "hold"], [s for s in slots if s.kind in ("attempts", "rep_test")]


@BY_CODE
def test_the_gate_acts_in_the_plan(holds: Holds) -> None:
    """The max is 200 kg: 98, 102 and 105 % where nothing bars it, else 200 at the most; attempts or a set of five."""
    drills, (tested,) = _drills_and_tests(holds)
    most = max(planned.rung.mass for slot in drills for planned in slot.work if planned.rung)
    assert most == (200 if holds.capped else 210)
    assert tested.kind == ("rep_test" if holds.rep_test else "attempts")
    assert any(planned.role is Role.ATTEMPT for planned in tested.work) is not holds.rep_test


@BY_CODE
def test_the_gate_acts_in_the_review(holds: Holds) -> None:
    """It is told, with what the plan did about it; the gym's are told where a squat or a hold makes them matter."""
    found = {finding.code: finding.fact for finding in review(_context(holds, "en").plan, TODAY)}
    told = {"no-safeties": "squat-without-safeties", "no-spotter": "hold-alone"}.get(holds.code, holds.code)
    assert told in found
    about = found[told]
    if holds.capped:
        assert "above the max" in about or "at or below the max" in about
    if holds.rep_test:
        assert "a set of five" in about
    usual = {finding.code for finding in review(_context(None, "en").plan, TODAY)}
    assert told not in usual
    assert ("attempt-alone" in found) is (holds.code == "no-spotter")


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_first_hold_is_told_on_its_day_and_on_the_page_of_drills(language: str) -> None:
    """160 kg were really lifted, 98 % of the max would be more: the hold begins at 160, and the review lets it be."""
    lifts = "lifts: {back squat: {tests: [{date: 2026-12-19, load: 160, reps: 5, rir: 1}]}}\n"
    holds = Holds("first-hold", (("lifts", lifts),))
    drills, _ = _drills_and_tests(holds)
    assert drills[0].work[0].rung and drills[0].work[0].rung.mass == 160
    words = texts.load_words(language, _context(holds, language).plan.unit)
    (note,) = drills[0].notes
    sentence = words("why.first-hold", **{**dict(note.facts), "share": "@"}).split("@")[1]
    days = list(_days(holds, language, 1))
    assert sentence in days[0] and sentence not in days[1]
    assert sentence in dict(_pages(holds, language))["drills"]
    assert "walkout-share" not in {finding.code for finding in review(_context(holds, "en").plan, TODAY)}


@pytest.mark.parametrize("language", LANGUAGES)
def test_deload_sessions_and_drills_carry_their_own_cautions(language: str) -> None:
    """For everyone: week 7 is a deload without drills, the weeks before have a walkout. Its days share a page."""
    words = texts.load_words(language, _context(None, language).plan.unit)
    days = list(_days(None, language, 1))
    weeks = ["".join(pages) for pages in zip_longest(days, _days(None, language, 2), fillvalue="")]
    assert [words("caution.deload") in week for week in weeks] == [False] * 6 + [True, False]
    assert [words("caution.drill.walkout") in page for page in days] == [True] * 6 + [False, False]


def test_the_guide_gives_a_reason_for_each_caution() -> None:
    """A last column that names a source of the booklet's own page, or says that there is none."""
    table = GUIDE.split("<!-- table: cautions -->")[1].split("\n\n")[0]
    rows = [[cell.strip() for cell in line.strip("| ").split(" | ")] for line in table.strip().split("\n")[2:]]
    assert [row[0].strip("`") for row in rows] == [holds.code for holds in EVERY]
    sources = str(texts.load_texts("en").data["sources"])
    for *_, why in rows:
        named = re.findall(r"(Haff|Riebe)", why)
        assert named or "ommon practice" in why
        assert all(name in sources for name in named)
