"""A booklet taken apart into leaves, and the bare pages that say what stands in the margins."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import repeat
from typing import Literal

from builder import places
from builder.pages.model import Booklet, Section
from builder.pdf.fragments.parts import Leaf
from builder.pdf.html import OPTIONS, templates
from builder.pdf.own import NO_OWN, Own, filled

_FOLLOWS = re.compile(r"\.page-(\w+) \+ \.page-(\w+)")
# These are kept on the disk unless somebody forbids it, and outlive the booklet: nobody's name may be in them.
IMPERSONAL = {"flow", "effort", "demos", "reference"}
"""Templates of pages that say the same to every lifter: texts, and tables without anybody's numbers."""
BARE = (
    ".bare { break-before: page !important; margin: 0 !important; padding: 0 !important; border: 0 !important;"
    " height: 0 !important; background: none !important; }"
    # The lines of a ruled page are in its fragment. Drawn with the margins, which come last, they would lie over the
    # text.
    " @page notes { background: none !important }"
    " .bare.side-left { break-before: left !important; } .bare.side-right { break-before: right !important; }"
)
"""Rules for pages that hold nothing: each begins anew, on its side."""


@dataclass(frozen=True, slots=True)
class BarePage:
    """One page: the section at its top, the one whose running title it has, and the side that it must be on."""

    section: Section
    said: Section
    side: Literal["any", "left", "right", "on"]


def leaves(booklet: Booklet, css: Sequence[str], own: Own = NO_OWN) -> tuple[Leaf, ...]:
    """The leaves in order. Sections are one leaf where one goes on below the other, on the same page or by some rule
    of a style sheet for the one after the other.
    """
    runs = tuple(_together(booklet.sections, css))
    return tuple(map(_leaf, _texts(booklet, runs, own), runs, repeat(bool(own.templates))))


def _texts(booklet: Booklet, runs: Sequence[tuple[Section, ...]], own: Own) -> Iterable[str]:
    values = [{"booklet": booklet, "sections": sections} for sections in runs]
    folder, name = places.templates(), "leaf.html.j2"
    if own.templates:
        return filled(own, folder, OPTIONS, name, values)
    template = templates(folder).get_template(name)
    return (template.render(**each) for each in values)


def _leaf(html: str, sections: tuple[Section, ...], own: bool) -> Leaf:
    """What a coach's own template prints may be anybody's."""
    fields = tuple(spec for section in sections for spec in section.fields)
    # A template of the coach's own may print the lifter's name on any page.
    return Leaf(html, fields, own or any(section.template not in IMPERSONAL for section in sections))


def _together(sections: Sequence[Section], css: Sequence[str]) -> Iterator[tuple[Section, ...]]:
    pairs = {pair for sheet in css for pair in _FOLLOWS.findall(sheet)}
    run: list[Section] = []
    for section in sections:
        if run and section.side != "on" and (run[-1].template, section.template) not in pairs:
            yield tuple(run)
            run = []
        run.append(section)
    if run:
        yield tuple(run)


def margins(booklet: Booklet, sheets: Sequence[BarePage]) -> str:
    """A document of as many bare pages."""
    return templates(places.templates()).get_template("margins.html.j2").render(booklet=booklet, sheets=sheets)
