"""Reports made by the command from small filled booklets, with the text of their pages."""

from __future__ import annotations

import re
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

from cli.test_commands import loadleaf
from log.small import CLIENT, booklet
from log.viewers import Values, with_pikepdf
from pypdf import PdfReader
from pypdfium2 import PdfDocument

STRONGER = CLIENT.replace("load: 200, reps: 1}]", "load: 210, reps: 1}]")
LATER = STRONGER.replace("starts: 2027-01-04", "starts: 2027-02-01")
"""The same lifter four weeks on, with a heavier squat."""


def filled(folder: Path, values: Values, name: str = "filled.pdf", client: str = CLIENT) -> Path:
    """A booklet with these entries."""
    path = folder / name
    path.write_bytes(with_pikepdf(booklet(client_text=client), values, folder))
    return path


def made(folder: Path, *arguments: object, **environment: str) -> tuple[bytes, str]:
    """The report that the command makes without a hitch, and what it said on the error stream."""
    target = folder / "report.pdf"
    done = loadleaf("report", *arguments, "-o", target, "--date", "2027-03-01", cwd=None, **environment)
    assert done.returncode == 0, done.stderr
    return target.read_bytes(), done.stderr


def text_of(pdf: bytes) -> str:
    """The text of all pages, as pdfium reads it, each run of white space as one space."""
    with PdfDocument(pdf) as document:
        return re.sub(r"\s+", " ", " ".join(page.get_textpage().get_text_range() for page in document))


def alternatives(pdf: bytes) -> list[str]:
    """The alternative text of every figure, in the order of the structure; fails on a figure without one."""
    root: Any = PdfReader(BytesIO(pdf)).root_object["/StructTreeRoot"]
    return [str(element["/Alt"]) for element in _below(root) if element.get("/S") == "/Figure"]


def _below(element: Any) -> Iterator[Any]:
    kids = element.get("/K", [])
    for kid in kids if isinstance(kids, list) else [kids]:
        kid = kid.get_object()
        if isinstance(kid, dict) and "/S" in kid:
            yield kid
            yield from _below(kid)
