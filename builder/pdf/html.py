"""The booklet as HTML with its style sheets: templates place what the view model decided."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
from jinja2.ext import Extension

from builder import places
from builder.pages.columns import ASKED_GAP, BETWEEN, HEAD, HEAD_UP, columns
from builder.pages.context import ACCENT
from builder.pages.grid import ROWS, asked_cells, asked_width, grids, set_columns
from builder.pages.measures import measured
from builder.pages.model import Booklet, Edition
from builder.pages.sheet import BAND_GAP, RULED, TOP_AND_FOOT, Density, margins, sheet
from builder.pages.theme import theme
from builder.pages.titles import on_cover, on_log, on_page, on_plan
from builder.pages.widths import plates
from builder.pdf.own import NO_OWN, Own, anchored, filled

LONG = ("flow", "licence", "numbers", "glance", "loads", "records")
"""Templates whose sections take two pages, as a rule."""
RULED_BELOW = ("licence", "changed", "numbers", "guide", "glance", "flow", "demos", "trial", "drills")
"""Templates of texts that are white on a ruled page, so that what they leave of their last page is lines for notes."""
COVER_SPARE = 3.0
"""mm by which a cover is lower than the type area, so that no rounding moves it to a page of its own."""


@dataclass(frozen=True, slots=True)
class Look:
    """How a brand wants its booklet to look. `accent` is "#rrggbb", dark enough to be read (`colour.readable`).

    `text` and `heading` are font families; give the press their faces. `own` has the coach's templates and sheets.
    """

    accent: str = ACCENT
    text: str | None = None
    heading: str | None = None
    own: Own = NO_OWN


def render(booklet: Booklet, own: Own = NO_OWN) -> str:
    """The whole document; jinja2.UndefinedError when a template asks for what its section does not have.

    OwnFault where it is one of the coach's own.
    """
    if own.templates:
        return filled(own, places.templates(), OPTIONS, "booklet.html.j2", [{"booklet": booklet}])[0]
    return templates(places.templates()).get_template("booklet.html.j2").render(booklet=booklet)


def style_sheets(booklet: Booklet, look: Look | None = None, *, bleed: bool = False) -> tuple[str, ...]:
    """The style sheets in order of precedence, `bleed` for a print shop; FileNotFoundError for an unknown theme."""
    look = look or Look()
    folder = places.styles()
    look_sheets = folder / "themes" / booklet.theme
    if not (look_sheets / "theme.css").is_file():
        raise FileNotFoundError(f"there is no theme {booklet.theme!r}; themes: {', '.join(places.themes())}")
    # By how plan and log lie: in large print they face each other on large paper too.
    shape, paper = "small" if booklet.facing else "large", f"{booklet.paper.lower()}.css"
    own = look_sheets / paper
    names = ("base.css", "matter.css", "print.css", "cover.css", f"paper/{shape}.css", "session.css", "text.css")
    shared = [folder / name for name in names]
    files = (*shared, own if own.is_file() else folder / "paper" / paper)
    sheets = [_read(file) for file in files]
    edge = [_shrunk(_read(folder / "bleed.css"), booklet.zoom)] if bleed else []
    stamp = [_read(folder / "stamp.css")] if booklet.stamp else []
    margins = _margin_rules(booklet)
    own_rules = [anchored(sheet).text for sheet in look.own.sheets]
    worn = (_read(look_sheets / "theme.css"), *own_rules, _brand_rules(look))
    return (*sheets, *stamp, margins, _ruled(booklet), _grids(booklet), *worn, *edge)


def _read(file: Path) -> str:
    return measured(file.read_text(encoding="utf-8"))


def _shrunk(css: str, zoom: float) -> str:
    """The sheet with every length in mm so much smaller that it is right once the page is magnified."""
    return re.sub(r"(\d+)mm", lambda found: f"{int(found[1]) / zoom:g}mm", css)


def _margin_rules(booklet: Booklet) -> str:
    """Paper and margins; those at the binding and outside depend on how thick the booklet will be."""
    (wide, high), (above, below) = booklet.paper.millimetres, TOP_AND_FOOT[booklet.paper.small]
    # By a guess of the number: the true one is known only when pages are laid out within these margins.
    sides = margins(booklet.paper, about_pages(booklet))
    lengths = (wide, high, round(high - above - below - COVER_SPARE), above, below, *sides)
    width, height, cover, top, foot, inner, outer = (f"{round(mm / booklet.zoom, 4):.8g}mm" for mm in lengths)
    return (
        f":root {{ --cover: {cover}; --top: {top}; --foot: {foot}; --inner: {inner}; --outer: {outer}; }}"
        f" @page {{ size: {width} {height}; margin: {top} {outer} {foot} {inner}; }}"
        f" @page :left {{ margin-left: {outer}; margin-right: {inner}; }}"
        f" @page :right {{ margin-left: {inner}; margin-right: {outer}; }}"
    )


def _ruled(booklet: Booklet) -> str:
    """Lines for notes, as many as the type area has room for: on blank pages, and below the texts of a booklet.

    The handbook has none below its texts, which go on on the page of the contents.
    """
    (_, high), used = booklet.paper.millimetres, sum(TOP_AND_FOOT[booklet.paper.small])
    count = int((high - used) / RULED)
    texts = () if booklet.edition is Edition.HANDBOOK else RULED_BELOW
    template = templates(places.templates()).get_template("parts/ruled.css.j2")
    return template.render(count=count, pitch=RULED, high=round(count * RULED / booklet.zoom, 4), texts=texts)


def about_pages(booklet: Booklet) -> int:
    """About how many pages there will be, before they are laid out: most sections take one, texts take two."""
    return sum(2 if section.template in LONG else 1 for section in booklet.sections)


def _grids(booklet: Booklet) -> str:
    """Rules that draw the cells of log rows, made from the same measures as the fields."""
    shared = not booklet.facing and booklet.edition is not Edition.LOG
    page = sheet(booklet.paper, theme(booklet.theme))
    ours = templates(places.templates())
    cells = asked_cells(page)
    ends = accumulate(caption + cell for caption, cell in cells)
    asked = [(end - cell, cell) for end, (_, cell) in zip(ends, cells, strict=True)]
    cells_of_logs = ours.get_template("parts/grids.css.j2").render(
        grids=grids(page, shared), rows=ROWS, asked=asked, asked_width=asked_width(page), sets=set_columns(page),
        page=page, shared=shared, gap=BAND_GAP,
    )
    boxes = ours.get_template("parts/columns.css.j2").render(
        at=columns(page), head=HEAD, up=HEAD_UP, between=BETWEEN, asked_gap=ASKED_GAP
    )
    plans = ours.get_template("parts/plans.css.j2").render(
        page=page, densities=Density, plan=on_plan(page), log=on_log(page), once=on_page(page), cover=on_cover(page),
    )
    return cells_of_logs + boxes + plans


def _brand_rules(look: Look) -> str:
    rules = [f"--accent: {look.accent};"]
    if look.text:
        rules.append(f'--text: "{look.text}", "Source Sans 3";')
    if look.heading:
        rules.append(f'--heading: "{look.heading}", "Barlow Condensed", "Source Sans 3";')
    return f":root {{ {' '.join(rules)} }}"


class Filters(Extension):
    """What our templates, and a coach's own in their sandbox, have besides the filters of the engine."""

    def __init__(self, environment: Environment) -> None:
        super().__init__(environment)
        environment.filters["plates"] = plates


OPTIONS: dict[str, Any] = {
    "autoescape": select_autoescape(("html", "html.j2", "svg", "svg.j2")), "trim_blocks": True, "lstrip_blocks": True,
    "extensions": [Filters],
}  # fmt: skip


@lru_cache(maxsize=4)
def templates(folder: Path) -> Environment:
    """Our own templates."""
    # A name that is misspelt in a template must not print as nothing.
    return Environment(loader=FileSystemLoader(folder), undefined=StrictUndefined, **OPTIONS)
