"""What goes into a fragment and what it is made of: frozen values that any process can make and hand on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, TypeAlias

from builder.pdf.fonts import Setting
from builder.values.fields import FieldSpec
from builder.values.problem import Problem

Bookmark: TypeAlias = tuple[int, str, tuple[float, float], str]
"""Level, label, place on the page and whether it is open, as the typesetter keeps them."""
Anchor: TypeAlias = tuple[str, tuple[float, ...]]


@dataclass(frozen=True, slots=True)
class Leaf:
    """Sections that share pages, as a document of their own; `personal` unless they are the same for everybody."""

    html: str
    fields: tuple[FieldSpec, ...]
    personal: bool = True


@dataclass(frozen=True, slots=True)
class FragmentPage:
    """One page without what stands in its margins. `start` is its left margin, as it was laid out, in CSS pixels.

    Numbers are those of objects within the fragment: of the notes on the page, and of the nodes of the structure tree
    by their marks; `tops` are those right below the document. `patterns` are of the ground of boxes, whose place is
    that of the page. `sections` are the anchors of what it shows, from the top.
    """

    content: bytes = field(repr=False)
    start: float
    annotations: tuple[int, ...]
    marked: tuple[int, ...]
    tops: tuple[int, ...]
    patterns: tuple[int, ...]
    bookmarks: tuple[Bookmark, ...]
    anchors: tuple[Anchor, ...]
    links: tuple[str, ...]
    sections: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FontUse:
    """A font as a fragment uses it: what the typesetter knows of it, and the digest of its file."""

    digest: str
    known: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Known:
    """The objects of a fragment that the joined file has already, by their numbers in the fragment."""

    document: int
    fonts: int
    colours: int
    profile: int
    pages: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Fragment:
    """Pages ready to be joined. `objects` and `streams` are written with marks where numbers will stand.

    `numbered` ones print the numbers of other pages, and are made again when these are known. `noted` are the nodes of
    notes in the structure tree, in the order of their own numbers. `problems` say why it must not be printed.
    """

    pages: tuple[FragmentPage, ...]
    resources: bytes = field(repr=False)
    objects: tuple[tuple[int, bytes], ...] = field(repr=False)
    streams: tuple[tuple[int, bytes, bytes], ...] = field(repr=False)
    known: Known
    noted: tuple[int, ...]
    fields: tuple[tuple[str, int], ...]
    fonts: tuple[FontUse, ...]
    used: Mapping[Setting, str]
    numbered: bool = False
    warnings: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
