"""Booklets pressed once for all tests, with their pages as text and as geometry."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from functools import cached_property
from io import BytesIO

import pikepdf
from kept import once_a_run
from pages.leaves import Leaves
from pages.sample_pages import context
from pypdfium2 import PdfDocument

from builder import places
from builder.pages.context import Context
from builder.pages.make import make_booklet
from builder.pages.model import Booklet, Paper
from builder.pages.theme import DEFAULT_THEME, theme
from builder.pdf import DocumentMeta, Pressed, shipped
from builder.pdf.colour import readable
from builder.pdf.fragments.press import PressOrder, press_booklet
from builder.pdf.html import Look, style_sheets
from builder.values.lists import Keep
from builder.work.texts import load_texts, load_words

MM = 72 / 25.4


@dataclass(frozen=True)
class Printed:
    """A booklet with its finished file and the text of each page."""

    booklet: Booklet
    pressed: Pressed
    texts: tuple[str, ...]

    def pages_by_code(self) -> dict[str, list[int]]:
        """The numbers, from 0, of the pages that print each page code; two sessions that share a page have one each."""
        found: dict[str, list[int]] = {}
        for number, text in enumerate(self.texts):
            for codes in re.findall(rf"{self.booklet.code}((?:\s·\sw\d\d\.d\d\.\d)+)", text):
                for code in re.findall(r"w\S+", codes):
                    found.setdefault(code, []).append(number)
        return found

    @cached_property
    def leaves(self) -> Leaves:
        """The pages as geometry."""
        return Leaves(self.pressed.pdf)

    @cached_property
    def rectangles(self) -> dict[str, tuple[int, tuple[float, ...]]]:
        """The page and the rectangle in points of every form field."""
        found = {}
        with pikepdf.open(BytesIO(self.pressed.pdf)) as pdf:
            for number, page in enumerate(pdf.pages):
                for note in page.get("/Annots", ()):
                    if note.Subtype == "/Widget":
                        found[str(note.T)] = (number, tuple(float(x) for x in note.Rect))
        return found


def print_booklet(ctx: Context, *, without: tuple[str, ...] = ()) -> Printed:
    """The booklet of a context through the real press, in the accent of its brand, as a build presses it.

    `without` are templates whose sections are left out.
    """
    booklet = make_booklet(ctx)
    if without:
        sections = tuple(one for one in booklet.sections if one.template not in without)
        booklet = replace(booklet, sections=sections, fields=tuple(spec for one in sections for spec in one.fields))
    meta = DocumentMeta(
        booklet.title, booklet.author, booklet.subject, booklet.language, (),
        datetime(2027, 1, 4, tzinfo=UTC), booklet.code,
    )  # fmt: skip
    order = PressOrder((places.templates(), places.styles()), meta, faces=tuple(shipped()), jobs=1, keep=Keep.ALL)
    pressed = press_booklet(booklet, style_sheets(booklet, _look(ctx)), order)
    document = PdfDocument(pressed.pdf)
    return Printed(booklet, pressed, tuple(page.get_textpage().get_text_range() for page in document))


def _look(ctx: Context) -> Look:
    own = ctx.brand.colours.accent
    return Look(readable(own)) if own else Look()


def printed(name: str, paper: str, look: str = DEFAULT_THEME, language: str = "en") -> Printed:
    """A sample's booklet, made once."""
    return _printed(name, paper, look, language)


@once_a_run
def _printed(name: str, paper: str, look: str, language: str) -> Printed:
    usual = context(name, Paper(paper))
    words, longer = load_words(language, usual.plan.unit), load_texts(language)
    return print_booklet(replace(usual, theme=theme(look), words=words, texts=longer))
