"""Finished pages as geometry, read by pdfium and pikepdf alone: glyphs, runs of text, tags, form fields, ink."""

from __future__ import annotations

from collections.abc import Iterator
from ctypes import addressof, c_double
from dataclasses import dataclass
from functools import cached_property
from io import BytesIO
from math import hypot
from typing import Any

import pikepdf
import pypdfium2.raw as raw
from pypdfium2 import PdfDocument

MM = 72 / 25.4
HEADINGS = frozenset({"H1", "H2", "H3", "H4", "H5", "H6"})

Box = tuple[float, float, float, float]
"""Left, bottom, right, top in points, from the lower left corner of the page."""


@dataclass(frozen=True, slots=True)
class Glyph:
    """One letter as drawn: `box` is its ink, `base` its baseline, `size` its type size as printed, in points."""

    text: str
    box: Box
    base: float
    size: float
    mark: int


@dataclass(frozen=True)
class Run:
    """Letters that follow one another on one baseline without a gap; `tags` are those around it, outermost first."""

    glyphs: tuple[Glyph, ...]
    tags: tuple[Tag, ...]

    @cached_property
    def text(self) -> str:
        """The letters, without those that draw nothing."""
        return "".join(glyph.text for glyph in self.glyphs)

    @cached_property
    def box(self) -> Box:
        """The ink of all letters."""
        boxes = [glyph.box for glyph in self.glyphs]
        lefts, bottoms, rights, tops = zip(*boxes, strict=True)
        return min(lefts), min(bottoms), max(rights), max(tops)

    @cached_property
    def size(self) -> float:
        """The largest type size in it."""
        return max(glyph.size for glyph in self.glyphs)

    def within(self, *names: str) -> bool:
        """Whether one of its tags has one of the names."""
        return any(tag.name in names for tag in self.tags)


@dataclass(frozen=True, slots=True)
class Tag:
    """An element of the structure tree: its type and its number in reading order."""

    name: str
    number: int


@dataclass(frozen=True, slots=True)
class Leaf:
    """One page; `number` counts from 1. `fields` are the rectangles and kinds of its form fields by name."""

    number: int
    width: float
    height: float
    runs: tuple[Run, ...]
    fields: dict[str, tuple[Box, str]]

    @property
    def text(self) -> str:
        """All runs, parted by spaces."""
        return " ".join(run.text for run in self.runs)


class Leaves:
    """All pages of a finished file."""

    def __init__(self, pdf: bytes) -> None:
        self.pdf = pdf
        with pikepdf.open(BytesIO(pdf)) as read:
            self.tags = _tags(read)
            self._fields = [dict(_fields(page)) for page in read.pages]
        self._document = PdfDocument(pdf)

    @cached_property
    def pages(self) -> tuple[Leaf, ...]:
        """The pages in order."""
        return tuple(self._leaf(index) for index in range(len(self._document)))

    def picture(self, index: int, dpi: float, *, grey: bool) -> Any:
        """A page, counted from 0, as a picture."""
        return self._document[index].render(scale=dpi / 72, grayscale=grey).to_pil()

    def grey(self, index: int, dpi: float) -> Any:
        """A page, counted from 0, as rows of grey values from 0, black, to 255; form fields are not drawn."""
        return self._document[index].render(scale=dpi / 72, grayscale=True, may_draw_forms=False).to_numpy()

    def elements(self, name: str) -> tuple[int, ...]:
        """The numbers of the elements of one type, in reading order."""
        return tuple(sorted({tag.number for tags in self.tags.values() for tag in tags if tag.name == name}))

    def _leaf(self, index: int) -> Leaf:
        page = self._document[index]
        runs = tuple(
            Run(tuple(letters), self.tags.get((index + 1, letters[0].mark), ())) for letters in _runs(_glyphs(page))
        )
        return Leaf(index + 1, page.get_width(), page.get_height(), runs, self._fields[index])


def _glyphs(page: Any) -> Iterator[Glyph | None]:
    """The letters in the order of the file; None where a run ends."""
    text = page.get_textpage()
    sides = [c_double() for _ in range(4)]
    x, y, matrix = c_double(), c_double(), raw.FS_MATRIX()
    left, right, bottom, top = sides
    known: dict[int, tuple[float, int]] = {}
    for i in range(text.count_chars()):
        letter = chr(raw.FPDFText_GetUnicode(text, i))
        if raw.FPDFText_IsGenerated(text, i) or letter in "\r\n\0":
            yield None
            continue
        if not letter.strip():
            continue
        raw.FPDFText_GetCharBox(text, i, *sides)
        raw.FPDFText_GetCharOrigin(text, i, x, y)
        drawn = raw.FPDFText_GetTextObject(text, i)
        # Letters that are drawn together have one size and one mark.
        if (at := addressof(drawn.contents)) not in known:
            raw.FPDFText_GetMatrix(text, i, matrix)
            size = raw.FPDFText_GetFontSize(text, i) * hypot(matrix.c, matrix.d)
            known[at] = size, raw.FPDFPageObj_GetMarkedContentID(drawn)
        size, mark = known[at]
        yield Glyph(letter, (left.value, bottom.value, right.value, top.value), y.value, size, mark)


def _runs(glyphs: Iterator[Glyph | None]) -> Iterator[list[Glyph]]:
    run: list[Glyph] = []
    for glyph in glyphs:
        if run and (glyph is None or not _follows(run[-1], glyph)):
            yield run
            run = []
        if glyph is not None:
            run.append(glyph)
    if run:
        yield run


def _follows(one: Glyph, other: Glyph) -> bool:
    """On the same baseline, to the right (the letters of a ligature share a box), near, and tagged alike."""
    forth = other.box[0] > one.box[0] - 0.1 * one.size and other.box[0] - one.box[2] < one.size
    return one.mark == other.mark and abs(one.base - other.base) < 0.2 and forth


def _tags(read: pikepdf.Pdf) -> dict[tuple[int, int], tuple[Tag, ...]]:
    """For each page, from 1, and each number of marked content on it the tags around it."""
    pages = {page.objgen: number for number, page in enumerate(read.pages, 1)}
    found: dict[tuple[int, int], tuple[Tag, ...]] = {}
    count = 0

    def walk(element: Any, around: tuple[Tag, ...], page: int) -> None:
        nonlocal count
        count += 1
        if "/S" in element:
            around = (*around, Tag(str(element.S)[1:], count))
        if "/Pg" in element:
            page = pages[element.Pg.objgen]
        kids = element.get("/K", [])
        each: list[Any] = list(kids) if isinstance(kids, pikepdf.Array) else [kids]
        for kid in each:
            if isinstance(kid, int):
                found[page, kid] = around
            elif "/MCID" in kid:
                on = pages[kid.Pg.objgen] if "/Pg" in kid else page
                found[on, int(kid.MCID)] = around
            elif "/Obj" not in kid:
                walk(kid, around, page)

    walk(read.Root.StructTreeRoot, (), 0)
    return found


def _fields(page: pikepdf.Page) -> Iterator[tuple[str, tuple[Box, str]]]:
    for widget in page.get("/Annots", []):
        if widget.get("/Subtype") == "/Widget":
            left, bottom, right, top = (float(x) for x in widget.Rect)
            tick = widget.get("/FT", "/Tx") == "/Btn"
            yield str(widget.T), ((left, bottom, right, top), "tick" if tick else "text")
