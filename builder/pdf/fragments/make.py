"""One leaf laid out, surveyed and written as a fragment: pages without margins that no other leaf could change.

What another leaf could change is left out here and added at the joint: margins, numbers of objects, how far right a
page stands, fonts, links and bookmarks. Only the numbers of other pages stand in a text itself. They are guessed at
first; a leaf that prints some is made again when all are known.
"""

from __future__ import annotations

import gc
import re
import zlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pydyf
from weasyprint import CSS, DEFAULT_OPTIONS, layout, pdf
from weasyprint.css.targets import TargetCollector, TargetLookupItem
from weasyprint.text.fonts import FontConfiguration

from builder.pdf import finish
from builder.pdf.fast import lean, swift
from builder.pdf.fast.matched import Matched
from builder.pdf.fast.patches import replaced
from builder.pdf.fast.shaping import Memory, shaped_once
from builder.pdf.fast.sieve import sieved
from builder.pdf.fast.styled import SharedBelowAnchors
from builder.pdf.fast.unadorned import asked_once
from builder.pdf.fetcher import Fetcher
from builder.pdf.fonts import Face, face_rules
from builder.pdf.forms import values, widgets
from builder.pdf.fragments.marks import DOCUMENT, written
from builder.pdf.fragments.parts import FontUse, Fragment, FragmentPage, Known, Leaf
from builder.pdf.run import fenced_problems, overheard
from builder.pdf.survey import Survey, survey

OPTIONS = {**DEFAULT_OPTIONS, "pdf_tags": True, "output_intent": "srgb", "pdf_version": "1.7"}
UNMARKED = "@page { marks: none !important }"
"""The marks of the cutter stand where the page will be, and with what is in its margins."""
UNKNOWN = 100
_USED = re.compile(rb"/(p\d+)\s+scn\b")
# What `fontuse` makes anew in the process that joins.
_LIVE = {"hb_font", "hb_face", "file_content"}
"""What the typesetter knows of a font that no other process could use."""


@dataclass
class Bench:
    """What all leaves of a booklet share while they are made: fonts, parsed style sheets, styles, texts and pictures.

    `ready` as soon as sheets were read. One that is ready serves the next booklet too, if that is to look the same.
    """

    faces: tuple[Face, ...]
    fetcher: Fetcher
    language: str
    zoom: float
    fillable: bool
    form_font: Path
    sheet: Any = None
    fonts: Any = None
    classes: dict[str, str] = field(default_factory=dict)
    unmarked: Any = None
    pictures: dict[str, Any] = field(default_factory=dict)
    styles: dict[tuple[Any, ...], Any] = field(default_factory=dict)
    memory: Memory = field(default_factory=Memory)
    matched: dict[tuple[Any, ...], Matched] = field(default_factory=dict)

    def lay_ready(self, css: Sequence[str], texts: Iterable[str]) -> None:
        """Read fonts, style sheets and the style attributes of all texts, before the work is divided."""
        self.pictures.clear()  # a file may have changed
        known = len(self.classes)
        for text in texts:
            # Only for the classes, which all workers must have before they are forked; the page is made of it again in
            # `leaf`.
            swift.shared_styles(text, self.classes)
        if self.fonts is None:
            self.fonts = FontConfiguration()
            for text in (face_rules(self.faces), *css):
                self.sheet = self._sheet(text, self.sheet)
            self.unmarked = self._sheet(UNMARKED, self.sheet)
        # Let go at once: its rules are in the matcher, which `self.sheet` shares.
        self._sheet(swift.class_rules(self.classes, known), self.sheet)

    def _sheet(self, css: str, after: Any = None) -> Any:
        """A sheet that has the rules of the one before it too, so that elements are held against one and not a dozen.

        What is no page rule goes to both.
        """
        above = {"matcher": after.matcher, "page_rules": [*after.page_rules], "layers": after.layers} if after else {}
        with sieved():
            return CSS(string=css, base_url=self._base, url_fetcher=self.fetcher, font_config=self.fonts, **above)

    @property
    def _base(self) -> str:
        """The address that relative ones start from."""
        return f"{self.fetcher.roots[0].as_uri()}/"

    def leaf(self, html: str) -> Any:
        """The typesetter's document of a leaf."""
        return self._laid_out(swift.shared_styles(html, self.classes), [self.unmarked])

    def bare(self, html: str, css: str) -> Any:
        """The typesetter's document of bare pages, with rules of its own."""
        return self._laid_out(html, [self.sheet, self._sheet(css)])

    def _laid_out(self, html: str, sheets: list[Any]) -> Any:
        source = swift.Page(string=html, base_url=self._base, url_fetcher=self.fetcher)
        finish.prepare(source.etree_element, self.language)
        options = {"pdf_variant": "pdf/a-3a", "cache": self.pictures}
        return source.render(self.fonts, stylesheets=sheets, **options)


_SPARE: dict[tuple[Any, ...], Bench] = {}
"""The bench of the booklet before, by all that its booklets have in common."""
MOST_LINES = 20_000
"""Texts that a spare bench may know; a booklet has about 2,000."""


