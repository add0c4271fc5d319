"""All that the pages are made from, gathered once and handed to every maker of sections."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from builder.given import Movements
from builder.given.brand import Brand
from builder.pages.faces import SHIPPED, Faces
from builder.pages.model import Edition, Layout, Paper
from builder.pages.sheet import Sheet, sheet
from builder.pages.theme import DEFAULT, Theme
from builder.plan.model import Plan
from builder.words import Words

ACCENT = "#1f4e5f"
"""The accent where the brand names none."""


@dataclass(frozen=True, slots=True)
class Texts:
    """The longer texts of one language, by file name without its ending.

    `markdown` has what templates/texts/<language>/*.md say; `data` what the *.yaml there say, as read: text,
    lists and mappings.
    """

    markdown: Mapping[str, str]
    data: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class CoachPage:
    """A Markdown page that the coach brings along; `name` is its file name without the ending."""

    name: str
    markdown: str


@dataclass(frozen=True, slots=True)
class Context:
    """What a booklet is made from.

    `code` tells this plan from any other (6 to 12 characters, made outside from the plan's digest), `made_on`
    is the only date that is not in the plan, `sources` the names of the files it came from, in order.
    `before` is the plan without the tests of the last revision, None in a first booklet.
    `logo` is an address that the typesetter may read, None without a logo. `accent` is the "#rrggbb" that figures
    are drawn in, dark enough to be read. `buyer` and `order` say whose copy it is, "" for a copy of nobody.
    `faces` tell how wide text is, also in fonts of the brand.
    """

    plan: Plan
    brand: Brand
    words: Words
    texts: Texts
    paper: Paper
    edition: Edition
    library: Movements
    code: str
    made_on: date
    version: str
    revision: int = 1
    sources: tuple[str, ...] = ()
    coach_pages: tuple[CoachPage, ...] = ()
    logo: str | None = None
    accent: str = ACCENT
    before: Plan | None = None
    theme: Theme = DEFAULT
    buyer: str = ""
    order: str = ""
    layout: Layout = Layout.PAGE
    faces: Faces = SHIPPED

    @property
    def sheet(self) -> Sheet:
        """The measures of the paper in the theme."""
        return sheet(self.paper, self.theme)
