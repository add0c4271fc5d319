"""Widths and lines are counted as the typesetter sets them, in every face of ours and in a brand's own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from html import escape
from itertools import pairwise
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from pages.sample_pages import NAMES, context
from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration

from builder.manual.shipped import PLACE, shipped_widths
from builder.pages.faces import DRAWN, SHIPPED, Faces
from builder.pages.names import slot_name
from builder.pages.setlines import load_text, side_words
from builder.pages.widths import Advances
from builder.pdf import fonts
from builder.pdf.advances import advances, faces_of
from builder.work.texts import load_words

PX = 96 / 25.4
OURS = '"Barlow Condensed", "Source Sans 3"'
TABULAR = "font-variant-numeric: tabular-nums lining-nums"
ROOMS = (18.0, 31.0, 60.5, 124.0)
"""mm."""
WIDE = tuple(
    fonts.Face(family, weight, "normal", face.file)
    for face in fonts.shipped()
    if (face.family, face.weight, face.style) == (fonts.TEXT, 700, "normal")
    for family, weight in (("Brand Text", 400), ("Brand Heading", 500), ("Brand Heading", 600), ("Brand Heading", 700))
)
"""A brand that has all text in a bold face, which is half as wide again as our headings."""


@dataclass(frozen=True)
class Setting:
    """A face as we count it, and as style sheets ask for it."""

    face: Advances
    css: str


def settings(faces: Faces, text: str, heading: str) -> dict[str, Setting]:
    return {
        "text": Setting(faces.text, f"font: 400 9pt {text}; {TABULAR}"),
        "strong": Setting(faces.strong, f'font: 700 9pt "Source Sans 3"; {TABULAR}'),
        "medium": Setting(faces.medium, f"font: 500 9pt {heading}; {TABULAR}"),
        "semibold": Setting(faces.semibold, f"font: 600 9pt {heading}; {TABULAR}"),
        "bold": Setting(faces.bold, f"font: 700 9pt {heading}; {TABULAR}"),
        "close": Setting(faces.close, f"font: 500 9pt {heading}; font-variant-numeric: proportional-nums lining-nums"),
    }


BRANDED = faces_of(WIDE, "Brand Text", "Brand Heading")
SETTINGS = {
    **settings(SHIPPED, '"Source Sans 3"', OURS),
    **{f"drawn-{weight}": Setting(face, f"font: {weight} 9pt {OURS}") for weight, face in DRAWN.items()},
    **{
        f"brand-{name}": setting
        for name, setting in settings(BRANDED, '"Brand Text", "Source Sans 3"', f'"Brand Heading", {OURS}').items()
        if name != "strong"
    },
}

TURNED = [name for name in SETTINGS if name not in ("brand-text", "brand-medium", "brand-semibold")]
"""The brand has one font in all weights; where its texts turn over is seen in one of them."""


@cache
def told() -> tuple[str, ...]:
    """Words and sentences of every language, with names of movements, loads and plates."""
    found = dict[str, None]()
    for language in ("en", "de"):
        words = load_words(language, context("novice").plan.unit)
        found.update(dict.fromkeys(text.strip() for text in words.catalogue.values() if "{" not in text))
        for name in NAMES:
            weeks = context(name).plan.weeks
            for slot in (slot for week in weeks for session in week.sessions for slot in session.slots):
                found[slot_name(slot, words)] = None
                for one in (*slot.ramp, *slot.work):
                    found |= dict.fromkeys((load_text(slot, one.rung, words), side_words(slot, one.rung, words)))
    return tuple(text for text in found if any(map(str.isalnum, text)) and "\n" not in text)


@cache
def every_pair() -> tuple[str, ...]:
    """Some of the texts, long ones first, in which all signs stand beside all that they stand beside in any text.

    How wide a text is comes of its signs and of those beside each other, so the others have nothing new for a face.
    """
    found, seen = list[str](), set[tuple[str, str]]()
    for text in sorted(told(), key=len, reverse=True):
        if new := set(pairwise(text)) - seen:
            seen |= new
            found.append(text)
    return tuple(found)


def laid(texts: Sequence[str], css: str) -> list[tuple[int, float]]:
    """The lines of each text, as the typesetter sets them, and the width in mm of the widest."""
    known, rows = FontConfiguration(), "".join(f"<p>{escape(text)}</p>" for text in texts)
    sheets = (
        fonts.face_rules((*fonts.shipped(), *WIDE)),
        f"@page {{ size: 500mm 40000mm }} p {{ margin: 0; overflow-wrap: break-word; {css} }}",
    )
    with fonts.only_our_fonts():
        html = HTML(string=f'<html lang="en"><body>{rows}</body></html>')
        document = html.render(known, stylesheets=[CSS(string=sheet, font_config=known) for sheet in sheets])
    blocks = [box for page in document.pages for box in page._page_box.children[0].children[0].children]
    lines = [[sum(child.width for child in line.children) / PX for line in block.children] for block in blocks]
    return [(len(one), max(one)) for one in lines]


def test_the_table_is_that_of_the_font_files() -> None:
    assert PLACE.read_text(encoding="utf-8") == shipped_widths(), "say: .venv/bin/python -m builder.manual"


@pytest.mark.parametrize("name", SETTINGS)
def test_a_text_is_as_wide_as_it_is_set(name: str) -> None:
    setting, texts = SETTINGS[name], every_pair()
    assert len(texts) > 300
    set_ = laid(texts, f"{setting.css}; white-space: nowrap")
    assert len(set_) == len(texts)
    off = {
        text: (round(setting.face.width(text, 9), 2), round(wide, 2))
        for text, (_, wide) in zip(texts, set_, strict=True)
        if not wide * 0.998 <= setting.face.width(text, 9) <= wide * 1.002
    }
    assert off == {}


@pytest.mark.parametrize("name", TURNED)
def test_a_text_takes_the_lines_that_are_counted(name: str) -> None:
    """Never more than are counted, and seldom fewer: where a word is broken, or a line is full to a hair.

    What is far from full stands in one line by either. Where texts turn over does not depend on the face, so all of
    them are set in one.
    """
    setting, every = SETTINGS[name], told() if name == "text" else every_pair()
    more = among = 0
    for room in ROOMS:
        texts = [text for text in every if setting.face.width(text, 9) > 0.8 * room]
        counted = [setting.face.lines(text, 9, room) for text in texts]
        lines = [count for count, _ in laid(texts, f"{setting.css}; width: {room}mm")]
        assert [text for text, ours, set_ in zip(texts, counted, lines, strict=True) if ours < set_] == []
        more += sum(ours > set_ for ours, set_ in zip(counted, lines, strict=True))
        among += sum(lines)
    assert more <= 0.01 * among


def test_a_wide_face_of_a_brand_is_counted_as_wide_as_it_is() -> None:
    """As wide as ours it would be a third too narrow, and names would turn over that nobody counted."""
    names = [text for text in told() if SHIPPED.bold.lines(text, 13, 50.0) < BRANDED.bold.lines(text, 13, 50.0)]
    lines = laid(names, 'font: 700 13pt "Brand Heading"; width: 50mm')
    assert len(names) > 100
    turned_over = [SHIPPED.bold.lines(text, 13, 50.0) < set_ for text, (set_, _) in zip(names, lines, strict=True)]
    assert sum(turned_over) > 0.95 * len(names)


def test_signs_that_a_brand_lacks_are_as_wide_as_in_our_own_face() -> None:
    assert BRANDED.bold.width("▲ 20", 9) == pytest.approx(SHIPPED.strong.width("▲ 20", 9))


def test_a_font_packed_for_the_web_has_the_widths_of_the_plain_one(tmp_path: Path) -> None:
    plain = fonts.shipped()[-1].file
    with TTFont(plain) as font:
        font.flavor = "woff"
        font.save(tmp_path / "packed.woff")
    packed = advances(tmp_path / "packed.woff")
    assert (packed.signs, packed.pairs) == (advances(plain).signs, advances(plain).pairs)


def test_a_broken_font_is_left_to_the_press(tmp_path: Path) -> None:
    broken = tmp_path / "broken.ttf"
    broken.write_bytes(fonts.shipped()[0].file.read_bytes()[:60_000])
    assert faces_of((fonts.Face("Brand Text", 400, "normal", broken),), "Brand Text", None) is SHIPPED
