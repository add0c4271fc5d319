"""Fonts of all fragments and of the margins in one: a subset for the union of their signs."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from hashlib import sha256
from pathlib import Path
from typing import Any

from weasyprint.pdf.fonts import Font
from weasyprint.text.ffi import ffi, harfbuzz

from builder.pdf.fragments.parts import FontUse

_GATHERED = ("widths", "to_unicode", "missing")
"""What each text that a font sets adds to it, by glyph or sign."""


class Fonts:
    """The fonts that fragments use; `files` are those that they may come from."""

    def __init__(self, uses: Iterable[FontUse], files: Iterable[Path]) -> None:
        self.uses = tuple(uses)
        self.files = files
        self.made: dict[str, Any] = {}

    def built(self, usual: Callable[..., Any]) -> Callable[..., Any]:
        """The typesetter's way to write the fonts of a document, for those of the fragments too."""

        def build(pdf: Any, fonts: Mapping[Any, Any], *rest: Any) -> Any:
            self.made = self._union(tuple(fonts.values()))
            return usual(pdf, self.made, *rest)

        return build

    def _union(self, own: Sequence[Any]) -> dict[str, Any]:
        """One font for each name, with the signs of all; in the order of the names."""
        # Reversed, so that of two by one name the first stays, as below.
        live = {font.hash: font for font in reversed(own)}
        gathered: dict[str, list[Mapping[str, Any]]] = {}
        for known in (*(use.known for use in self.uses), *(dict(vars(font)) for font in own)):
            gathered.setdefault(known["hash"], []).append(known)
        by_digest = {use.known["hash"]: use.digest for use in self.uses}
        contents = dict(self._contents({by_digest[name] for name in gathered if name not in live}))
        union = {}
        for name, all_known in sorted(gathered.items()):
            font = live.get(name) or _revived(all_known[0], contents[by_digest[name]])
            for part in _GATHERED:
                merged: dict[Any, Any] = {}
                for known in all_known:
                    for key, value in known[part].items():
                        # The first one stays, as in the typesetter: a glyph is as wide as in the first text that has
                        # it.
                        merged.setdefault(key, value)
                setattr(font, part, merged)
            union[name] = font
        return union

    def _contents(self, wanted: set[str]) -> Iterator[tuple[str, bytes]]:
        """The font files by the digests of what is in them."""
        for file in self.files if wanted else ():
            data = file.read_bytes()
            if (digest := sha256(data).hexdigest()) in wanted:
                yield digest, data


def _revived(known: Mapping[str, Any], content: bytes) -> Any:
    """A font of another process, with a face that can be subset here."""
    font = object.__new__(Font)
    font.__dict__.update(known)
    font.file_content = content
    font.hb_face, font.hb_font = _face(content, known["index"]), None
    return font


def _face(content: bytes, index: int) -> Any:
    """The face of a font file, which keeps the bytes as long as it lives."""
    declared = (
        "hb_blob_t * hb_blob_create(const char *data, unsigned int length, int mode, void *user, void *destroy);"
        "hb_face_t * hb_face_create(hb_blob_t *blob, unsigned int index);"
    )
    # Each booklet of a run comes by here, and to declare a function twice is an error without `override`.
    ffi.cdef(declared, override=True)
    # A copy, since Python may free its bytes while the shaper still reads them.
    copied = 0  # HB_MEMORY_MODE_DUPLICATE
    blob = harfbuzz.hb_blob_create(content, len(content), copied, ffi.NULL, ffi.NULL)
    face = ffi.gc(harfbuzz.hb_face_create(blob, index), harfbuzz.hb_face_destroy)
    harfbuzz.hb_blob_destroy(blob)
    return face
