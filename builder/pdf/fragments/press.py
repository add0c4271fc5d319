"""A booklet through the press: leaf by leaf, then joined; by the typesetter alone where the short cuts do not fit."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import nullcontext
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path
from typing import Any

from builder import places
from builder.pages.model import Booklet
from builder.pdf import finish, fonts, inks
from builder.pdf.fast import shortcuts
from builder.pdf.fetcher import Fetcher
from builder.pdf.forms import values, widgets
from builder.pdf.fragments.crew import WorkerDied, cores, together
from builder.pdf.fragments.kept import Compiled, Keeping, shelf
from builder.pdf.fragments.leaves import BARE, leaves, margins
from builder.pdf.fragments.order import PagePlace, numbered, placed
from builder.pdf.fragments.parts import Fragment, Leaf
from builder.pdf.html import about_pages, render, templates
from builder.pdf.native import load_typesetter
from builder.pdf.own import NO_OWN, Own
from builder.pdf.parts import Attached, DocumentMeta, PageLabel, Pressed
from builder.pdf.run import (
    font_problems,
    form_font,
    lost,
    no_collector,
    outline,
    overheard,
    press,
    raise_any,
)  # fmt: skip
from builder.values.fields import FieldSpec
from builder.values.lists import Keep
from builder.values.problem import Problem

DIED = "a process that makes pages was ended from outside twice, perhaps for want of memory"


@dataclass(frozen=True, slots=True)
class PressOrder:
    """How a booklet is wanted from the press; most words are those of `press`.

    `jobs` are processes that work at the same time, one for each core by default. `keep` says which fragments are kept
    for later runs, and taken from earlier ones. `told` hears how many pages are done of how many that are expected.
    """

    roots: tuple[Path, ...]
    meta: DocumentMeta
    attachments: tuple[Attached, ...] = ()
    labels: tuple[PageLabel, ...] = ()
    faces: tuple[fonts.Face, ...] = ()
    fillable: bool = True
    one_ink: bool = False
    own: Own = NO_OWN
    jobs: int | None = None
    keep: Keep = Keep.NONE
    told: Callable[[int, int], None] | None = None


def press_booklet(booklet: Booklet, css: Sequence[str], order: PressOrder) -> Pressed:
    """The booklet as `press` makes it of its HTML, the same bytes however many processes work on it.

    Raises PressError with the problems of all leaves.
    """
    load_typesetter()
    # Every booklet can be made in this way: it is what the short cuts are held against in tests.
    if not shortcuts.wanted():
        return _whole(booklet, css, order)
    try:
        return _in_fragments(booklet, css, order)
    except shortcuts.UNFIT as error:
        done = _whole(booklet, css, order)
        return replace(done, problems=(shortcuts.untaken(error), *done.problems))


def _whole(booklet: Booklet, css: Sequence[str], order: PressOrder) -> Pressed:
    """By the typesetter, as one document."""
    return press(
        render(booklet, order.own), css, roots=order.roots, fields={spec.name: spec for spec in booklet.fields},
        meta=order.meta, attachments=order.attachments, labels=order.labels, faces=order.faces, fillable=order.fillable,
        zoom=booklet.zoom, one_ink=order.one_ink,
    )  # fmt: skip


def _in_fragments(booklet: Booklet, css: Sequence[str], order: PressOrder) -> Pressed:
    from builder.pdf.fragments.make import Bench, left, taken

    specs = {spec.name: spec for spec in booklet.fields}
    raise_any(fonts.file_problems(order.faces))
    raise_any(lost(specs, order.fillable))
    ground, language = _ground(booklet, css, order), order.meta.language
    # On the disk a file is known by what is in it (`Keeping.key`), on a bench by where it lies.
    alike = (*ground, order.roots, language)
    fetcher = Fetcher(order.roots, [face.file for face in order.faces])
    bench = taken(alike) or Bench(order.faces, fetcher, language, booklet.zoom, order.fillable, form_font())
    inked = inks.greys_as_one_ink() if order.one_ink else nullcontext()
    with no_collector(), fonts.only_our_fonts(), inked, overheard() as warnings:
        # Said each time: the environment lasts for the whole run, and each booklet has its own wish.
        templates(places.templates()).bytecode_cache = None if order.keep is Keep.NONE else Compiled(shelf())
        parts = leaves(booklet, css, order.own)
        bench.lay_ready(css, [leaf.html for leaf in parts])
        made, stands = _made(parts, booklet, ground, bench, order)
        # Before anything is joined: the problems of all pages are told together.
        raise_any(_problems(made, specs, order.faces))
        document, pdf, used = _joined(booklet, made, stands, bench, order)
        raise_any(font_problems(used, order.faces))
    told = (*(text for fragment in made for text in fragment.warnings), *_lost_links(made), *warnings)
    if not warnings:  # what a style sheet is warned of is told only when it is read
        left(alike, bench)
    return Pressed(
        pdf=pdf,
        pages=len(document.pages),
        field_count=sum(len(fragment.fields) for fragment in made),
        warnings=tuple(told),
        outline=tuple(outline(document.make_bookmark_tree(), 1)),
        problems=values.value_problems(booklet.fields, form_font()),
    )


def _made(
    parts: Sequence[Leaf], booklet: Booklet, ground: tuple[Any, ...], bench: Any, order: PressOrder
) -> tuple[tuple[Fragment, ...], tuple[PagePlace | None, ...]]:
    """All fragments with the places of their pages; leaves that print numbers are made again when these are known."""
    from builder.pdf.fragments.make import fragment, making

    sections = {section.anchor: section for section in booklet.sections}
    keeping = Keeping(order.keep, shelf(), ground)
    keys = [keeping.key(leaf) for leaf in parts]
    found = {number: one for number, key in enumerate(keys) if (one := keeping.found(key))}
    todo = [number for number in range(len(parts)) if number not in found]

    def tell() -> None:
        done = sum(len(one.pages) for one in found.values())
        if order.told:
            order.told(done, max(done, about_pages(booklet)))

    tell()
    with making(bench):
        try:
            jobs = order.jobs or cores()
            for place, one in together(lambda place: fragment(parts[todo[place]], bench), len(todo), jobs):
                found[todo[place]] = one
                keeping.lay(keys[todo[place]], one)
                tell()
        except WorkerDied:
            raise_any([Problem("worker-died", None, DIED, "Try again with --jobs 1.")])
        # In the order of the pages, not of finishing: the bytes do not tell how many processes there were.
        made = [found[number] for number in range(len(parts))]
        if any(one.problems for one in made):
            return tuple(made), ()
        places = placed(made, sections)
        for number, one in enumerate(made):
            if one.numbered:
                key = keeping.key(parts[number], numbered(places))
                made[number] = keeping.found(key) or fragment(parts[number], bench, numbered(places))
                keeping.lay(key, made[number])
        if any(one.problems for one in made):
            return tuple(made), ()
        last = placed(made, sections)
    if order.keep is not Keep.NONE and todo:
        keeping.shelf.tidy()
    # Pages were moved by the very numbers that were just printed on them, so these are wrong.
    if numbered(last) != numbered(places):
        raise RuntimeError("the contents take more or fewer pages with their numbers than without")
    return tuple(made), last


def _ground(booklet: Booklet, css: Sequence[str], order: PressOrder) -> tuple[Any, ...]:
    """What all leaves of a booklet have in common: look, fonts and way of printing."""
    faces = tuple(
        (face.family, face.weight, face.style, sha256(face.file.read_bytes()).digest()) for face in order.faces
    )
    return (tuple(css), faces, str(booklet.language), booklet.zoom, order.fillable, order.one_ink)


def _problems(
    made: Sequence[Fragment], specs: Mapping[str, FieldSpec], faces: Sequence[fonts.Face]
) -> tuple[Problem, ...]:
    """What is wrong with the pages, told once."""
    used: dict[fonts.Setting, set[str]] = {}
    for fragment in made:
        for setting, signs in fragment.used.items():
            used.setdefault(setting, set()).update(signs)
    every = [problem for fragment in made for problem in fragment.problems]
    every += fonts.text_problems(used, faces)
    return tuple(dict.fromkeys(every))


def _lost_links(made: Sequence[Fragment]) -> list[str]:
    """What the typesetter says of links that lead nowhere."""
    anchors = {name for fragment in made for page in fragment.pages for name, _ in page.anchors}
    links = [target for fragment in made for page in fragment.pages for target in page.links]
    return [f"No anchor #{target} for internal URI reference" for target in links if target not in anchors]


def _joined(
    booklet: Booklet, made: Sequence[Fragment], places: Sequence[PagePlace | None], bench: Any, order: PressOrder
) -> tuple[Any, bytes, list[Any]]:
    """The document of bare pages, the file, and the fonts that are in it."""
    from builder.pdf.fast import lean
    from builder.pdf.fragments.fontuse import Fonts
    from builder.pdf.fragments.join import Joint, joining, take_over

    document = bench.bare(margins(booklet, [place.sheet for place in places if place]), BARE)
    if len(document.pages) != len(places):
        raise RuntimeError(f"{len(document.pages)} bare pages for {len(places)} pages of the booklet")
    take_over(document.pages, places)
    # The typesetter's own copies, unpacked: the digests in fragments are of these, not of the files that were named.
    files = sorted(bench.fonts._folder.iterdir()) if bench.fonts._folder else []
    used = Fonts((use for fragment in made for use in fragment.fonts), files)
    meta = order.meta
    finish.describe(document, meta)

    def finisher(_: Any, pdf: Any) -> None:
        widgets.add_form(pdf, Joint(document, pdf, booklet.zoom, meta.identifier).add(made, places))
        finish.identify(pdf, meta)
        finish.attach(pdf, order.attachments, meta)
        finish.number_pages(pdf, order.labels)
        finish.mark_bleed(pdf)
        finish.open_at_cover(pdf)
        # Last of all: what is settled is bytes, and can be changed no more.
        lean.settle(pdf)

    with lean.writing(), joining(used):
        written: bytes = document.write_pdf(
            zoom=booklet.zoom, finisher=finisher, pdf_variant="pdf/a-3a",
            pdf_identifier=meta.identifier.encode("utf-8"),
        )  # fmt: skip
    return document, written, list(used.made.values())
