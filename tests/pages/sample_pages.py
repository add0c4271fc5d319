"""The shipped samples as contexts for booklet pages, and pages as text."""

from __future__ import annotations

import re
from datetime import date
from functools import lru_cache
from pathlib import Path

from builder import places
from builder.intake import load
from builder.pages.context import CoachPage, Context
from builder.pages.model import Edition, Paper, Section
from builder.pages.sheet import sheet
from builder.pdf.html import templates
from builder.plan import Plan, make_plan
from builder.work import texts

SAMPLES = Path(__file__).parents[2] / "samples"
NAMES = ("novice", "intermediate", "advanced")


@lru_cache
def context(name: str, paper: Paper = Paper.A5) -> Context:
    """The context of a shipped sample with the samples' brand."""
    sources = load([SAMPLES / name, SAMPLES / "brand"]).sources
    assert sources is not None
    assert sources.brand is not None
    brand, plan = sources.brand.brand, make_plan(sources)
    pages = tuple(CoachPage(Path(p).stem, (SAMPLES / "brand" / p).read_text(encoding="utf-8")) for p in brand.pages)
    return Context(
        plan, brand, texts.load_words("en", plan.unit), texts.load_texts("en"), paper, Edition.PERSONAL,
        sources.movements, "7F3K9Q", date(2027, 1, 4), "0.1", 1, ("client.yaml", "block.yaml"), pages,
    )  # fmt: skip


def plain_context(plan: Plan, paper: Paper = Paper.A5) -> Context:
    """The context of another plan with the samples' brand and no coach's pages."""
    usual = context("intermediate", paper)
    words = texts.load_words("en", plan.unit)
    return Context(
        plan, usual.brand, words, usual.texts, paper, usual.edition, usual.library, usual.code, usual.made_on,
        usual.version,
    )  # fmt: skip


def html(section: Section, paper: Paper = Paper.A5) -> str:
    """A section through its template, as the booklet places it."""
    template = templates(places.templates()).get_template(f"pages/{section.template}.html.j2")
    return template.render(it=section.data, section=section, booklet={"facing": sheet(paper).facing})


def marked_fields(page: str) -> list[str]:
    """The names of the fields that a page marks, in order."""
    return re.findall(r'data-field="([^"]+)"', page)
