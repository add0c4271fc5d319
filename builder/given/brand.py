"""How a coach's booklet looks and what it must say in law."""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema

from builder.values.effort import Effort
from builder.values.lists import EDITIONS, LANGUAGES, LAYOUTS, PAPERS, Edition, Language, Layout, Paper
from builder.values.scalars import Format, Part, Prose, Text, Web, Whole, YesNo, _text, one_of, wrong


def _colour(value: Any) -> Any:
    text = _text(value, 'a colour such as "#1f4e5f"').lower()
    if re.fullmatch(r"#[0-9a-f]{6}", text):
        return text
    if re.fullmatch(r"#[0-9a-f]{3}", text):
        return "#" + "".join(c * 2 for c in text[1:])
    hint = f'"#{text}"' if re.fullmatch(r"[0-9a-f]{6}", text) else '"#1f4e5f", in quotes'
    raise wrong("not-a-colour", f'"{text}" is not a colour', f"Write six hex digits after a #, such as {hint}.")


def _path(value: Any) -> Any:
    text = _text(value, "a file name beside this file")
    if not text or text.startswith(("/", "~", "\\")) or ":" in text or ".." in re.split(r"[\\/]", text):
        raise wrong("path", f'"{text}" leads out of the folder', "Name a file in or below the folder of this file.")
    return text


Colour = Annotated[str, BeforeValidator(_colour), WithJsonSchema({"type": "string", "pattern": "^#[0-9a-fA-F]{3,6}$"})]
FilePath = Annotated[str, BeforeValidator(_path), WithJsonSchema({"type": "string"})]


PlateColours = Literal["grey", "federation"]
CoverLayout = Literal["rule", "band", "frame", "spine"]


class Contact(Part):
    """How the buyer reaches the coach."""

    email: Text | None = None
    web: Web | None = None
    phone: Text | None = None


class Colours(Part):
    """The one accent colour, and how plates are drawn; the paper and ink are the theme's."""

    accent: Colour | None = None
    plates: Annotated[PlateColours, one_of("grey", "federation")] = "grey"


class FontFile(Part):
    """A font file that the brand brings along."""

    file: FilePath
    weight: Annotated[Whole, Field(ge=100, le=900, multiple_of=100)] = 400
    italic: YesNo = False


class Legal(Part):
    """Whose program it is and what the buyer may do with it."""

    licence: Prose | None = None
    disclaimer: Prose | None = None
    copyright: Text | None = None


class Selling(Part):
    """How copies are handed over where nothing else is said, and what none may go without.

    With `sources` false neither rules nor profile travel along; with `stamp` each copy names its buyer or order, with
    `lock` each is locked. `files` says how the booklets of a roster are named.
    """

    edition: Annotated[Edition, one_of(*EDITIONS)] | None = None
    sources: YesNo | None = None
    stamp: YesNo = False
    lock: YesNo = False
    files: Text | None = None


class Brand(Part):
    """One coach's brand."""

    name: Text
    coach: Text | None = None
    line: Text | None = None
    contact: Contact = Contact()
    colours: Colours = Colours()
    cover: Annotated[CoverLayout, one_of("rule", "band", "frame", "spine")] = "rule"
    logo: FilePath | None = None
    text_font: tuple[FontFile, ...] = Field((), max_length=18)
    heading_font: tuple[FontFile, ...] = Field((), max_length=18)
    legal: Legal = Legal()
    pages: tuple[FilePath, ...] = Field((), max_length=60)
    demos: dict[Text, Web] = Field(default_factory=dict, max_length=200)


class BrandFile(Part):
    """A file with a brand and the theme it prefers."""

    format: Format
    brand: Brand
    theme: Text | None = None
    language: Annotated[Language, one_of(*LANGUAGES)] | None = None
    layout: Annotated[Layout, one_of(*LAYOUTS)] | None = None
    effort: Effort | None = None
    selling: Selling = Selling()
    paper: Annotated[Paper, one_of(*PAPERS)] | None = None
