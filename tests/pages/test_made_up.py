"""Made-up clients and blocks on paper: whatever is planned for them stands within its pages, and on its own.

`LOADLEAF_BOOKLETS=100 LOADLEAF_SEED=7 pytest tests/pages/test_made_up.py` presses more of them, and others.
"""

from __future__ import annotations

import os
from dataclasses import replace
from itertools import cycle, islice, product

import pytest
from made.cases import Case, drawn
from pages import layout
from pages.layout import CHECKS, Book
from pages.pressed import print_booklet
from pages.sample_pages import plain_context

from builder.pages.model import Edition, Paper
from builder.pages.theme import theme
from builder.places import themes
from builder.work.texts import load_texts, load_words

COUNT = int(os.environ.get("LOADLEAF_BOOKLETS", "4"))
MOST_SESSIONS = 16
EDITIONS = (Edition.POCKET, Edition.LOG, Edition.POCKET, Edition.PERSONAL)
WAYS = cycle(product(("en", "de"), themes(), Paper))
"""Every paper in turn, then the next theme, then the next language."""


def _sound() -> list[Case]:
    """Cases with something to print, from all over the pool, the shorter ones."""
    cases = [case for case in drawn() if not case.problems and 0 < len(list(case.plan.sessions())) <= MOST_SESSIONS]
    return cases[:: max(1, len(cases) // COUNT)][:COUNT]


@pytest.mark.slow
def test_what_is_planned_for_anyone_stands_within_its_pages() -> None:
    """The last page of a text or of the records may be nearly empty."""
    checks = [check for check in CHECKS if check is not layout.empty_pages]
    cases = _sound()
    assert len(cases) == COUNT
    for case, (language, look, paper), edition in zip(cases, islice(WAYS, COUNT), cycle(EDITIONS), strict=False):
        ctx = replace(
            plain_context(case.plan, paper), edition=edition, library=case.sources.movements, theme=theme(look),
            words=load_words(language, case.plan.unit), texts=load_texts(language),
        )  # fmt: skip
        done = print_booklet(ctx)
        book = Book(done.booklet, done.pressed, done.leaves)
        faults = {check.__name__: found for check in checks if (found := list(check(book)))}
        told = "\n---\n".join((f"{paper} {look} {language} {edition}", *case.made.texts))
        assert (faults, done.pressed.warnings) == ({}, ()), told
