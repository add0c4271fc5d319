"""How a coach's booklet looks and what it must say in law."""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from builder.values.effort import Effort
from builder.values.forms import offered, schema
from builder.values.lists import Edition, Language, Layout, Paper
from builder.values.scalars import (
    LISTED,
    Format,
    Mail,
    MovementName,
    Part,
    Prose,
    Text,
    Web,
    Whole,
    YesNo,
    one_word,
    wrong,
)

_COLOURS = {
    "black": "000000", "silver": "c0c0c0", "gray": "808080", "grey": "808080", "white": "ffffff", "maroon": "800000",
    "red": "ff0000", "purple": "800080", "fuchsia": "ff00ff", "green": "008000", "lime": "00ff00", "olive": "808000",
    "yellow": "ffff00", "navy": "000080", "blue": "0000ff", "teal": "008080", "aqua": "00ffff", "orange": "ffa500",
}  # fmt: skip
"""The basic names of colours (CSS Color 3, 4.1), and those that people type besides (4.3)."""


def _colour(value: Any) -> Any:
    text = one_word(value, 'a colour such as "#1f4e5f"').lower()
    if re.fullmatch(r"#[0-9a-f]{6}", text):
        return text
    if re.fullmatch(r"#[0-9a-f]{3}", text):
        return "#" + "".join(c * 2 for c in text[1:])
    meant = _COLOURS.get(text) or (text if re.fullmatch(r"[0-9a-f]{6}", text) else None)
    # In quotes, since a bare # begins a comment in YAML and nothing would arrive here.
    hint = f'"#{meant}"' if meant else '"#1f4e5f", in quotes'
    raise wrong("not-a-colour", f'"{text}" is not a colour', f"Write six hex digits after a #, such as {hint}.")


def _path(value: Any) -> Any:
    text = one_word(value, "a file name beside this file")
    # A brand goes from hand to hand and its files into the PDF: a name that leads elsewhere would take along what lies
    # there.
    if not text or text.startswith(("/", "~", "\\")) or ":" in text or ".." in re.split(r"[\\/]", text):
        name = re.split(r"[\\/:]", text)[-1]
        such = f', such as "{name}"' if name.strip(".~ ") else ""
        raise wrong(
            "path", f'"{text}" leads out of the folder', f"Name a file in or below the folder of this file{such}."
        )
    return text


_WEIGHTS = {"thin": 100, "light": 300, "regular": 400, "normal": 400, "medium": 500, "semibold": 600, "bold": 700,
            "extrabold": 800, "black": 900}  # fmt: skip
"""The usual names of weights (CSS Fonts 4, 2.2.1, the mapping of weights)."""


def _weight(value: Any) -> Any:
    meant = _WEIGHTS.get(re.sub(r"[\s_-]", "", value.lower())) if isinstance(value, str) else None
    if meant:
        raise wrong("not-a-whole-number", f'"{value}" is the name of a weight', f"Write {meant}.")
    return value


Colour = Annotated[
    str, BeforeValidator(_colour), schema("#([0-9a-fA-F]{3}|[0-9a-fA-F]{6})", 'a colour: "#1f4e5f"', bare=False)
]
_BELOW = r"(?![/~\\])(?!.*:)(?!(.*[\\/])?\.\.([\\/]|$))\S.*"
FilePath = Annotated[str, BeforeValidator(_path), schema(_BELOW, "a file beside this one: logo.svg", bare=False)]


PlateColours = Literal["grey", "federation"]
CoverLayout = Literal["rule", "band", "frame", "spine"]


class Contact(Part):
    """How the buyer reaches the coach."""

    email: Mail | None = Field(None, description="Your address for mail.", examples=["desk@northrack.example"])
    web: Web | None = Field(None, description="Your site.", examples=["https://northrack.example"])
    phone: Text | None = Field(None, description="Your telephone.", examples=["+49 30 000000"])


class Colours(Part):
    """The one accent colour, and how plates are drawn; the paper and ink are the theme's."""

    accent: Colour | None = Field(
        None,
        description="The colour of lines, heads and marks; a shade too pale to read is darkened, with a warning.",
        examples=["#1f4e5f"],
        json_schema_extra={"unset": "the theme's"},
    )
    plates: Annotated[PlateColours, LISTED] = Field(
        "grey",
        description="Drawn plates in greys, or in the colours of the federations' rulebooks for kg plates.",
        examples=["federation"],
    )


class FontFile(Part):
    """A font file that the brand brings along."""

    file: FilePath = Field(
        description="The font file beside this file: .ttf, .otf, .woff or .woff2.", examples=["fonts/Text-Regular.ttf"]
    )
    weight: Annotated[Whole, BeforeValidator(_weight), Field(ge=100, le=900, multiple_of=100)] = Field(
        400, description="Its weight.", examples=[600]
    )
    italic: YesNo = Field(False, description="Whether it is the italic.", examples=[True])


class Legal(Part):
    """Whose program it is and what the buyer may do with it."""

    licence: Prose | None = Field(
        None, description="What the buyer may do; it replaces the default licence.", examples=["One lifter, one copy."]
    )
    disclaimer: Prose | None = Field(
        None,
        description="What you do not promise; it is added to the safety pages.",
        examples=["No result is promised."],
    )
    copyright: Text | None = Field(None, description="Whose it is.", examples=["© 2027 North Rack"])


