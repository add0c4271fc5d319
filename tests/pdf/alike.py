"""Where two PDFs differ for a reader: page by page in ink, text, notes, fields, destinations, outline and structure.

By hand: `python tests/pdf/alike.py ONE.pdf OTHER.pdf`, with the repository and tests/ on PYTHONPATH.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pikepdf
from PIL import Image, ImageChops
from pypdfium2 import PdfDocument

SCALE = 1.5
"""Pixels a point: fine enough for the thinnest rule."""
MOST_OFF, MOST_PIXELS = 96, 4
"""How far off a pixel may be, of 255, and how many may be further: a glyph a thousandth of a point aside greys one."""


def differences(one: bytes, other: bytes) -> list[str]:
    """What differs, in words; nothing when a reader could not tell the files apart."""
    with pikepdf.open(BytesIO(one)) as first, pikepdf.open(BytesIO(other)) as second:
        if len(first.pages) != len(second.pages):
            return [f"{len(first.pages)} pages, {len(second.pages)} pages"]
        facts = [
            f"{what}: {named(first)} / {named(second)}"[:400]
            for what, named in {"catalog": _catalog, "attachments": _attached}.items()
            if named(first) != named(second)
        ]
        facts += _lists("destinations", _destinations(first), _destinations(second))
        facts += _lists("outline", _outline(first), _outline(second))
        facts += _lists("notes", _notes(first), _notes(second))
        facts += _lists("fields", _fields(first), _fields(second))
        facts += _lists("boxes", _boxes(first), _boxes(second))
        facts += _lists("structure", _structure(first), _structure(second))
    return [*facts, *_seen(one, other)]


def _lists(what: str, one: list[Any], other: list[Any]) -> list[str]:
    if one == other:
        return []
    gone, new = Counter(map(repr, one)) - Counter(map(repr, other)), Counter(map(repr, other)) - Counter(map(repr, one))
    if not gone and not new:
        return [f"{what}: in another order"]
    return [f"{what}: without {list(gone)[:4]} ({gone.total()}), with {list(new)[:4]} ({new.total()})"]


def _catalog(pdf: Any) -> dict[str, str]:
    root = pdf.Root
    told = {key: str(root.get(key)) for key in ("/Lang", "/MarkInfo", "/ViewerPreferences")}
    return {**told, **{str(key): str(value) for key, value in pdf.docinfo.items()}}


def _attached(pdf: Any) -> dict[str, bytes]:
    return {name: spec.get_file().read_bytes() for name, spec in pdf.attachments.items()}


def _numbers(pdf: Any) -> dict[tuple[int, int], int]:
    return {page.objgen: number for number, page in enumerate(pdf.pages)}


def _where(target: Any, pages: dict[tuple[int, int], int]) -> tuple[Any, ...]:
    page, *rest = target
    return pages[page.objgen], *(round(float(x)) if _is_number(x) else str(x) for x in rest)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) or type(value).__name__ == "Decimal"


def _destinations(pdf: Any) -> list[Any]:
    """Every name as it stands in the tree: one that stands there twice is told twice."""
    pages, names = _numbers(pdf), pdf.Root.get("/Names", {}).get("/Dests", {}).get("/Names", ())
    return [(str(names[n]), *_where(names[n + 1], pages)) for n in range(0, len(names), 2)]


def _outline(pdf: Any) -> list[Any]:
    pages = _numbers(pdf)

    def walk(node: Any, level: int) -> Iterator[Any]:
        while node is not None:
            yield level, str(node.Title), int(node.get("/Count", 0)), _where(node.Dest, pages)
            yield from walk(node.get("/First"), level + 1)
            node = node.get("/Next")

    return list(walk(pdf.Root.Outlines.get("/First"), 1)) if "/Outlines" in pdf.Root else []


def _notes(pdf: Any) -> list[Any]:
    return [
        (number, str(note.Subtype), *(str(note.get(key, "")) for key in ("/Dest", "/Contents", "/T", "/F")),
         str(note.get("/A", {}).get("/URI", "")), Place(float(x) for x in note.Rect))
        for number, page in enumerate(pdf.pages)
        for note in page.get("/Annots", ())
    ]  # fmt: skip


class Place(tuple[float, ...]):
    """Coordinates that count as the same within a twentieth of a point."""

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Place) and all(abs(x - y) < 0.05 for x, y in zip(self, other, strict=True))

    __hash__ = tuple.__hash__


def _fields(pdf: Any) -> list[Any]:
    keys = ("/T", "/TU", "/FT", "/V", "/DA", "/Q", "/MaxLen", "/Ff", "/AS", "/LDLF_Field")
    form = pdf.Root.get("/AcroForm", {})
    return [tuple(str(field.get(key, "")) for key in keys) for field in form.get("/Fields", ())]


def _boxes(pdf: Any) -> list[Any]:
    names = ("/MediaBox", "/TrimBox", "/BleedBox")
    return [tuple(round(float(x), 2) for name in names for x in page[name]) for page in pdf.pages]


def _structure(pdf: Any) -> list[Any]:
    """Every node with its depth and page; every mark and note must be known to the tree of parents."""
    pages, root = _numbers(pdf), pdf.Root.StructTreeRoot
    nums = root.ParentTree.Nums
    parents = {int(nums[n]): nums[n + 1] for n in range(0, len(nums), 2)}
    found: list[Any] = []

    def walk(node: Any, depth: int, above: Any) -> None:
        if isinstance(node, int):
            page = above.Pg
            assert parents[int(page.StructParents)][node].objgen == above.objgen, "a mark leads to another node"
            found.append((depth, "mark"))
            return
        if node.get("/Type") == "/OBJR":
            assert parents[int(node.Obj.StructParent)].objgen == above.objgen, "a note leads to another node"
            found.append((depth, "note", str(node.Obj.Subtype)))
            return
        assert node.P.objgen == above.objgen, "a node says that another is above it"
        attributes = node.get("/A", {})
        headed = len(attributes.get("/Headers", ()))
        page = pages[node.Pg.objgen] if "/Pg" in node else None
        found.append((depth, str(node.S), page, headed, str(attributes.get("/Scope", "")), str(node.get("/Alt", ""))))
        for kid in node.get("/K", ()):
            walk(kid, depth + 1, node)

    for kid in root.K:
        walk(kid, 0, root)
    return found


def _seen(one: bytes, other: bytes) -> Iterator[str]:
    """Pages whose ink or text differs."""
    first, second = PdfDocument(one), PdfDocument(other)
    for number in range(len(first)):
        mine, theirs = first[number], second[number]
        ink = ImageChops.difference(_ink(mine), _ink(theirs))
        if (off := sum(ink.histogram()[MOST_OFF:])) > MOST_PIXELS:
            where = ink.point(lambda v: 255 * (v > MOST_OFF)).getbbox()
            yield f"page {number + 1}: {off} pixels are off, within {where}"
        # Viewers guess at spaces from tiny distances; signs and their order are the page's own.
        said, told = ("".join(page.get_textpage().get_text_range().split()) for page in (mine, theirs))
        if said != told:
            at = next((n for n, (x, y) in enumerate(zip(said, told, strict=False)) if x != y), len(said))
            yield f"page {number + 1}: {said[at : at + 40]!r} is {told[at : at + 40]!r}"


def _ink(page: Any) -> Image.Image:
    picture: Image.Image = page.render(scale=SCALE).to_pil().convert("L")
    return picture


if __name__ == "__main__":
    facts = differences(*(Path(name).read_bytes() for name in sys.argv[1:3]))
    print("\n".join(facts) or "alike")
