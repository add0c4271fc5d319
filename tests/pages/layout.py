"""What must hold of every printed page; each check gives the faults that it finds, and none on a sound booklet."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, takewhile
from typing import Any

from pages.leaves import HEADINGS, MM, Box, Leaf, Leaves, Run

from builder.pages.model import Booklet, Edition, Section
from builder.pdf import Pressed
from builder.pdf.html import render

EDGE = 4.0
"""mm at each edge that printers may leave white. Common practice, no source."""
SMALLEST, BODY, LOAD = 7.5, 9.0, 12.0
"""Points: the smallest type, running text on small paper, loads and their plates."""
CELL_HIGH, CELL_WIDE, TICK_WIDE = 8.0, 14.0, 6.0
"""mm of a cell to write in with a blunt pencil, and of a tick in the log."""
NEAR = 2.5
"""mm around ink that count as filled."""
MOST_BLANK, ENLARGED = 0.4, 0.5
"""Of a page's height, what may be further than `NEAR` from all ink. Where letters are large and pages small, what
belongs together, such as a lift with its boxes or a heading with its table, is more of a page."""
MEANT = {"cover": 1.0, "back": 1.0, "ruled": 0.45, "log": 0.5}
"""Where a page may be more blank, by template or kind, and why: covers have air; a page left over before one that must
be on a left or right page is ruled to be written on, line by line; and a log by itself has the cells of its session,
which may have few lifts, on paper of any size.
"""
HEAD, FOOT = 13.0, 10.0
"""mm at the top and the bottom of a page in which its head and foot stand."""
TOUCH = 0.4
"""Points by which boxes of ink may overlap."""
DPI, INK = 144, 245
"""Grey values below INK are ink, hair lines of a tenth of a millimetre included."""

OPEN_SIDES = (
    (re.compile(r"(licence|screening)-(name|date|signature)"), "B"),
    (re.compile(r"trial\d+-way\d-c\d+"), "B"),
    (re.compile(r"trial\d+-.*|record-.*-date"), "TBL"),
)
"""Cells that are meant to be open: lines to sign on, and tables that end with the type area."""
CAPTIONED = re.compile(r"w\d\d-d\d-(s\d+-t\d+-(did|done|today)|s\d+-note|date|bodyweight|sleep|note)|trend-.*")
CAPTION = 3.7
"""Cells that say small, in their upper `CAPTION` mm, what belongs in them: of a session on one page, below a trend."""
ONCE = re.compile(r"screening-q\d+-(yes|no)")
"""Ticks of a form that is filled in once, at a desk, may be smaller than those of the log."""
BODY_PAGES = ("flow", "licence")
"""Templates of running text: the coach's pages, technique, licence and safety."""
LOGS = ("log", "session_log")
"""Templates of logs, whose cells are marked with the planned set: "1 +2.5×5" is the first set with 2.5 on the belt."""
PLATES = re.compile(r"\d+([.,]\d+)?(×\d+)?\+\d[\d.,×+]*($|[a-z])")
"""Plates of a side, "25×2+10"; those of ramps stand in brackets."""
LOAD_TEXT = re.compile(r"\+?\d+([.,]\d+)?|BW|KGW")


@dataclass(frozen=True)
class Book:
    """A booklet as it was meant, with its printed pages."""

    booklet: Booklet
    pressed: Pressed
    leaves: Leaves

    @cached_property
    def starts(self) -> dict[int, tuple[Section, ...]]:
        """The sections that begin on each page, from 1: by the outline, or else by the code at the foot."""
        found: dict[int, tuple[Section, ...]] = {}
        entries, page = iter(self.pressed.outline), 0
        for section in self.booklet.sections:
            if section.listed or section.anchor in ("cover", "back"):
                page = next(entries).page + 1
            else:
                page = next(n for n in self.pages_of(section.code) if n > page)
            found[page] = (*found.get(page, ()), section)
        return found

    def on(self, page: int) -> tuple[Section, ...]:
        """The sections of a page: those that begin there, or the one that goes on."""
        first = max(start for start in self.starts if start <= page)
        return self.starts[first] if first == page else self.starts[first][-1:]

    def pages_of(self, code: str) -> list[int]:
        """The pages that print a page code at their foot."""
        return [leaf.number for leaf in self.leaves.pages if code and squeezed(code) in _margin(leaf, foot=True)]


def squeezed(text: str) -> str:
    """Text without any space."""
    return re.sub(r"\s+", "", text)


def _margin(leaf: Leaf, *, foot: bool) -> str:
    """What stands in the head or the foot of a page; words of figures have no tags either."""
    return " ".join(run.text for run in leaf.runs if not run.tags and (
        run.box[3] < FOOT * MM if foot else run.box[1] > leaf.height - HEAD * MM
    ))  # fmt: skip