class Selling(Part):
    """How copies are handed over where nothing else is said, and what none may go without.

    With `sources` false neither rules nor profile travel along; with `stamp` each copy names its buyer or order, with
    `lock` each is locked. `files` says how the booklets of a roster are named.
    """

    edition: Annotated[Edition, LISTED] | None = Field(
        None, description="Which pages a copy has.", examples=["pocket"], json_schema_extra={"unset": "`personal`"}
    )
    sources: YesNo | None = Field(
        None,
        description="Whether rules and profile travel along.",
        examples=[False],
        json_schema_extra={"unset": "yes, in a roster no"},
    )
    stamp: YesNo = Field(
        False, description="Whether a copy that names neither buyer nor order is refused.", examples=[True]
    )
    lock: YesNo = Field(False, description="Whether a copy that is not locked is refused.", examples=[True])
    files: Text | None = Field(
        None,
        description="How the booklets of a roster are named, as `roster --name` does.",
        examples=["{name}-{block}"],
        json_schema_extra={"unset": "`{name}-{block}`"},
    )


class OwnLook(Part):
    """What a coach puts in place of our pages, rules and words, as files beside the brand file."""

    sheets: tuple[FilePath, ...] = Field(
        (),
        max_length=8,
        description="Style sheets of your own, read after those of the theme that `theme` names.",
        examples=[["look/ours.css"]],
    )
    templates: dict[Text, FilePath] = Field(
        default_factory=dict,
        max_length=80,
        description="Templates of your own by the name of the page or part that each comes in place of.",
        examples=[{"pages/back": "look/back.html.j2"}],
    )
    pictures: tuple[FilePath, ...] = Field(
        (),
        max_length=40,
        description="Pictures that your sheets and templates show: .svg or .png, at most 2 MiB each.",
        examples=[["look/lamp.svg"]],
    )
    words: FilePath | None = Field(
        None,
        description="Sentences of your own, in the language of the brand, by the keys of ours.",
        examples=["look/words.yaml"],
        json_schema_extra={"unset": "ours"},
    )


class Brand(Part):
    """One coach's brand."""

    name: Text = Field(description="The name on cover and pages.", examples=["North Rack"])
    coach: Text | None = Field(None, description="Who writes the programs.", examples=["Ada Quill"])
    line: Text | None = Field(None, description="A line under the name.", examples=["Strong for the long run"])
    contact: Contact = Field(
        Contact(), description="How to reach the coach.", examples=[{"email": "desk@northrack.example"}]
    )
    colours: Colours = Field(
        Colours(), description="The accent colour and those of drawn plates.", examples=[{"accent": "#1f4e5f"}]
    )
    cover: Annotated[CoverLayout, LISTED] = Field(
        "rule",
        description="How the first page is laid out: a line over the title, a coloured band, a "
        "frame, or a stripe along the binding.",
        examples=["band"],
    )
    logo: FilePath | None = Field(
        None,
        description="A picture for the cover beside this file: .svg or .png, at most 2 MiB.",
        examples=["logo.svg"],
    )
    look: OwnLook = Field(
        OwnLook(),
        description="Style sheets, templates and words of your own.",
        examples=[{"sheets": ["look/ours.css"]}],
    )
    text_font: tuple[FontFile, ...] = Field(
        (),
        max_length=18,
        description="Your own font for text; give every weight that is used: 400, 600, 700, and 400 italic.",
        examples=[[{"file": "fonts/Text-Regular.ttf"}]],
        json_schema_extra={"unset": "the theme's"},
    )
    heading_font: tuple[FontFile, ...] = Field(
        (),
        max_length=18,
        description="Your own font for headings: weights 500, 600 and 700.",
        examples=[[{"file": "fonts/Head-Bold.ttf", "weight": 700}]],
        json_schema_extra={"unset": "the theme's"},
    )
    legal: Legal = Field(
        Legal(), description="What the booklet says in law.", examples=[{"copyright": "© 2027 North Rack"}]
    )
    pages: tuple[FilePath, ...] = Field(
        (),
        max_length=60,
        description="Your own pages in order, as Markdown files beside this file.",
        examples=[["pages/welcome.md"]],
    )
    demos: dict[MovementName, Web] = Field(
        default_factory=dict,
        max_length=200,
        description="Where a movement is seen; its name in a session leads there. Goes before the movement's `demo`.",
        examples=[{"back squat": "https://northrack.example/squat"}],
    )


class BrandFile(Part):
    """A file with a brand and the theme it prefers."""

    format: Format = Field(description="The version of the file format.", examples=[1])
    brand: Brand = Field(description="The brand.", examples=[{"name": "North Rack"}])
    theme: Annotated[Text, offered("themes")] | None = Field(
        None, description="The look of the pages.", examples=["plain"], json_schema_extra={"unset": "`default`"}
    )
    language: Annotated[Language, LISTED] | None = Field(
        None, description="The language of the printed words.", examples=["de"], json_schema_extra={"unset": "`en`"}
    )
    layout: Annotated[Layout, LISTED] | None = Field(
        None,
        description="Sessions on one page where they fit, or with room.",
        examples=["spread"],
        json_schema_extra={"unset": "`page`"},
    )
    effort: Effort | None = Field(
        None,
        description="How effort is printed where the block does not say: as reps in reserve or as ratings.",
        examples=["rpe"],
        json_schema_extra={"unset": "as the block is written"},
    )
    selling: Selling = Field(
        Selling(), description="How copies are handed over, and what none may go without.", examples=[{"stamp": True}]
    )
    paper: Annotated[Paper, LISTED] | None = Field(
        None, description="The page size.", examples=["A5"], json_schema_extra={"unset": "`A4`"}
    )
