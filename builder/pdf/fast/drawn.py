"""Words drawn once: the operators of a text are written out of a memory, without asking the shaper again."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from copy import copy
from dataclasses import dataclass
from functools import partial
from typing import Any

from weasyprint import draw
from weasyprint.draw import text
from weasyprint.matrix import Matrix
from weasyprint.pdf.fonts import Font
from weasyprint.text.fonts import get_pango_font_key


@dataclass(frozen=True, slots=True)
class Glyphs:
    """A font that nothing was written in, by its name among those of a document; widths and signs of one text in it."""

    key: Any
    blank: Any
    widths: dict[int, int]
    signs: dict[int, str]

    def agrees(self, font: Any) -> bool:
        """Whether a document's font, if it is there yet, gives the glyphs the same widths."""
        return font is None or all(font.widths.get(glyph, width) == width for glyph, width in self.widths.items())

    def used(self, fonts: dict[Any, Any]) -> None:
        """Tell the document's font, new if need be, what it sets."""
        if self.key not in fonts:
            fonts[self.key] = _emptied(self.blank, {})
        font = fonts[self.key]
        for glyph, sign in self.signs.items():
            font.to_unicode.setdefault(glyph, sign)
            font.widths.setdefault(glyph, self.widths[glyph])


class Drawn:
    """Draws text as the typesetter does, and plain text of the same type from memory.

    How wide a glyph is, a document knows from the first text that has it; where another text was first, a text is
    drawn anew.
    """

    def __init__(self, type_of: Callable[[Any], int]) -> None:
        self.usual, self.type_of = draw.draw_text, type_of
        self.known: dict[tuple[Any, ...], tuple[tuple[Glyphs, ...], tuple[tuple[Any, ...], ...]]] = {}
        self.blanks: dict[tuple[Any, float], Any] = {}

    def draw(self, stream: Any, box: Any, offset: float, overflow: str, *rest: Any) -> None:
        """In place of `draw_text`."""
        style = box.style
        # Rules under a text are as long as its box, and an ellipsis depends on the room: neither follows from text and
        # type.
        plain = style["visibility"] == "visible" and style["text_decoration_line"] == "none"
        whole = overflow != "ellipsis" and rest == ("none",)
        if not (plain and whole and box.text.strip()):
            self.usual(stream, box, offset, overflow, *rest)
            return
        # Of a justified line the operators have wider spaces.
        key = box.pango_layout.text, self.type_of(style), box.pango_layout.justification_spacing
        known = self.known.get(key)
        if known is None or not all(face.agrees(stream._fonts.get(face.key)) for face in known[0]):
            known = self.known[key] = self._heard(stream, box, overflow, *rest)
        faces, operators = known
        if not operators:  # with pictures, or signs that no font has
            self.usual(stream, box, offset, overflow, *rest)
            return
        for face in faces:
            face.used(stream._fonts)
        # Colour and place are no part of what is known, so texts of all colours share one entry.
        stream.set_color(style["color"])
        stream.begin_text()
        stream.set_text_matrix(1, 0, 0, -1, box.position_x, box.position_y + box.baseline)
        for name, *values in operators:
            getattr(stream, name)(*values)
        stream.end_text()

    def _heard(self, stream: Any, box: Any, *rest: Any) -> tuple[tuple[Glyphs, ...], tuple[tuple[Any, ...], ...]]:
        """The fonts and operators of a text; none where these are not all that it takes."""
        ear = _Listener(stream, self.blanks)
        box.pango_layout.reactivate(box.style)
        pictures = text.draw_first_line(ear, box, *rest, Matrix())
        box.pango_layout.deactivate()
        if pictures or any(font.missing for font in ear.fonts.values()):
            return (), ()
        return tuple(ear.faces()), tuple(ear.operators)


class _Listener:
    """A stream that only notes what is written; its fonts know no more of a document's than the widths."""

    def __init__(self, stream: Any, blanks: dict[tuple[Any, float], Any]) -> None:
        self.written, self.blanks = stream._fonts, blanks
        self.ink_rect, self.logical_rect = stream.ink_rect, stream.logical_rect
        self.fonts: dict[tuple[Any, float], Any] = {}
        self.operators: list[tuple[Any, ...]] = []
        for name in ("set_font_size", "set_text_rise", "show_text"):
            setattr(self, name, partial(self._note, name))

    def _note(self, *operator: Any) -> None:
        self.operators.append(operator)

    def set_text_matrix(self, *_: float) -> None:
        """Where the text stands is told anew each time."""

    def add_font(self, pango_font: Any) -> tuple[Any, float]:
        """As a stream does, with a font of its own."""
        key, description, size = get_pango_font_key(pango_font)
        if (key, size) not in self.fonts:
            if (key, size) not in self.blanks:
                # Blank ones are kept for all documents: to make one, the typesetter reads and hashes the whole font
                # file.
                self.blanks[key, size] = Font(pango_font, description, size)
            known = self.written.get(key)
            self.fonts[key, size] = _emptied(self.blanks[key, size], known.widths if known else {})
        return self.fonts[key, size], size

    def faces(self) -> Iterator[Glyphs]:
        """What the text sets in each font."""
        for (key, size), font in self.fonts.items():
            widths = {glyph: font.widths[glyph] for glyph in font.to_unicode}
            yield Glyphs(key, self.blanks[key, size], widths, font.to_unicode)


def _emptied(blank: Any, widths: dict[int, int]) -> Any:
    """A copy of a font, with these widths alone."""
    font = copy(blank)
    font.widths, font.to_unicode, font.missing = dict(widths), {}, {}
    return font