def _overlap(one: Box, other: Box) -> float:
    """Points by which two boxes overlap in the direction in which they do less; below 0 when they do not."""
    return min(
        min(one[2], other[2]) - max(one[0], other[0]), min(one[3], other[3]) - max(one[1], other[1])
    )  # fmt: skip


def text_near_the_edge(book: Book) -> Iterator[str]:
    """Text off the page or within the outer 4 mm."""
    for leaf in book.leaves.pages:
        least, right, top = EDGE * MM, leaf.width - EDGE * MM, leaf.height - EDGE * MM
        for run in leaf.runs:
            if min(run.box[:2]) < least or run.box[2] > right or run.box[3] > top:
                yield f"page {leaf.number}: {run.text!r}"


def text_over_text(book: Book) -> Iterator[str]:
    """Letters of one run that lie on letters of another."""
    for leaf in book.leaves.pages:
        runs = sorted(((run.box, run) for run in leaf.runs), key=lambda found: found[0][1])
        for place, (box, one) in enumerate(runs):
            top = box[3] - TOUCH
            above = takewhile(lambda found, top=top: found[0][1] < top, runs[place + 1 :])  # type: ignore[misc]
            for over, other in above:
                if _overlap(box, over) > TOUCH and _letters_touch(one, other):
                    yield f"page {leaf.number}: {one.text!r} and {other.text!r}"


def _letters_touch(one: Run, other: Run) -> bool:
    return any(_overlap(a.box, b.box) > TOUCH for a in one.glyphs for b in other.glyphs)


def small_type(book: Book) -> Iterator[str]:
    """Type under 7.5 points anywhere, running text under 9 points."""
    for leaf in book.leaves.pages:
        running = any(section.template in BODY_PAGES for section in book.on(leaf.number))
        for run in leaf.runs:
            body = running and run.within("P", "LI") and not run.within("Table", "Figure", *HEADINGS)
            least = min(glyph.size for glyph in run.glyphs)
            if least < (BODY if body else SMALLEST) - 0.01:
                yield f"page {leaf.number}: {run.text!r} in {least:.2f} pt"


def loads_that_do_not_lead(book: Book) -> Iterator[str]:
    """Loads under 12 points, or with something as large beside them in their slot."""
    for leaf in book.leaves.pages:
        for slot in _slots(leaf):
            table = [run for run in slot if run.within("TD")]
            loads = [run for run in table if LOAD_TEXT.fullmatch(run.text)]
            if not any(re.match(r"kg|lb|BW|KGW|je(?!Seite)", run.text) for run in table):
                continue
            largest = max(run.size for run in slot)
            for run in slot:
                if run.size > largest - 0.1 and (run not in loads or run.size < LOAD):
                    yield f"page {leaf.number}: {run.text!r} in {run.size:.1f} pt leads its slot"


def small_plates(book: Book) -> Iterator[str]:
    """Plates under 12 points on any page; those of a ramp or in a sentence, which other words lead, have its size.

    A line of a sentence may begin with them; it ends with a stop, as plates by themselves never do.
    """
    for leaf in book.leaves.pages:
        logged = any(section.template in LOGS for section in book.on(leaf.number))
        for run in leaf.runs:
            planned = logged and not run.within("Table")
            told = squeezed(run.text)
            if PLATES.match(told) and not told.endswith(".") and run.size < LOAD - 0.01 and not planned:
                yield f"page {leaf.number}: {run.text!r} in {run.size:.1f} pt"


def _slots(leaf: Leaf) -> Iterator[list[Run]]:
    """The runs of each slot: what stands in one element with a lift's heading and a table of sets."""
    held: dict[int, list[Run]] = {}
    for run in leaf.runs:
        for tag, inner in zip(run.tags, run.tags[1:], strict=False):
            if inner.name in ("H4", "Table"):
                held.setdefault(tag.number, [])
    for run in leaf.runs:
        for tag in run.tags:
            if tag.number in held:
                held[tag.number].append(run)
    for runs in held.values():
        if any(run.within("H4") for run in runs) and any(run.within("Table") for run in runs):
            yield runs


def small_cells(book: Book) -> Iterator[str]:
    """Form fields too small to write in."""
    for leaf in book.leaves.pages:
        for name, (box, kind) in leaf.fields.items():
            wide, high = (box[2] - box[0]) / MM + 0.05, (box[3] - box[1]) / MM + 0.05
            if not ONCE.fullmatch(name) and (high < CELL_HIGH or wide < (TICK_WIDE if kind == "tick" else CELL_WIDE)):
                yield f"page {leaf.number}: {name} is {wide:.1f} × {high:.1f} mm"


