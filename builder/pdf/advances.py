"""How wide the signs of a font file are, as the typesetter's own shaper sets them."""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import lru_cache
from io import BytesIO
from itertools import product
from pathlib import Path
from string import ascii_letters, digits
from typing import Any
from unicodedata import category

from builder.pages.faces import SHIPPED, Faces
from builder.pages.widths import Advances
from builder.pdf.fonts import Face, coverage
from builder.pdf.trial import font_trial

PAIRED = f"{ascii_letters}{digits} +.,:;·-–/()?'’“”„äöüÄÖÜß"
"""Signs that are measured in pairs, too: letters and quotes stand nearer to some signs than to others."""
TABULAR, PROPORTIONAL = ("tnum", "lnum"), ("pnum", "lnum")
"""What the style sheets ask of figures: that they are all as wide, or not."""
SPACES = (*range(0x2000, 0x200B), 0x202F)
LEAST = 0.0005
"""em by which pairs differ at least."""
_SHAPER = """
typedef ... hb_buffer_t;
typedef struct { hb_tag_t tag; uint32_t value; unsigned int start; unsigned int end; } hb_feature_t;
hb_blob_t * hb_blob_create (const char *data, unsigned int length, int mode, void *user_data, void *destroy);
hb_face_t * hb_face_create (hb_blob_t *blob, unsigned int index);
hb_font_t * hb_font_create (hb_face_t *face);
void hb_font_destroy (hb_font_t *font);
hb_buffer_t * hb_buffer_create (void);
void hb_buffer_destroy (hb_buffer_t *buffer);
void hb_buffer_add_utf32 (hb_buffer_t *buffer, const char *text, int length, unsigned int from, int count);
void hb_buffer_guess_segment_properties (hb_buffer_t *buffer);
void hb_shape (hb_font_t *font, hb_buffer_t *buffer, const hb_feature_t *features, unsigned int count);
char * hb_buffer_get_glyph_infos (hb_buffer_t *buffer, unsigned int *length);
char * hb_buffer_get_glyph_positions (hb_buffer_t *buffer, unsigned int *length);
"""
"""Of HarfBuzz, which the typesetter brings along, what it does not declare itself."""


def faces_of(own: Sequence[Face], text: str | None, heading: str | None) -> Faces:
    """The faces of pages where a brand has some of its `own`, of these families.

    Those that cannot be used are as ours here: the press says what is wrong with them.
    """
    if not own or font_trial([face.file for face in own]):
        return SHIPPED
    files: dict[tuple[str | None, int], Path] = {
        (face.family, face.weight): face.file for face in own if face.style == "normal"
    }

    def worn(family: str | None, weight: int, ours: Advances, features: tuple[str, ...] = TABULAR) -> Advances:
        file = files.get((family, weight))
        return over(advances(file, features), ours) if file else ours

    return Faces(
        text=worn(text, 400, SHIPPED.text),
        strong=worn(text, 700, SHIPPED.strong),
        medium=worn(heading, 500, SHIPPED.medium),
        semibold=worn(heading, 600, SHIPPED.semibold),
        bold=worn(heading, 700, SHIPPED.bold),
        close=worn(heading, 500, SHIPPED.close, PROPORTIONAL),
    )


def over(first: Advances, then: Advances) -> Advances:
    """A face whose signs come from `first`, and where that has none, from `then`."""
    apart = {pair: em for pair, em in then.pairs.items() if not (pair[0] in first.signs or pair[1] in first.signs)}
    return Advances({**then.signs, **first.signs}, {**apart, **first.pairs})


@lru_cache(maxsize=64)
def advances(file: Path, features: tuple[str, ...] = TABULAR) -> Advances:
    """The widths of a sound font file."""
    # Of spaces that a font lacks the shaper makes some, and nothing else is asked for them.
    signs = [sign for sign in map(chr, sorted(coverage(file).union(SPACES))) if category(sign)[0] in "LNPSZ"]
    with _font(file) as font:
        widths = dict(zip(signs, _widths(font, signs, features), strict=True))
        pairs = ["".join(pair) for pair in product(filter(widths.get, PAIRED), repeat=2)]
        set_ = zip(pairs, _widths(font, pairs, features), strict=True)
        near = {pair: em - widths[pair[0]] - widths[pair[1]] for pair, em in set_}
    return Advances(widths, {pair: em for pair, em in near.items() if abs(em) >= LEAST})


@contextmanager
def _font(file: Path) -> Iterator[Any]:
    """The font of a file, as the shaper takes it."""
    harfbuzz, ffi = _shaper()
    data = ffi.from_buffer(_plain(file))
    # 1 is for bytes that are not copied: they must outlive the face.
    blob = harfbuzz.hb_blob_create(data, len(data), 1, ffi.NULL, ffi.NULL)
    face = harfbuzz.hb_face_create(blob, 0)
    font = harfbuzz.hb_font_create(face)
    try:
        yield font
    finally:
        harfbuzz.hb_font_destroy(font)
        harfbuzz.hb_face_destroy(face)
        harfbuzz.hb_blob_destroy(blob)
        ffi.release(data)


@lru_cache(maxsize=1)
def _shaper() -> tuple[Any, Any]:
    from weasyprint.text.ffi import ffi, harfbuzz

    ffi.cdef(_SHAPER, override=True)
    return harfbuzz, ffi


def _plain(file: Path) -> bytes:
    """A font without the packing of the web."""
    data = file.read_bytes()
    if not data.startswith(b"wOF"):
        return data
    from fontTools.ttLib import TTFont

    plain = BytesIO()
    with TTFont(BytesIO(data)) as font:
        font.flavor = None
        font.save(plain)
    return plain.getvalue()


def _widths(font: Any, texts: Iterable[str], features: Sequence[str]) -> Iterator[float]:
    """How wide each of some short texts is, in em: they are set below one another, at one go."""
    harfbuzz, ffi = _shaper()
    # At one go, not a call of the shaper for each of thousands of pairs; line ends tell them apart.
    lines = "".join(f"{text}\n" for text in texts)
    asked = [(harfbuzz.hb_tag_from_string(tag.encode(), 4), 1, 0, 2**32 - 1) for tag in features]
    buffer, count = harfbuzz.hb_buffer_create(), ffi.new("unsigned int *")
    try:
        harfbuzz.hb_buffer_add_utf32(buffer, lines.encode("utf-32-le"), len(lines), 0, len(lines))
        harfbuzz.hb_buffer_guess_segment_properties(buffer)
        harfbuzz.hb_shape(font, buffer, ffi.new("hb_feature_t[]", asked), len(asked))
        # Both records are five numbers of four bytes: the third of the one is the place in the text, the first of the
        # other the advance.
        signs = _ints(ffi.buffer(harfbuzz.hb_buffer_get_glyph_infos(buffer, count), 20 * count[0]))[2::5]
        wide = _ints(ffi.buffer(harfbuzz.hb_buffer_get_glyph_positions(buffer, count), 20 * count[0]))[::5]
        units, used = harfbuzz.hb_face_get_upem(harfbuzz.hb_font_get_face(font)), 0
        for sign, advance in zip(signs, wide, strict=True):
            if lines[sign] != "\n":
                used += advance
            else:
                yield used / units
                used = 0
    finally:
        harfbuzz.hb_buffer_destroy(buffer)


def _ints(data: Any) -> array[int]:
    found = array("i")
    found.frombytes(data)
    return found
