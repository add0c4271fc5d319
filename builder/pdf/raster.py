"""Pages of a PDF as one picture, by whichever of two programs is there, and as the text that stands on them."""

from __future__ import annotations

import io
import re
import shutil
import struct
import subprocess
import zlib
from collections.abc import Collection, Iterator, Sequence
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from typing import IO, Any

DPI = 120
_MARK = b"Software\0Loadleaf"
_HEAD = re.compile(rb"P6\s(\d+)\s(\d+)\s255\s")
Image = tuple[int, int, bytes]
"""Width, height, and three bytes for each point."""


def can_draw() -> bool:
    """Whether one of the programs is there."""
    return find_spec("pypdfium2") is not None or shutil.which("pdftoppm") is not None


def picture_of(pdf: bytes) -> bytes | None:
    """A PNG of all pages side by side; None where no program can draw them."""
    if find_spec("pypdfium2") is not None:
        return _png(tuple(_by_pdfium(pdf)))
    if shutil.which("pdftoppm"):
        return _png(tuple(_by_poppler(pdf)))
    return None


def text_of(pdf: bytes) -> str:
    """What stands on all pages, for who cannot see the picture."""
    return "\n".join(text for _, text in printed_texts(io.BytesIO(pdf)))


def printed_texts(pdf: Path | IO[bytes], wanted: Collection[int] | None = None) -> Iterator[tuple[int, str]]:
    """Number and text of the pages, of those that are `wanted` or of all."""
    from pypdf import PdfReader

    for number, page in enumerate(PdfReader(pdf, strict=False).pages, 1):
        if wanted is None or number in wanted:
            yield number, page.extract_text()


def is_own_picture(start: bytes) -> bool:
    """Whether a file that begins so is a picture made here."""
    return start.startswith(b"\x89PNG") and _MARK in start[:80]


def _by_pdfium(pdf: bytes) -> Iterator[Image]:
    library: Any = import_module("pypdfium2")
    document = library.PdfDocument(pdf)
    try:
        # Without it the entries of form fields are not drawn.
        document.init_forms()
        for number in range(len(document)):
            # Blue comes first otherwise.
            drawn = document[number].render(scale=DPI / 72, rev_byteorder=True)
            width, points = drawn.width, bytes(drawn.buffer)
            # Rows may be longer in memory than their points.
            rows = (points[at : at + 3 * width] for at in range(0, drawn.stride * drawn.height, drawn.stride))
            yield width, drawn.height, b"".join(rows)
    finally:
        document.close()


def _by_poppler(pdf: bytes) -> Iterator[Image]:
    told = subprocess.run(["pdftoppm", "-r", str(DPI), "-"], input=pdf, capture_output=True, check=True).stdout
    at = 0
    while found := _HEAD.match(told, at):
        width, height = int(found[1]), int(found[2])
        at = found.end() + 3 * width * height
        yield width, height, told[found.end() : at]


def _png(pages: Sequence[Image]) -> bytes:
    """ISO/IEC 15948: the pages beside each other, on white where one is lower."""
    height = max(high for _, high, _ in pages)
    rows = (b"\0" + b"".join(_row(page, number) for page in pages) for number in range(height))
    width = sum(wide for wide, _, _ in pages)
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    parts = ((b"IHDR", head), (b"tEXt", _MARK), (b"IDAT", zlib.compress(b"".join(rows), 4)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(name, data) for name, data in parts)


def _row(page: Image, number: int) -> bytes:
    width, height, points = page
    return points[3 * width * number : 3 * width * (number + 1)] if number < height else b"\xff" * 3 * width


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