def fields_over_others(book: Book) -> Iterator[str]:
    """Form fields that lie on one another or on text."""
    for leaf in book.leaves.pages:
        fields = [(name, box) for name, (box, _) in leaf.fields.items()]
        for (name, box), (other, beside) in combinations(fields, 2):
            if _overlap(box, beside) > TOUCH:
                yield f"page {leaf.number}: {name} and {other}"
        below = [(name, _below_caption(name, box, book.booklet.zoom)) for name, box in fields]
        for run in leaf.runs:
            box = run.box
            yield from (f"page {leaf.number}: {name} on {run.text!r}" for name, low in below
                        if _overlap(low, box) > TOUCH)  # fmt: skip


def _caption(name: str, zoom: float) -> float:
    """Points at the top of a cell in which it says small what belongs there."""
    return CAPTION * MM * zoom if CAPTIONED.fullmatch(name) else 0.0


def _below_caption(name: str, box: Box, zoom: float) -> Box:
    """The part of a cell that is written in."""
    return box[0], box[1], box[2], box[3] - _caption(name, zoom)


def fields_outside_cells(book: Book) -> Iterator[str]:
    """Form fields whose edges are not those of a cell that is drawn on the page, or whose cell is not white."""
    for leaf in book.leaves.pages:
        grey = book.leaves.grey(leaf.number - 1, DPI) if leaf.fields else None
        for name, (box, _) in leaf.fields.items():
            sides, white = _drawn(grey, leaf, box, _caption(name, book.booklet.zoom))
            wanted = next((drawn for names, drawn in OPEN_SIDES if names.fullmatch(name)), "TBLR")
            if missing := set(wanted) - sides:
                yield f"page {leaf.number}: {name} has no line at {', '.join(sorted(missing))}"
            if not white:
                yield f"page {leaf.number}: {name} is not white"


def _drawn(grey: Any, leaf: Leaf, box: Box, caption: float) -> tuple[set[str], bool]:
    """The sides of a box along which a line is drawn, dotted ones included, and whether nothing is drawn inside.

    `caption` is what is left out at the top of the inside, in points.
    """
    near, scale = 4, DPI / 72
    x0, y0, x1, y1 = (round(at * scale) for at in (box[0], leaf.height - box[3], box[2], leaf.height - box[1]))
    bands = {
        "T": (slice(y0 - near, y0 + near), slice(x0, x1), 0), "B": (slice(y1 - near, y1 + near), slice(x0, x1), 0),
        "L": (slice(y0, y1), slice(x0 - near, x0 + near), 1), "R": (slice(y0, y1), slice(x1 - near, x1 + near), 1),
    }  # fmt: skip
    lines = {side for side, (rows, columns, axis) in bands.items()
             if (grey[rows, columns].min(axis=axis) < INK).mean() > 0.35}  # fmt: skip
    top = y0 + near + round(caption * scale)
    return lines, bool((grey[top : y1 - near, x0 + near : x1 - near] >= INK).all())


def _area(book: Book, leaf: Leaf) -> Any:
    """Whether each pixel between head and foot is ink, thumb strips apart."""
    grey, mm = book.leaves.grey(leaf.number - 1, 72), MM
    return grey[round(11 * mm) : round(leaf.height - 8 * mm), round(6 * mm) : round(leaf.width - 6 * mm)] < 200


def empty_pages(book: Book) -> Iterator[str]:
    """Pages of which more is blank than is meant."""
    for leaf in book.leaves.pages:
        blank, kind = blank_share(book, leaf), _kind(book, leaf)
        if blank > MEANT.get(kind, ENLARGED if book.booklet.zoom > 1 else MOST_BLANK):
            yield f"page {leaf.number}, {kind}, is {blank:.0%} blank"


def blank_share(book: Book, leaf: Leaf) -> float:
    """The share of the type area's height that is further than `NEAR` from all ink."""
    inked, near = _area(book, leaf).any(axis=1), round(NEAR * MM)
    filled = sum(inked[max(0, row - near) : row + near + 1].any() for row in range(len(inked)))
    return float(1 - filled / len(inked))


def _kind(book: Book, leaf: Leaf) -> str:
    """What a page is for: ruled, or the template of what begins on it."""
    following = book.starts.get(leaf.number + 1, ())[:1]
    if not leaf.runs and any(section.side != "any" for section in following):
        return "ruled"
    return book.on(leaf.number)[0].template