def taken(ground: tuple[Any, ...]) -> Bench | None:
    """The bench that another booklet of that ground left, for one that takes it."""
    return _SPARE.pop(ground, None)


def left(ground: tuple[Any, ...], bench: Bench) -> None:
    """Leave a bench for the next booklet; only one is kept, and none that holds too much."""
    _SPARE.clear()
    if len(bench.memory.lines) <= MOST_LINES:
        _SPARE[ground] = bench


@contextmanager
def making(bench: Bench) -> Iterator[None]:
    """While this lasts, the typesetter leaves out margins, fonts, outline and what only a whole file has."""
    parts = {
        "build_fonts_dictionary": lambda *_: pydyf.Dictionary(),
        "resolve_links": _unresolved,
        "add_outlines": lambda *_: None,
    }
    with ExitStack() as stack:
        stack.enter_context(replaced(layout, {"make_margin_boxes": lambda *_: ()}))
        stack.enter_context(replaced(pdf, parts))
        stack.enter_context(lean.writing())
        stack.enter_context(shaped_once(bench.memory))
        stack.enter_context(asked_once())
        stack.enter_context(replaced(SharedBelowAnchors, {"known": bench.styles, "matched": bench.matched}))
        yield


def _unresolved(pages: Sequence[Any]) -> Iterator[tuple[list[Any], list[Any]]]:
    """All links of each page, wherever they lead, and no anchors: these are found when all pages are known."""
    for page in pages:
        yield list(page.links), []


class _Numbers:
    """The numbers of pages by their anchors, for texts that print them. `asked` says whether there are any.

    While nobody knows them, one stands there that is as wide as most.
    """

    def __init__(self, of: Mapping[str, int] | None) -> None:
        self.of, self.asked, self.usual = of, False, TargetCollector.lookup_target

    def looked_up(self, collector: Any, token: Any, source: Any, *rest: Any) -> Any:
        """What the typesetter needs to print the number of the page that a link leads to."""
        self.asked = True
        anchor = (source.element.get(token[1][0]) or "").removeprefix("#") if token[0] == "attr()" else ""
        number = UNKNOWN if self.of is None else self.of.get(anchor)
        if number is None:
            return self.usual(collector, token, source, *rest)
        item = TargetLookupItem("up-to-date")
        item.target_box = SimpleNamespace(cached_counter_values={"page": [number]})
        return item


def fragment(leaf: Leaf, bench: Bench, numbers: Mapping[str, int] | None = None) -> Fragment:
    """The fragment of a leaf, with the numbers of other pages when they are known; with `making` in force."""
    known = _Numbers(numbers)
    # One fetcher serves all leaves, and a leaf is to answer for what it asked for itself.
    bench.fetcher.refused.clear()
    bench.fetcher.unfit.clear()
    with overheard() as warnings, fenced_problems(bench.fetcher) as refused:
        with replaced(TargetCollector, {"lookup_target": lambda *asked: known.looked_up(*asked)}):
            document = bench.leaf(leaf.html)
        found = survey(document, {spec.name: spec for spec in leaf.fields}, bench.zoom)
        made = _Writing(document, found, bench).fragment(known.asked, tuple(warnings), found.problems)
    # The typesetter may have gone on without what it was refused, so the pages are thrown away whatever they look like.
    if refused:
        made = Fragment((), b"", (), (), Known(0, 0, 0, 0, ()), (), (), (), {}, False, (), tuple(refused))
    gc.collect(0)  # boxes know each other: they go now, while few other objects are as young
    return made


