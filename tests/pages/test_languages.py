"""A second language proves that every printed word comes from the catalogue and the texts, and can be replaced."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from functools import lru_cache
from pathlib import Path

import pytest
from click.testing import CliRunner
from kept import once_a_run
from pages.pressed import Printed, print_booklet
from pages.sample_pages import context

from builder.cli import loadleaf
from builder.intake import load
from builder.intake.load import library
from builder.pages.context import Context
from builder.pages.model import Paper
from builder.values.lists import LANGUAGES
from builder.values.problem import Severity
from builder.values.quantity import Unit
from builder.work import texts
from builder.work.publish import Choices, dress

OTHERS = [language for language in texts.languages() if language != texts.DEFAULT_LANGUAGE]
TELLTALE = 12
"""Sentences of the catalogue with more letters than this cannot be in a page of another language by chance."""
ORIGINS = ("reps in reserve", "health screening")
"""What the glossary gives as the origin of an abbreviation, and the title of a cited paper."""
SAMPLE = ["samples/intermediate", "samples/brand/brand.yaml"]


def _names(sentence: str) -> set[str]:
    return set(re.findall(r"{([^}]*)}", sentence))


def _plain(text: str) -> str:
    """Text without spaces, hyphens at line ends and kinds of quotes, as a page may break a sentence anywhere."""
    return re.sub(r"[\s\u00ad\u2010-]", "", text.replace("’", "'")).lower()


@lru_cache
def _context(name: str, paper: Paper, language: str) -> Context:
    usual = context(name, paper)
    words, longer = texts.load_words(language, usual.plan.unit), texts.load_texts(language)
    return replace(usual, words=words, texts=longer, coach_pages=())


@once_a_run
def _german(paper: Paper) -> Printed:
    return print_booklet(_context("intermediate", paper, "de"))


NO_GERMAN = (
    "Nimm erst Gewicht weg, dann Tiefe", "Manche Hüften sind weit stärker", "knapp unter die Pause", "Der fette Test",
    "Sieh weiter", "nicht betäuben", "Vorführung", "Bruch",
)  # fmt: skip
"""Words put over one by one from English, as a native reader marked them; "Bruch" stood for a hernia."""


def test_no_german_word_that_a_native_reader_struck_out_has_come_back() -> None:
    longer = texts.load_texts("de")
    every = " ".join((*texts.catalogue("de").values(), *longer.markdown.values(), str(longer.data)))
    assert len(every) > 20_000
    assert [phrase for phrase in NO_GERMAN if re.search(rf"\b{phrase}", every)] == []


def test_there_is_a_second_language_and_a_brand_may_name_any_of_them() -> None:
    assert "de" in OTHERS
    assert texts.languages() == LANGUAGES


@pytest.mark.parametrize("language", OTHERS)
def test_a_language_has_every_key_with_the_same_placeholders(language: str) -> None:
    english, other = texts.catalogue("en"), texts.catalogue(language)
    assert other.keys() == english.keys()
    for key, sentence in english.items():
        assert _names(other[key]) == _names(sentence), key
        assert bool(other[key]) == bool(sentence), key


@pytest.mark.parametrize("language", OTHERS)
def test_a_language_has_every_text_with_as_many_headings_and_points(language: str) -> None:
    english, other = texts.load_texts("en"), texts.load_texts(language)
    assert other.markdown.keys() == english.markdown.keys()
    for name, text in english.markdown.items():
        for mark in (r"^#+ ", r"^(?:- |\d\. )", r"^\|", r"^```"):
            count = len(re.findall(mark, text, re.MULTILINE))
            assert len(re.findall(mark, other.markdown[name], re.MULTILINE)) == count, (name, mark)
    assert other.data.keys() == english.data.keys() | {"movements"}


@pytest.mark.parametrize("language", OTHERS)
def test_a_language_cites_the_same_sources_with_the_same_numbers(language: str) -> None:
    english, other = (texts.load_texts(code).data["sources"] for code in ("en", language))
    assert isinstance(english, dict) and isinstance(other, dict)
    for old, new in zip(english["sources"], other["sources"], strict=True):
        assert new["id"] == old["id"]
        assert re.findall(r"\d{3,}", new["text"]) == re.findall(r"\d{3,}", old["text"]), old["id"]


@pytest.mark.parametrize("language", OTHERS)
def test_a_language_names_every_movement_of_the_library_and_says_all_its_cues(language: str) -> None:
    names, said = texts.library_words(language)
    movements = library().movements
    assert names.keys() == movements.keys()
    assert len(set(names.values())) == len(names)
    assert said.keys() == {text for m in movements.values() for text in (*m.cues, *m.cautions)}


def test_movements_and_cues_of_a_coach_stay_as_written() -> None:
    words = texts.load_words("de", Unit.KG)
    assert words.movement("back squat") == "Kniebeuge"
    assert words.movement("Harbour carry") == "Harbour carry"
    assert words.cue("Think of the heron.") == "Think of the heron."
    english = texts.load_words("en", Unit.KG)
    assert english.movement("back squat") == "back squat"


def test_plurals_and_dates_are_german() -> None:
    words = texts.load_words("de", Unit.KG)
    assert words("cover.subtitle", count=1) == "Eine Woche Krafttraining"
    assert words("cover.subtitle", count=2) == "2 Wochen Krafttraining"
    assert words("records.label.load", lift="Kniebeuge", count=1).endswith("für 1 Wiederholung: Gewicht")
    assert words("records.label.load", lift="Kniebeuge", count=2).endswith("für 2 Wiederholungen: Gewicht")
    on = context("intermediate").plan.client.training.starts
    assert words.day(on) == "Mo., 1. März"
    assert words.date(on) == "1. März 2027"


@pytest.mark.slow
def test_the_german_booklet_renders_without_a_warning_and_without_an_english_sentence() -> None:
    printed = _german(Paper.A5)
    assert printed.pressed.warnings == ()
    assert printed.booklet.language == "de"
    pages = _plain(" ".join(printed.texts))
    spoken = _plain(" ".join(spec.label for spec in printed.booklet.fields))
    english, german = texts.catalogue("en"), texts.catalogue("de")
    pieces = {
        piece.strip(" .,:;")
        for key, sentence in english.items()
        if sentence != german[key]
        for piece in re.split(r"{[^}]*}", sentence)
    }
    names, said = texts.library_words("de")
    told = [
        *(piece for piece in pieces if len(piece) > TELLTALE and piece.lower() not in ORIGINS),
        *said,
        *(name for name, german in names.items() if len(name) > TELLTALE and name.lower() != german.lower()),
    ]
    assert len(told) > 300
    assert [text for text in told if _plain(text) in pages or _plain(text) in spoken] == []


@pytest.mark.slow
def test_no_load_in_the_german_booklet_has_a_decimal_point() -> None:
    text = " ".join(_german(Paper.A5).texts)
    assert "122,5" in text
    dates = r"(?<!\d)\d{1,2}\.\s"
    codes = r"w\d\d\.d\d+\.\d+"
    found = set(re.findall(r"\d+\.\d+", re.sub(f"{dates}|{codes}", "", text)))
    assert found <= {"127.5", "0.1"}, "the example of a profile and the version, both on the last pages"


def test_explain_in_german_has_the_decimal_comma_and_no_english_reason() -> None:
    done = CliRunner().invoke(loadleaf, ["explain", *SAMPLE, "--language", "de", "--week", "1"])
    assert done.exit_code == 0
    assert "Arbeitsmaximum: 95 % davon, 146,7 kg." in done.output
    assert "25 + 20 + 2,5 + 1,25" in done.output
    assert not re.search(r"\d\.\d", done.output)
    assert "Tested:" not in done.output and "back squat" not in done.output


def test_the_brand_s_language_is_used_until_another_is_asked_for(tmp_path: Path) -> None:
    brand = tmp_path / "brand.yaml"
    brand.write_text("format: 1\nbrand: {name: Reiher}\nlanguage: de\n", encoding="utf-8")
    files = ["explain", SAMPLE[0], str(brand), "--week", "1"]
    assert "Woche 1, Training" in CliRunner().invoke(loadleaf, files).output
    assert "Week 1, training" in CliRunner().invoke(loadleaf, [*files, "--language", "en"]).output


def test_an_unknown_language_is_wrong_usage_and_names_those_at_hand() -> None:
    done = CliRunner().invoke(loadleaf, ["build", *SAMPLE, "--language", "tlh"])
    assert done.exit_code == 2
    assert "languages: de, en" in done.output


def test_texts_of_a_brand_in_another_language_than_the_pages_get_a_word() -> None:
    """The sample's brand writes English; German pages print it as it is, and say so."""
    sources = load([Path(name) for name in SAMPLE]).sources
    asked = {code: Choices(date(2027, 1, 4), language=code) for code in (None, "en", "de")}
    said = {code: dress(sources, choices)[1] for code, choices in asked.items()}
    assert (said[None], said["en"]) == ((), ())
    (problem,) = said["de"]
    assert (problem.code, problem.severity) == ("brand-language", Severity.WARNING)
    assert "language: de" in problem.help