def headings_alone(book: Book) -> Iterator[str]:
    """Headings with nothing beside or under them on their page."""
    for leaf in book.leaves.pages:
        lines = [run for run in leaf.runs if run.tags]
        lowest = min(lines, key=lambda run: run.glyphs[0].base, default=None)
        if lowest is None or not lowest.within(*HEADINGS):
            continue
        base = lowest.glyphs[0].base
        line = [run for run in lines if run.glyphs[0].base < base + 4]
        below = _area(book, leaf)[round(leaf.height - lowest.box[1] - 11 * MM + 3) :]
        if all(run.within(*HEADINGS) for run in line) and not below.any():
            yield f"page {leaf.number}: {lowest.text!r}"


def broken_tables(book: Book) -> Iterator[str]:
    """Tables that go over a page inside a row or without their head, told by the rows that the press was given."""
    meant = [(table.count("<tr"), table.partition("</thead>")[0].count("<tr") if "<thead" in table else 0)
             for table in re.findall(r"<table.*?</table>", render(book.booklet), re.S)]  # fmt: skip
    printed = iter(_tables(book.leaves))
    for place, (rows, heads) in enumerate(meant, 1):
        first = next(printed, [])
        left, part = rows - len(first), first
        while left > 0 and part:
            part = next(printed, [])
            if not heads or part[:heads] != first[:heads]:
                yield f"table {place}, {' '.join(first[:1])!r}: goes on without its head"
            left -= len(part) - heads
        if left:
            yield f"table {place}, {' '.join(first[:1])!r}: {rows} rows became {rows - left}"
    if rest := list(printed):
        yield f"{len(rest)} tables more than were meant, the last {rest[-1]!r}: a row was split"


def _tables(leaves: Leaves) -> list[list[str]]:
    """The text of each row of each table, as tagged."""
    rows: dict[int, dict[int, str]] = {}
    for tags in leaves.tags.values():
        table, row = (next((tag.number for tag in tags if tag.name == name), 0) for name in ("Table", "TR"))
        if table:
            rows.setdefault(table, {}).setdefault(row, "")
    for leaf in leaves.pages:
        for run in leaf.runs:
            table, row = (next((tag.number for tag in run.tags if tag.name == name), 0) for name in ("Table", "TR"))
            if table:
                rows[table][row] += run.text
    return [[text for _, text in sorted(found.items())] for _, found in sorted(rows.items())]


def heads_and_feet(book: Book) -> Iterator[str]:
    """Pages whose head does not say where one is, or whose foot lacks number or brand; covers and blanks have none."""
    for leaf in book.leaves.pages:
        head, foot = _margin(leaf, foot=False), _margin(leaf, foot=True)
        section = book.on(leaf.number)[0]
        if section.template in ("cover", "back") or not leaf.runs:
            if head or foot:
                yield f"page {leaf.number}: {head}{foot} on a page without head and foot"
            continue
        if squeezed(head) != squeezed(section.running):
            yield f"page {leaf.number}: {head!r} instead of {section.running!r}"
        if squeezed(book.booklet.brand) not in squeezed(foot):
            yield f"page {leaf.number}: the foot {foot!r} lacks the brand"
        numbers = [run for run in leaf.runs if run.box[3] < FOOT * MM and run.text == str(leaf.number)]
        outside = [(run.box[0] > leaf.width / 2) == (leaf.number % 2 == 1) for run in numbers]
        if outside != [True]:
            yield f"page {leaf.number}: the foot {foot!r} lacks the number outside"


def sessions_apart(book: Book) -> Iterator[str]:
    """Sessions that are not on one page, or with room: a plan on the left that faces its log on the right (small)."""
    facing, enlarged = book.booklet.facing, book.booklet.zoom > 1
    alone = book.booklet.edition == Edition.LOG
    for page, sections in book.starts.items():
        for section in (one for one in sections if one.code):
            pages = book.pages_of(section.code)
            if section.template == "test_lift" and enlarged:
                sound = len(pages) <= 3
            elif section.template == "session_page":
                sound = pages == [page]
            elif facing and not (alone and section.template == "log"):
                sound = pages == [pages[0], pages[0] + 1] and pages[0] % 2 == 0
                sound = sound and page == pages[0] + (section.template == "log")
            else:
                sound = pages == [page]
            if not sound:
                yield f"{section.code} stands on {pages}"


CHECKS: tuple[Callable[[Book], Iterator[str]], ...] = (
    text_near_the_edge, text_over_text, small_type, loads_that_do_not_lead, small_plates, small_cells,
    fields_over_others, fields_outside_cells, empty_pages, headings_alone, broken_tables, heads_and_feet,
    sessions_apart,
)  # fmt: skip