class _Writing:
    """A laid-out document on its way to bytes."""

    def __init__(self, document: Any, found: Survey, bench: Bench) -> None:
        self.document, self.found = document, found
        placed = found.placed if bench.fillable and not found.problems else ()
        # Before the pages are written: only then does the typesetter tag boxes.
        widgets.reserve(placed)
        self.pdf = pdf.generate_pdf(document, None, bench.zoom, **OPTIONS)
        font = values.value_font((place.spec for place in placed), bench.form_font)
        fields = widgets.add_fields(self.pdf, placed, font, DOCUMENT)
        self.fields = tuple((place.spec.name, _number(one)) for place, one in zip(placed, fields, strict=True))
        finish.say_scopes(self.pdf)
        finish.say_links(document)
        self.tree = self.at(self.pdf.catalog["StructTreeRoot"])
        self.known = self._known()

    def at(self, reference: bytes) -> Any:
        return self.pdf.objects[_number(reference)]

    def _known(self) -> Known:
        resources = self.resources
        return Known(
            document=_number(self.tree["K"][0]),
            fonts=_number(resources["Font"]),
            colours=_number(resources["ColorSpace"]),
            profile=_number(self.document.color_profiles["srgb"].pdf_reference),
            pages=tuple(map(_number, self.pdf.page_references)),
        )

    @property
    def resources(self) -> Any:
        """What the operators of all pages name."""
        return self.at(self.at(self.pdf.page_references[0])["Resources"])

    def fragment(self, numbered: bool, warnings: tuple[str, ...], problems: tuple[Any, ...]) -> Fragment:
        """All of it as a value."""
        self._mend()
        nums = self.at(self.tree["ParentTree"])["Nums"]
        count = len(self.document.pages)
        marked = [tuple(map(_number, one)) for one in nums[1 : 2 * count : 2]]
        pages = tuple(self._page(number, marks) for number, marks in enumerate(marked))
        objects, streams = self._objects()
        return Fragment(
            pages=pages,
            resources=written(self.resources),
            objects=tuple(objects),
            streams=tuple(streams),
            known=self.known,
            noted=tuple(map(_number, nums[2 * count + 1 :: 2])),
            fields=self.fields,
            fonts=tuple(_use(font) for font in self.document.fonts.values()),
            used={setting: "".join(sorted(signs)) for setting, signs in self.found.used.items()},
            numbered=numbered,
            warnings=warnings,
            problems=problems,
        )

    def _mend(self) -> None:
        """Say that notes are printed, as PDF/A asks (ISO 19005-3, 6.3.2), and of which fragment heads of tables are:
        they are named by numbers that start anew in each.
        """
        first = "".join(_sections(self.document.pages[0])[:1])
        for made in self.pdf.objects:
            if isinstance(made, pydyf.Dictionary):
                if made.get("S") == "/TH" and "ID" in made:
                    made["ID"].string = f"{first}-{made['ID'].string}"
                elif made.get("Type") == "/Annot":
                    made["F"] = widgets.PRINTED

    def _page(self, number: int, marked: tuple[int, ...]) -> FragmentPage:
        page, made = self.document.pages[number], self.at(self.pdf.page_references[number])
        content = _packed(self.at(made["Contents"]))
        return FragmentPage(
            content=content,
            start=page._page_box.margin_left,
            annotations=tuple(map(_number, made.get("Annots", ()))),
            marked=marked,
            tops=tuple(_number(one) for one in self.at(self.tree["K"][0])["K"] if self._is_on(one, number)),
            patterns=tuple(self._patterns(content)),
            bookmarks=tuple(page.bookmarks),
            anchors=tuple((name, tuple(place)) for name, place in page.anchors.items()),
            links=tuple(target for kind, target, _, _ in page.links if kind == "internal"),
            sections=_sections(page),
        )

    def _patterns(self, content: bytes) -> Iterator[int]:
        """The patterns that the operators of a page use: the typesetter makes one for each ground."""
        patterns = self.resources["Pattern"]
        for found in _USED.finditer(zlib.decompress(content)) if patterns else ():
            yield _number(patterns[found[1].decode()])

    def _is_on(self, node: bytes, page: int) -> bool:
        return bool(self.at(node)["Pg"] == self.pdf.page_references[page])

    def _objects(self) -> tuple[list[tuple[int, bytes]], list[tuple[int, bytes, bytes]]]:
        """Objects and streams that the joined file does not have yet."""
        contents = {_number(self.at(page)["Contents"]) for page in self.pdf.page_references}
        root = {_number(self.pdf.catalog["StructTreeRoot"]), _number(self.tree["ParentTree"])}
        resources = {_number(self.at(self.pdf.page_references[0])["Resources"])}
        own = {self.known.document, self.known.fonts, self.known.colours, self.known.profile, *self.known.pages}
        left = {0, self.pdf.pages.number, self.pdf.catalog.number, *contents, *root, *resources, *own}
        objects, streams = [], []
        for made in self.pdf.objects:
            if made.number in left:
                continue
            if isinstance(made, pydyf.Stream):
                data = _packed(made)
                streams.append((made.number, written(pydyf.Dictionary({**made.extra, "Length": len(data)})), data))
            else:
                objects.append((made.number, written(made)))
        return objects, streams


def _packed(stream: Any) -> bytes:
    """The bytes of a stream, compressed where the typesetter would."""
    lean.compress(stream)
    return b"\n".join(map(pydyf._to_bytes, stream.stream))


def _sections(page: Any) -> tuple[str, ...]:
    """The anchors of the sections that a page shows, from the top."""
    return tuple(box.element.get("id") for box in _below(page._page_box) if box.element.get("id"))


def _below(box: Any) -> Iterator[Any]:
    for child in box.children:
        tag = getattr(child.element, "tag", None)
        if tag in ("html", "body"):
            yield from _below(child)
        elif tag == "section":
            yield child


def _use(font: Any) -> FontUse:
    known: Mapping[str, Any] = {name: value for name, value in vars(font).items() if name not in _LIVE}
    # The digest in place of the file: a fragment goes through a pipe and to the disk, and a font is larger than it.
    return FontUse(_digest(font.file_content), known)


@lru_cache(maxsize=64)
# Asked for every leaf, and always of the same few files.
def _digest(content: bytes) -> str:
    return sha256(content).hexdigest()


def _number(reference: bytes) -> int:
    return int(reference.split()[0])
