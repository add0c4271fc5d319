"""Measures by which pages are counted are those that the style sheets draw with."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from builder import places
from builder.pages import measures
from builder.pages.measures import measured
from builder.pages.sheet import Prose


def sheets() -> list[Path]:
    return sorted(places.styles().rglob("*.css"))


def test_every_measure_is_drawn_with() -> None:
    asked = set(re.findall(r"var\(--m-([a-z-]+)\)", " ".join(file.read_text("utf-8") for file in sheets())))
    known = (name for name, value in vars(measures).items() if isinstance(value, Prose | float))
    assert {re.sub("-(points|mm)$", "", name) for name in asked} == {name.lower().replace("_", "-") for name in known}


def test_every_sheet_gets_the_measures_that_it_asks_for() -> None:
    for file in sheets():
        assert "var(--m-" not in measured(file.read_text("utf-8"))


def test_a_measure_is_written_with_its_unit() -> None:
    css = "font: 500 var(--m-lift-name); line-height: var(--m-lift-name-mm); width: var(--m-card-top); x: var(--m-note)"
    assert measured(css) == "font: 500 13pt/5.2mm; line-height: 5.2mm; width: 52%; x: 8.5pt"
    assert measured("word-spacing: var(--m-choice-closer)") == "word-spacing: -0.06em"


def test_a_sheet_that_asks_for_what_there_is_not_is_our_fault() -> None:
    with pytest.raises(KeyError):
        measured("width: var(--m-nothing)")
