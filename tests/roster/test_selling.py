"""What a brand says of its copies holds for every one, unless an option says otherwise."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from roster.test_orders import GOOD, HEAD, TEXTS

from builder.given import Sources
from builder.intake import understood
from builder.pages.model import Edition
from builder.work.publish import Choices
from builder.work.publish.selling import settled, unsold
from builder.work.roster import Orders, Wishes, orders_of
from builder.work.roster.table import table_of

BRAND = "format: 1\nbrand: {{name: Nine Herons}}\nselling: {{{}}}\n"
DAY = date(2027, 1, 4)


def sources(selling: str) -> Sources:
    found = understood([("brand.yaml", BRAND.format(selling).encode())], need=("brand",)).sources
    assert found is not None
    return found


def roster(selling: str, choices: Choices, pattern: str | None = None) -> Orders:
    table, _ = table_of("roster.csv", f"{HEAD}\n{GOOD}".encode())
    texts = (*TEXTS, ("brand.yaml", BRAND.format(selling).encode()))
    return orders_of(table, texts, Path(), Wishes(choices, pattern))


@pytest.mark.parametrize(
    ("selling", "choices", "edition", "whole"),
    [
        ("", Choices(DAY), Edition.PERSONAL, True),
        ("edition: log, sources: no", Choices(DAY), Edition.LOG, False),
        ("edition: log, sources: no", Choices(DAY, edition=Edition.POCKET, whole=True), Edition.POCKET, True),
        ("sources: yes", Choices(DAY, whole=False), Edition.PERSONAL, False),
    ],
)
def test_the_brand_decides_where_nobody_chose(selling: str, choices: Choices, edition: Edition, whole: bool) -> None:
    done = settled(choices, sources(selling))
    assert (done.edition, done.whole) == (edition, whole)


@pytest.mark.parametrize(
    ("choices", "codes"),
    [
        (Choices(DAY), ["copy-unstamped", "copy-unlocked"]),
        (Choices(DAY, order="A-1"), ["copy-unlocked"]),
        (Choices(DAY, buyer="Ada", locked=True), []),
    ],
)
def test_a_copy_without_what_the_brand_wants_is_refused_with_its_place(choices: Choices, codes: list[str]) -> None:
    problems = list(unsold(choices, sources("stamp: yes, lock: yes")))
    assert [problem.code for problem in problems] == codes
    assert all(problem.as_text().startswith("brand.yaml:3:") for problem in problems)
    assert not list(unsold(choices, sources("")))


def test_a_roster_keeps_sources_back_unless_they_are_wanted() -> None:
    assert [order.choices.whole for order in roster("", Choices(DAY)).good] == [False]
    assert [order.choices.whole for order in roster("sources: yes", Choices(DAY)).good] == [True]
    assert [order.choices.whole for order in roster("", Choices(DAY, whole=True)).good] == [True]


def test_a_brand_names_the_files_of_a_roster() -> None:
    wanted = 'files: "{order}_{name}"'
    assert [order.file for order in roster(wanted, Choices(DAY)).good] == ["a-1-ada-quill.pdf"]
    assert [order.file for order in roster(wanted, Choices(DAY), "{name}").good] == ["ada-quill.pdf"]
    (problem,) = roster('files: "{nickname}"', Choices(DAY)).problems
    assert problem.as_text().startswith("brand.yaml:3:")
