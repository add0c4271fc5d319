"""Every printed word comes from the catalogue; numbers, dates and masses are written as the language does."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from builder import places
from builder.values.quantity import LB_IN_KG, Unit
from builder.words import NARROW, Words
from builder.work import texts

KG = texts.load_words("en", Unit.KG)
LB = texts.load_words("en", Unit.LB)


def test_masses_are_written_in_the_lifter_s_unit() -> None:
    assert KG.mass(Decimal("122.50")) == f"122.5{NARROW}kg"
    assert LB.mass(315 * LB_IN_KG) == f"315{NARROW}lb"
    assert LB.amount(Decimal(100)) == "220.5"
    assert KG.bulk(Decimal("12480.4")) == f"12{NARROW}480{NARROW}kg"


def test_a_language_may_have_a_decimal_comma() -> None:
    words = Words("xx", {"decimal": ","}, Unit.KG)
    assert words.amount(Decimal("1.25")) == "1,25"
    assert words.number(Decimal("-2.5")) == "\N{MINUS SIGN}2,5"


def test_dates_name_the_day_and_the_month() -> None:
    assert KG.date(date(2027, 1, 11)) == "11 Jan 2027"
    assert KG.day(date(2027, 1, 11)) == "Mon 11 Jan"


def test_plurals_follow_the_count() -> None:
    assert KG("cover.subtitle", count=1) != KG("cover.subtitle", count=2)
    assert "12" in KG("cover.subtitle", count=12)


def test_a_key_that_is_not_there_is_an_error() -> None:
    with pytest.raises(KeyError):
        KG("no.such.key")


def test_no_key_is_written_twice_and_every_sentence_can_be_filled() -> None:
    seen: dict[str, Path] = {}
    for path in sorted((places.templates() / "words" / "en").glob("*.yaml")):
        for line in path.read_text(encoding="utf-8").splitlines():
            if match := re.match(r"([a-z][^:#]*):(?: |$)", line):
                assert match[1] not in seen, (match[1], path.name, seen.get(match[1]))
                seen[match[1]] = path
    for key, sentence in texts.catalogue("en").items():
        names = re.findall(r"{([^}]*)}", sentence)
        assert all(re.fullmatch(r"[a-z_]+", name) for name in names), key


def test_templates_hold_no_words_of_their_own() -> None:
    mine = ("session", "log", "session_log", "week", "part", "cover", "contents", "test_lift")
    files = [places.templates() / "pages" / f"{name}.html.j2" for name in mine]
    for path in (*files, *(places.templates() / "parts").glob("*.html.j2")):
        markup = re.sub(r"{#.*?#}|{%.*?%}|{{.*?}}", " ", path.read_text(encoding="utf-8"), flags=re.DOTALL)
        text = re.sub(r"<[^>]*>|&[a-z]+;", " ", markup)
        assert not re.findall(r"[A-Za-z]{2,}", text), path.name


def test_an_unknown_language_is_an_error() -> None:
    with pytest.raises(ValueError, match=r"languages: .*en"):
        texts.load_words("zz", Unit.KG)
    with pytest.raises(ValueError, match="no words"):
        texts.load_words("../texts/en", Unit.KG)
