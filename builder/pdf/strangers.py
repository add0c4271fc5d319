"""Pictures and fonts from strangers are looked at before a library unpacks or draws them, and drawn with a limit.

This is the first of two looks. It counts, which costs nearly nothing and turns away what is made to do harm. The
second (`trial`) draws once behind the fence, and finds what is broken.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from io import BytesIO
from typing import Any
from xml.parsers import expat

MOST_PICTURE_BYTES = 2 * 1024 * 1024
MOST_PIXELS = 8_000_000
"""Far above what a logo of 46 mm needs; unpacked it takes 32 MB."""
MOST_ELEMENTS = 3_000
MOST_LEVELS = 100
MOST_LETTERS = 5_000
# Each rule is tried on each element, so it is their product that takes the time.
MOST_MATCHES = 500_000
"""Style rules times elements."""
MOST_STEPS = 12_000
"""Looks at an element of one drawing while it is drawn, each use of a definition counted anew: a few seconds."""
MOST_FONT_BYTES = 16 * 1024 * 1024
MOST_UNPACKED_BYTES = 64 * 1024 * 1024

PICTURE_HELP = "Save it smaller and simpler: a plain SVG without entities, or a PNG."

_UNPRINTED = {"style", "title", "desc", "metadata"}


def picture_fault(data: bytes) -> str:
    """What makes a picture unfit for a page, as a fact without its subject; "" for a sound PNG, JPEG or SVG."""
    if len(data) > MOST_PICTURE_BYTES:
        return "is larger than 2 MiB"
    if data.startswith(b"\x89PNG\r\n") and data[12:16] == b"IHDR":
        return _size_fault(*struct.unpack_from(">LL", data.ljust(24, b"\0"), 16))
    if data.startswith(b"\xff\xd8\xff"):
        return _photo_fault(data)
    return _Drawing().fault(data)


def _size_fault(width: int, height: int) -> str:
    too_large = width * height > MOST_PIXELS
    return f"has {width} × {height} pixels, more than {MOST_PIXELS // 1_000_000} million" if too_large else ""


def _photo_fault(data: bytes) -> str:
    from PIL import Image

    try:
        # Reads the head only; the pixels stay packed.
        # Named, so that no other reader is tried on it: some start programs, or have had holes.
        with Image.open(BytesIO(data), formats=("JPEG",)) as image:
            return _size_fault(*image.size)
    except Exception:  # Pillow raises many kinds for broken files
        return "is a broken picture"


class _UnfitError(Exception):
    """What is wrong with a drawing."""


class _Drawing:
    """Counts what makes an SVG file costly, without making a tree of it."""

    def __init__(self) -> None:
        self.path: list[str] = []
        self.elements = self.letters = self.rules = 0

    def fault(self, data: bytes) -> str:
        parser = expat.ParserCreate()
        parser.StartElementHandler, parser.EndElementHandler = self.start, self.end
        # Stopped where an entity is declared, before it could be put in for the first time.
        parser.CharacterDataHandler, parser.EntityDeclHandler = self.text, self.entity
        try:
            parser.Parse(data, True)
        except _UnfitError as unfit:
            return str(unfit)
        except (expat.ExpatError, LookupError, ValueError):  # the last two: an encoding that is not known
            return "is neither SVG, PNG nor JPEG"
        return "" if self.elements * self.rules <= MOST_MATCHES else "has too many style rules for its many elements"

    def start(self, name: str, attributes: dict[str, str]) -> None:
        self.elements += 1
        if not self.path and name.rpartition(":")[2] != "svg":
            raise _UnfitError("is neither SVG, PNG nor JPEG")
        self.path.append(name.rpartition(":")[2])
        if self.elements > MOST_ELEMENTS:
            raise _UnfitError(f"has more than {MOST_ELEMENTS} elements")
        if len(self.path) > MOST_LEVELS:
            raise _UnfitError(f"nests elements over {MOST_LEVELS} deep")
        # The typesetter writes the stops of a gradient out for each repeat, and a short one repeats without end.
        if attributes.get("spreadMethod", "pad").strip() != "pad":
            raise _UnfitError("repeats a gradient (spreadMethod)")

    def end(self, _: str) -> None:
        self.path.pop()

    def text(self, text: str) -> None:
        if self.path[-1] == "style":
            self.rules += text.count("{")
        elif self.path[-1] not in _UNPRINTED:
            self.letters += len(text.strip())
            if self.letters > MOST_LETTERS:
                raise _UnfitError(f"has more than {MOST_LETTERS} letters")

    def entity(self, *_: Any) -> None:
        raise _UnfitError("declares entities, which could read other files or grow without end")


@contextmanager
def bounded_drawing(unfit: Callable[[str], None]) -> Iterator[None]:
    """While this lasts, a drawing whose uses, markers, masks and clips multiply without end is given up and told."""
    from weasyprint.svg import SVG, Node

    draw, look, nested, left = SVG.draw, Node.__iter__, 0, MOST_STEPS

    def drawn(svg: Any, *arguments: Any) -> None:
        nonlocal nested, left
        # A drawing may hold others: all that is within it shares its steps.
        if not nested:
            left = MOST_STEPS
        nested += 1
        try:
            draw(svg, *arguments)
        except RecursionError:
            unfit(f"the drawing {svg.url} uses itself")
            raise
        finally:
            nested -= 1

    def looked(node: Any) -> Any:
        nonlocal left
        left -= bool(nested)
        if left < 0:
            unfit(f"a drawing takes more than {MOST_STEPS} steps to draw")
            raise _UnfitError
        return look(node)

    SVG.draw, Node.__iter__ = drawn, looked
    try:
        yield
    finally:
        SVG.draw, Node.__iter__ = draw, look


def font_fault(data: bytes) -> str:
    """What makes a font file unfit, as a fact without its subject; "" for one that may be read."""
    if len(data) > MOST_FONT_BYTES:
        return f"is larger than {MOST_FONT_BYTES // 1024 // 1024} MiB"
    try:
        fits = _unpacked_fits(data)
    except Exception:  # broken heads and streams, each library with errors of its own
        return "is broken"
    return "" if fits else f"unpacks to more than {MOST_UNPACKED_BYTES // 1024 // 1024} MiB"


def _unpacked_fits(data: bytes) -> bool:
    """Whether a packed font (WOFF 1.0 and 2.0, W3C) stays within the limit; not much more than that is unpacked."""
    streams = {b"wOFF": _woff_sizes, b"wOF2": _woff2_sizes}.get(data[:4])
    unpacked = 0
    for size in streams(data) if streams else ():
        unpacked += size
        if unpacked > MOST_UNPACKED_BYTES:
            return False
    return True


def _woff_sizes(data: bytes) -> Iterator[int]:
    """The size of each table, unpacked no further than the limit."""
    for number in range(struct.unpack_from(">H", data, 12)[0]):
        _, offset, packed, size, _ = struct.unpack_from(">4sLLLL", data, 44 + 20 * number)
        stream = zlib.decompressobj()
        yield len(stream.decompress(data[offset : offset + packed], MOST_UNPACKED_BYTES + 1)) if packed < size else size


def _woff2_sizes(data: bytes) -> Iterator[int]:
    """The sizes of parts of the one stream, about a mebibyte each."""
    import brotli

    stream, part = brotli.Decompressor(), _woff2_stream(data)
    while not stream.is_finished():
        made = stream.process(part, output_buffer_limit=1024 * 1024)
        if not made and stream.can_accept_more_data():
            raise ValueError("the stream is cut off")
        part = b""
        yield len(made)


def _woff2_stream(data: bytes) -> bytes:
    """The stream follows the head of 48 bytes and the entries of the tables, each as long as it needs."""
    from fontTools.ttLib.woff2 import WOFF2DirectoryEntry

    tables, packed = struct.unpack_from(">H", data, 12)[0], struct.unpack_from(">L", data, 20)[0]
    place = 48
    for _ in range(tables):
        entry = data[place : place + 32]
        place += len(entry) - len(WOFF2DirectoryEntry().fromString(entry))
    return data[place : place + packed]
