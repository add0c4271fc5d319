"""The booklet as HTML with its style sheets: templates place what the view model decided."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape

from builder import places
from builder.booklet.context import ACCENT
from builder.booklet.grid import ASKED, ASKED_WIDTH, ROWS, grids
from builder.booklet.model import Booklet, Edition, Paper

DEFAULT_THEME = "default"
PAPER_SHEETS = {Paper.A4: "a4", Paper.LETTER: "letter", Paper.A5: "a5", Paper.HALF_LETTER: "half-letter"}


@dataclass(frozen=True, slots=True)
class Look:
    """How a brand wants its booklet to look. `accent` is "#rrggbb", dark enough to be read (`colour.readable`).

    `text` and `heading` are font families; give the press their faces.
    """

    theme: str = DEFAULT_THEME
    accent: str = ACCENT
    text: str | None = None
    heading: str | None = None


def render(booklet: Booklet) -> str:
    """The whole document; jinja2.UndefinedError when a template asks for what its section does not have."""
    return _environment(places.templates()).get_template("booklet.html.j2").render(booklet=booklet)


def style_sheets(booklet: Booklet, look: Look | None = None, *, bleed: bool = False) -> tuple[str, ...]:
    """The style sheets in order of precedence, `bleed` for a print shop; FileNotFoundError for an unknown theme."""
    look = look or Look()
    folder = places.styles()
    theme = folder / "themes" / look.theme / "theme.css"
    if not theme.is_file():
        raise FileNotFoundError(f"there is no theme {look.theme!r}; themes: {', '.join(themes())}")
    shape = "small" if booklet.paper.small else "large"
    papers = (f"paper/{shape}.css", f"paper/{PAPER_SHEETS[booklet.paper]}.css")
    names = ("base.css", "matter.css", "print.css", *papers)
    sheets = [(folder / name).read_text(encoding="utf-8") for name in names]
    edge = [(folder / "bleed.css").read_text(encoding="utf-8")] if bleed else []
    stamp = [(folder / "stamp.css").read_text(encoding="utf-8")] if booklet.stamp else []
    return (*sheets, *stamp, _grids(booklet), theme.read_text(encoding="utf-8"), _brand_rules(look), *edge)


def themes() -> tuple[str, ...]:
    """The names of the themes at hand."""
    return tuple(sorted(folder.parent.name for folder in (places.styles() / "themes").glob("*/theme.css")))


def _grids(booklet: Booklet) -> str:
    """Rules that draw the cells of log rows, made from the same measures as the fields."""
    shared = not booklet.paper.small and booklet.edition is not Edition.LOG
    template = _environment(places.templates()).get_template("parts/grids.css.j2")
    ends = accumulate(caption + cell for caption, cell in ASKED)
    asked = [(end - cell, cell) for end, (_, cell) in zip(ends, ASKED, strict=True)]
    return template.render(grids=grids(booklet.paper, shared), rows=ROWS, asked=asked, asked_width=ASKED_WIDTH)


def _brand_rules(look: Look) -> str:
    rules = [f"--accent: {look.accent};"]
    if look.text:
        rules.append(f'--text: "{look.text}", "Source Sans 3";')
    if look.heading:
        rules.append(f'--heading: "{look.heading}", "Barlow Condensed", "Source Sans 3";')
    return f":root {{ {' '.join(rules)} }}"


@lru_cache(maxsize=4)
def _environment(folder: Path) -> Environment:
    escape = select_autoescape(("html", "html.j2", "svg", "svg.j2"))
    return Environment(
        loader=FileSystemLoader(folder),
        undefined=StrictUndefined,
        autoescape=escape,
        trim_blocks=True,
        lstrip_blocks=True,
    )
