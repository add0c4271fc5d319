"""All that a report is made from, gathered once and handed to every maker of its parts."""

from __future__ import annotations

from collections.abc import Set
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from builder.given import Brand
from builder.log.report.series import BlockLog
from builder.pages.model import Booklet, Edition, Paper, Section
from builder.pages.names import title_case
from builder.pages.sheet import Sheet, sheet
from builder.pages.theme import Theme
from builder.plan import TestValue
from builder.values.quantity import WithBody, on_bar
from builder.words import Words

UNKNOWN = "\N{WHITE SQUARE}"
"""Stands for a sign that cannot be printed."""


@dataclass(frozen=True, slots=True)
class ReportContext:
    """What a report is made from: blocks in order, at least one, and the tests of the profile by lift, where given.

    `signs` are the code points that the fonts have. `logo` is an address that the typesetter may read.
    """

    blocks: tuple[BlockLog, ...]
    tests: tuple[tuple[str, tuple[TestValue, ...]], ...]
    words: Words
    paper: Paper
    theme: Theme
    accent: str
    brand: Brand | None
    logo: str | None
    made_on: date
    signs: Set[int]

    @property
    def sheet(self) -> Sheet:
        """The measures of the paper in the theme."""
        return sheet(self.paper, self.theme)

    def text(self, written: str, most: int | None = None) -> str:
        """A text out of a PDF on one line: signs that cannot be printed replaced, cut after `most` signs."""
        line = " ".join(written.split())
        # Lifters type signs that no font of the page has, and the typesetter does not say what is missing.
        shown = "".join(c if c.isprintable() and ord(c) in self.signs else UNKNOWN for c in line)
        return shown if most is None or len(shown) <= most else f"{shown[: most - 1].rstrip()}…"

    def lift(self, name: str) -> str:
        """A movement as the start of a line."""
        return title_case(self.text(self.words.movement(name)))

    def load(self, kg: WithBody | None, own: Decimal = Decimal(0)) -> str:
        """A load as it is loaded: without `own`, the bodyweight that it counts, and then with a plus."""
        if kg is None:
            return self.words("report.none")
        shown = self.words.mass(on_bar(kg, own))
        return self.words("load.plus", load=shown) if own else shown


def document(
    ctx: ReportContext, title: str, lifter: str, sections: tuple[Section, ...], *, code: str = ""
) -> Booklet:
    """Sections of a report, ready for the press; the brand is its author, or else the lifter, "" for several."""
    words, brand = ctx.words, ctx.brand.name if ctx.brand else ""
    return Booklet(
        title=title,
        author=brand or lifter,
        subject=words("report.subject", brand=brand) if brand else words("report.subject.plain"),
        brand=brand,
        language=words.language,
        paper=ctx.paper,
        edition=Edition.PERSONAL,
        theme=ctx.theme.name,
        facing=ctx.sheet.facing,
        zoom=ctx.sheet.zoom,
        code=code,
        sections=sections,
        fields=(),
    )
