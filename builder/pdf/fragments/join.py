"""Fragments joined into one file: pages, notes, fields, structure and fonts, on bare pages that have the margins.

Programs that make one file of finished ones lose its structure, metadata and attachments, or leave two fields of one
name. So fragments are no files: they are objects without numbers, which one file takes up while it is written, and
its tree of structure grows with them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from typing import Any

import pydyf
from weasyprint import pdf as weasy
from weasyprint.pdf.stream import Stream

from builder.pdf.fast import lean
from builder.pdf.fast.patches import replaced
from builder.pdf.fragments.fontuse import Fonts
from builder.pdf.fragments.marks import Filling, is_bound
from builder.pdf.fragments.order import PagePlace
from builder.pdf.fragments.parts import Fragment, FragmentPage

_MARGINS = b"Q /Artifact <</Type /Pagination>> BDC /Margins Do EMC"
"""After the page itself, what stands in its margins: no part of the text (ISO 32000-1, 14.8.2.2)."""


class _Ready(pydyf.Stream):  # type: ignore[misc]  # pydyf has no types
    """A stream that is bytes already."""

    def __init__(self, head: bytes, data: bytes) -> None:
        super().__init__()
        self.head, self.packed = head, data

    @property
    def data(self) -> bytes:
        return self.head + b"\nstream\n" + self.packed + b"\nendstream"


@contextmanager
def joining(fonts: Fonts) -> Iterator[None]:
    """While this lasts, the typesetter tags nothing, and its fonts have the signs of the fragments too."""
    parts = {
        "add_tags": _rooted,
        "build_fonts_dictionary": fonts.built(weasy.build_fonts_dictionary),
        # Links are notes of the fragments already; only the names that they lead to are still to be written.
        "resolve_links": lambda pages: [([], [(name, *at[:2]) for name, at in page.anchors.items()]) for page in pages],
    }
    with ExitStack() as stack:
        stack.enter_context(replaced(weasy, parts))
        stack.enter_context(replaced(Stream, {"marked": _unmarked, "artifact": _unmarked}))
        yield


@contextmanager
def _unmarked(*_: Any) -> Iterator[None]:
    yield


def _rooted(pdf: Any, *_: Any) -> None:
    """The root of the structure tree, without anything below the document."""
    tree, root, document = pydyf.Dictionary({"Nums": pydyf.Array()}), pydyf.Dictionary(), pydyf.Dictionary()
    for made in (tree, root, document):
        pdf.add_object(made)
    root.update({"Type": "/StructTreeRoot", "ParentTree": tree.reference, "K": pydyf.Array([document.reference])})
    document.update({"Type": "/StructElem", "S": "/Document", "K": pydyf.Array(), "P": root.reference})
    pdf.catalog["StructTreeRoot"] = root.reference
    pdf.catalog["MarkInfo"] = pydyf.Dictionary({"Marked": "true"})


def take_over(pages: Sequence[Any], places: Sequence[PagePlace | None]) -> None:
    """Give bare pages the anchors and bookmarks of the fragments, so that the typesetter writes them."""
    seen: set[str] = set()
    for page, place in zip(pages, places, strict=True):
        page.anchors, page.bookmarks = {}, []
        if place is None:
            continue
        across = _across(page, place.page)
        for name, (x, *rest) in place.page.anchors:
            # An anchor on two pages is that of the first, as in `numbered`.
            if name not in seen:
                page.anchors[name] = (x + across, *rest)
                seen.add(name)
        for level, label, (x, y), state in place.page.bookmarks:
            page.bookmarks.append((level, label, (x + across, y), state))


def _across(page: Any, made: FragmentPage) -> float:
    """How much further right a page is than it was laid out, in CSS pixels: margins differ by the side."""
    return float(page._page_box.margin_left - made.start)


@dataclass(frozen=True, slots=True)
class _Base:
    """The objects of the file that all fragments share."""

    document: int
    fonts: int
    colours: int
    profile: int


class Joint:
    """The file while fragments are put into it."""

    def __init__(self, document: Any, pdf: Any, zoom: float, name: str) -> None:
        self.pages, self.pdf, self.scale, self.name = document.pages, pdf, zoom * 0.75, name.encode("ascii")
        first = self.at(pdf.page_references[0])
        resources = self.at(first["Resources"])
        self.resources: bytes = first["Resources"]
        self.tree = self.at(pdf.catalog["StructTreeRoot"])
        self.nums = self.at(self.tree["ParentTree"])["Nums"]
        self.base = _Base(
            _number(self.tree["K"][0]), _number(resources["Font"]), _number(resources["ColorSpace"]),
            _number(document.color_profiles["srgb"].pdf_reference),
        )  # fmt: skip
        # Many leaves have the same cells of log rows and the same ticks; each stands in the file once.
        self.known: dict[tuple[bytes, bytes], int] = {}
        self.shifts: dict[float, bytes] = {}
        self.notes: list[tuple[int, bytes]] = []
        self.parents = len(self.pages)
        self.tail = self.keep(pydyf.Stream([_MARGINS]))

    def at(self, reference: bytes) -> Any:
        return self.pdf.objects[_number(reference)]

    def keep(self, made: Any) -> bytes:
        self.pdf.add_object(made)
        reference: bytes = made.reference
        return reference

    def add(self, fragments: Sequence[Fragment], places: Sequence[PagePlace | None]) -> list[bytes]:
        """Put all pages in; the references of the fields, in order."""
        stands: list[list[int]] = [[] for _ in fragments]
        for number, place in enumerate(places):
            self.nums.extend((number, pydyf.Array()))
            if place is None:
                self._blank(number)
            else:
                stands[place.fragment].append(number)
        fields = [one for fragment, pages in zip(fragments, stands, strict=True) for one in self._put(fragment, pages)]
        # Behind all pages, since the keys of a number tree must ascend (ISO 32000-1, 7.9.7).
        for number, node in self.notes:
            self.nums.extend((number, node))
        return fields

    def _put(self, fragment: Fragment, stands: Sequence[int]) -> list[bytes]:
        """One fragment, whose pages stand at these places; the references of its fields."""
        numbers = self._numbers(fragment, stands)
        sides = [
            # Rounded, so that all pages of one side find the same filling by it.
            round(_across(self.pages[at], page) * self.scale, 6)
            for at, page in zip(stands, fragment.pages, strict=True)
        ]
        pages = zip(fragment.pages, sides, strict=True)
        moved = {one: side for page, side in pages for one in (*page.annotations, *page.patterns)}
        # A fragment numbers its own pages first and its notes behind them; in the file all pages come before all notes.
        parents = self.parents - len(fragment.pages)
        filling = {side: Filling(numbers, parents, side, self.name) for side in (0.0, *sides)}
        placed: dict[float, list[tuple[int, bytes]]] = {}
        for number, text in fragment.objects:
            placed.setdefault(moved.get(number, 0.0), []).append((numbers[number], text))
        for side, objects in placed.items():
            told = filling[side].told(text for _, text in objects)
            for (number, _), text in zip(objects, told, strict=True):
                self.pdf.objects[number] = lean.Settled(number, text)
        for number, head, data in fragment.streams:
            at = numbers[number]
            if self.pdf.objects[at] is None:
                (text,) = filling[moved.get(number, 0.0)].told((head,))
                self.pdf.objects[at] = ready = _Ready(text, data)
                ready.number = at
        (own,) = filling[0.0].told((fragment.resources,))
        for at, page, side in zip(stands, fragment.pages, sides, strict=True):
            self._page(at, page, side, own, numbers)
        for place, node in enumerate(fragment.noted):
            self.notes.append((self.parents + place, b"%d 0 R" % numbers[node]))
        self.parents += len(fragment.noted)
        return [b"%d 0 R" % numbers[number] for _, number in fragment.fields]

    def _numbers(self, fragment: Fragment, stands: Sequence[int]) -> dict[int, int]:
        """The numbers of all objects of a fragment in the file; streams that are there already are used again."""
        known, base = fragment.known, self.base
        numbers = {
            known.document: base.document, known.fonts: base.fonts, known.colours: base.colours,
            known.profile: base.profile,
        }  # fmt: skip
        for page, at in zip(known.pages, stands, strict=True):
            numbers[page] = _number(self.pdf.page_references[at])
        for number, _ in fragment.objects:
            numbers[number] = self._reserved()
        for number, head, data in fragment.streams:
            # One that leads to other objects may read the same and mean others.
            if is_bound(head):
                numbers[number] = self._reserved()
                continue
            if (head, data) not in self.known:
                self.known[head, data] = self._reserved()
            numbers[number] = self.known[head, data]
        return numbers

    def _reserved(self) -> int:
        self.pdf.objects.append(None)
        return len(self.pdf.objects) - 1

    def _page(self, at: int, made: FragmentPage, side: float, own: bytes, numbers: dict[int, int]) -> None:
        page = self.at(self.pdf.page_references[at])
        margins = self._margins(page)
        body = self.keep(_Ready(b"<</Filter /FlateDecode/Length %d>>" % len(made.content), made.content))
        # Bytes already, the same for all pages of a fragment but for this one name.
        page["Resources"] = own.replace(b"/XObject <<", b"/XObject <</Margins %s" % margins, 1)
        # Three streams, so that the one in the middle stays the bytes that a worker compressed.
        page["Contents"] = pydyf.Array([self._shift(side), body, self.tail])
        if made.annotations:
            page["Annots"] = pydyf.Array(b"%d 0 R" % numbers[number] for number in made.annotations)
        self.nums[2 * at + 1].extend(b"%d 0 R" % numbers[number] for number in made.marked)
        document = self.pdf.objects[self.base.document]
        document["K"].extend(b"%d 0 R" % numbers[number] for number in made.tops)

    def _blank(self, at: int) -> None:
        """A page that has its margins, or lines for notes, alone."""
        page = self.at(self.pdf.page_references[at])
        page["Resources"] = b"<</XObject <</Margins %s>>>>" % self._margins(page)
        page["Contents"] = pydyf.Array([self._shift(0.0), self.tail])

    def _margins(self, page: Any) -> bytes:
        """What the typesetter wrote on a bare page, as a drawing for the page that takes its place."""
        drawing = self.at(page["Contents"])
        form = {"Type": "/XObject", "Subtype": "/Form", "BBox": page["MediaBox"], "Resources": self.resources}
        drawing.extra.update(form)
        reference: bytes = drawing.reference
        return reference

    def _shift(self, side: float) -> bytes:
        """The start of the operators of pages on one side."""
        if side not in self.shifts:
            moved = b"q 1 0 0 1 %s 0 cm" % pydyf._to_bytes(side) if side else b"q"
            self.shifts[side] = self.keep(pydyf.Stream([moved]))
        return self.shifts[side]


def _number(reference: bytes) -> int:
    return int(reference.split()[0])


__all__ = ["Joint", "joining", "take_over"]
