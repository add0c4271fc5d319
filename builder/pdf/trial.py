"""A stranger's picture or font is drawn once behind the fence, before the press draws it among the pages."""

from __future__ import annotations

import base64
import logging
import tempfile
from collections.abc import Callable, Sequence
from functools import lru_cache
from io import BytesIO
from pathlib import Path
from typing import Any

from builder.door import passing_folder
from builder.pdf.fence import MOST_MEMORY, MOST_SECONDS, Beyond, Broken, within
from builder.pdf.native import load_typesetter
from builder.pdf.strangers import bounded_drawing, font_fault

LETTERS = "Hamburgefonstiv 0123456789 ×½"
_PAGE = "<html><head><style>@page {{ size: 100mm }} {style}</style></head><body>{body}</body></html>"


@lru_cache(maxsize=8)
def picture_trial(data: bytes) -> str:
    """What keeps a picture from being drawn, as a fact without its subject; "" when it can be."""
    address = f"data:{_kind(data)};base64,{base64.b64encode(data).decode()}"
    html = _PAGE.format(style="img { width: 46mm }", body=f'<img alt="" src="{address}">')
    return _tried(lambda: _unpacked(data) or _drawn(html))


def font_trial(files: Sequence[Path]) -> str:
    """What keeps fonts from being used, as a fact without its subject; "" when all can be."""
    return _font_trial(tuple((file, file.stat().st_mtime_ns, file.stat().st_size) for file in files))


@lru_cache(maxsize=32)
def _font_trial(states: tuple[tuple[Path, int, int], ...]) -> str:
    """One trial for files as they are now: many booklets are set in the same."""
    files = [file for file, *_ in states]
    faces = enumerate(files)
    rules = [f'@font-face {{ font-family: "F{n}"; src: url("{file.resolve().as_uri()}") }}' for n, file in faces]
    lines = [f"<p style=\"font-family: 'F{n}'\">{LETTERS}</p>" for n, _ in enumerate(files)]
    return _tried(lambda: _mapped(files) or _drawn(_PAGE.format(style=" ".join(rules), body="".join(lines)), files))


def _kind(data: bytes) -> str:
    if data.startswith(b"\x89PNG"):
        return "image/png"
    return "image/jpeg" if data.startswith(b"\xff\xd8") else "image/svg+xml"


def _unpacked(data: bytes) -> str:
    """In the child: every pixel is unpacked, which the typesetter leaves to the viewer."""
    from PIL import Image, ImageFile

    ImageFile.LOAD_TRUNCATED_IMAGES = False  # the typesetter sets it
    if _kind(data) != "image/svg+xml":
        with Image.open(BytesIO(data), formats=("PNG", "JPEG")) as image:
            image.load()
    return ""


def _mapped(files: Sequence[Path]) -> str:
    """In the child: the fonts are small enough once unpacked, and say which letters they have, table by table."""
    from fontTools.ttLib import TTFont

    for file in files:
        if fault := font_fault(file.read_bytes()):
            return fault
        with TTFont(file, lazy=True) as font:
            font.getBestCmap()
            for tag in font.reader.tables:
                font.reader[tag]
    return ""


def _tried(draw: Callable[[], str]) -> str:
    """What `draw` says of it, drawing in a folder of its own that is gone afterwards, even when it never ends.

    The typesetter is loaded here, where the press will need it too, so that the child need not.
    """
    # Before the child is made, which has little time and memory.
    load_typesetter()

    with passing_folder("trial") as folder:

        def apart() -> str:
            tempfile.tempdir = str(folder)
            return draw()

        try:
            return within(apart, writes=True)
        except Beyond:
            return f"takes more than {MOST_SECONDS} seconds or {MOST_MEMORY // 1024**2} MiB to draw"
        except Broken as broken:
            return f"is broken ({broken})"


def _drawn(html: str, files: Sequence[Path] = ()) -> str:
    """In the child: the page is typeset and written, and what the typesetter says of it is heard."""
    from weasyprint import HTML
    from weasyprint.text.fonts import FontConfiguration
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    allowed = {file.resolve().as_uri(): file for file in files}
    data = URLFetcher(allowed_protocols=("data",), allow_redirects=False)

    def fetch(url: str) -> Any:
        if url.startswith("data:"):
            return data.fetch(url)
        if url not in allowed:
            asked.append(f"asks for {url[:100]}, and nothing is fetched")
        return URLFetcherResponse(url, allowed[url].read_bytes(), {"Content-Type": "font/ttf"})

    heard, unfit, asked = list[str](), list[str](), list[str]()
    logging.disable(logging.NOTSET)
    log = logging.getLogger("weasyprint")
    # Heard here alone: a child must not say anything to the terminal.
    log.handlers, log.propagate = [_Ear(heard)], False
    with bounded_drawing(unfit.append):
        HTML(string=html, url_fetcher=fetch).write_pdf(font_config=FontConfiguration())
    if unfit:
        return f"cannot be drawn: {unfit[0]}"
    return (asked or ["is broken"])[0] if any(map(_is_loss, heard)) else ""


def _is_loss(text: str) -> bool:
    return text.startswith(("Failed to load image", "Failed to render SVG image", "Unknown image mode", "Font-face"))


class _Ear(logging.Handler):
    def __init__(self, heard: list[str]) -> None:
        super().__init__(logging.WARNING)
        self.heard = heard

    def emit(self, record: logging.LogRecord) -> None:
        self.heard.append(record.getMessage())
