"""A finished booklet becomes print sheets: two pages side by side, in the order that folding puts right again.

Pages are taken over as drawings, each as it is. To write their operators anew into the sheets took fifty times as
long and gave files five times as large, with dead fields on them.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any

import pikepdf

from builder.pdf.parts import PressError
from builder.pdf.sheets.foldable import POINTS, creep_problems, opened, page_size, sheet_for
from builder.pdf.sheets.saddle import SHEETS, Side, Size, shift, sides
from builder.pdf.shown import looks, unseen
from builder.values.problem import Problem

MARK, MARK_OFF, HAIRLINE = 5 * POINTS, 3 * POINTS, 0.25
"""Length of crop and fold marks, their distance from the cut, and their width, in points."""

Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Folding:
    """How the sheets are wanted. `sheet` is one of SHEETS, None for an everyday sheet that fits.

    `creep` is in mm per sheet. `signatures` is the number of sheets that are folded together, None for all of them.
    `fold` asks for ticks on the fold. `blank` leaves out all that was filled in.
    """

    sheet: str | None = None
    creep: float = 0.0
    fold: bool = False
    blank: bool = False
    signatures: int | None = None


@dataclass(frozen=True, slots=True)
class Imposed:
    """The sheets as a PDF; `sheet` is their size, `blanks` the pages that were added, `folded` the most sheets that
    are folded into each other.

    There are no tags in it: its pages are sides of sheets, in an order that nobody reads. The booklet has them.
    """

    pdf: bytes = field(repr=False)
    sheet: str
    sheets: int
    pages: int
    blanks: int
    folded: int


def impose(booklet: bytes, folding: Folding) -> Imposed:
    """Sheets for saddle stitching, lying, to be printed on both sides and turned on the short edge.

    Pages keep their size. Their trim box is what is placed; bleed is kept where the sheet has room, and the
    sheet then gets crop marks. Filled fields are drawn. The same input gives the same bytes. Raises PressError.
    """
    with opened(booklet) as source:
        page = page_size(source.pages)
        sheet = sheet_for(folding.sheet, page)
        order = sides(len(source.pages), folding.signatures, back_cover=_ends_with_cover(source))
        _raise_any((*creep_problems(order, folding.creep), *(() if folding.blank else unseen(source.pages))))
        with pikepdf.new() as out:
            setter = _Setter(source, out, (page[0] * POINTS, page[1] * POINTS), sheet, folding)
            for side in order:
                setter.add(side)
            _describe(source, out)
            target = BytesIO()
            streams = pikepdf.ObjectStreamMode.generate
            out.save(target, min_version="1.7", object_stream_mode=streams, deterministic_id=True)
        folded = max(side.sheet for side in order) + 1
        return Imposed(target.getvalue(), sheet, len(order) // 2, len(source.pages), -len(source.pages) % 4, folded)


def _ends_with_cover(source: Any) -> bool:
    """Whether the last page is a back cover: a bookmark of the first level leads to it alone, as to the cover."""
    with source.open_outline() as outline:
        entries = list(outline.root)
    last = entries[-1].destination if entries else None
    page = last[0] if isinstance(last, pikepdf.Array) and len(last) else None
    return page is not None and page == source.pages[-1].obj


class _Setter:
    """Sets pages on sheets; all measures are in points."""

    def __init__(self, source: Any, out: Any, page: Size, sheet: str, folding: Folding) -> None:
        self.source, self.out, self.page, self.folding = source, out, page, folding
        self.width, self.height = (side * POINTS for side in SHEETS[sheet])
        self.fold = self.width / 2
        self.foot = (self.height - page[1]) / 2
        spread = (self.fold - page[0], self.foot, self.fold + page[0], self.foot + page[1])
        self.spread = _meet(spread, (0, 0, self.width, self.height))

    def add(self, side: Side) -> None:
        """Add one side of a sheet."""
        drawings = pikepdf.Dictionary()
        lines: list[str] = []
        by = shift(side.sheet, self.folding.creep * POINTS)
        for number, right in ((side.left, False), (side.right, True)):
            if number is not None:
                lines += self.placed(self.source.pages[number], right, by, drawings)
        # The back of a sheet is its inner side.
        if self.folding.fold and side.back:
            lines += self.fold_marks()
        lines += self.crop_marks()
        self.out.add_blank_page(page_size=(self.width, self.height))
        made = self.out.pages[-1]
        # Where the sheet is cut once it is folded: both pages together.
        made.trimbox = [round(edge, 3) for edge in self.spread]
        made.Resources = pikepdf.Dictionary(XObject=drawings)
        made.Contents = self.out.make_stream("\n".join(lines).encode("ascii"))

    def placed(self, page: Any, right: bool, by: float, drawings: Any) -> Iterator[str]:
        """A page on its half of the sheet, moved towards the fold, and all that was filled in on it."""
        x0, y0, x1, _ = (float(edge) for edge in page.trimbox)
        x = self.fold - x0 - by if right else self.fold - x1 + by
        # Cut at the fold, or the bleed of one page would lie on the other.
        yield f"q {self.fold if right else 0:.3f} 0 {self.fold:.3f} {self.height:.3f} re W n"
        yield f"1 0 0 1 {x:.3f} {self.foot - y0:.3f} cm {self.named(self.whole(page), drawings)} Do"
        for look in () if self.folding.blank else looks(page):
            placing = " ".join(f"{number:.5g}" if i < 4 else f"{number:.3f}" for i, number in enumerate(look.placing))
            yield f"q {placing} cm {self.named(self.out.copy_foreign(look.drawing), drawings)} Do Q"
        yield "Q"

    def whole(self, page: Any) -> Any:
        """The page as one drawing, with its bleed."""
        drawing = page.as_form_xobject()
        drawing.Resources = page.resources  # the same object for all pages, where the call above made copies
        # No further than the bleed: around it the page may have marks for a cutter, which are wrong on a sheet.
        drawing.BBox = pikepdf.Array(_meet(page.obj.get("/BleedBox", page.trimbox), page.mediabox))
        return self.out.copy_foreign(drawing)

    def named(self, drawing: Any, drawings: Any) -> str:
        name = f"/D{len(drawings) + 1}"
        drawings[name] = drawing
        return name

    def fold_marks(self) -> Iterator[str]:
        """Ticks at both ends of the fold, on the inner side, where they vanish once the booklet is closed."""
        foot, head = self.spread[1], self.spread[3]
        yield from _hairline((self.fold, foot), (self.fold, foot + MARK))
        yield from _hairline((self.fold, head - MARK), (self.fold, head))

    def crop_marks(self) -> Iterator[str]:
        """Marks at the corners of the spread, on each side of the sheet that leaves room for them."""
        left, foot, right, head = self.spread
        if left >= MARK_OFF + MARK:
            for y in (foot, head):
                yield from _hairline((left - MARK_OFF - MARK, y), (left - MARK_OFF, y))
                yield from _hairline((right + MARK_OFF, y), (right + MARK_OFF + MARK, y))
        if foot >= MARK_OFF + MARK:
            for x in (left, right):
                yield from _hairline((x, foot - MARK_OFF - MARK), (x, foot - MARK_OFF))
                yield from _hairline((x, head + MARK_OFF), (x, head + MARK_OFF + MARK))


def _hairline(start: Size, end: Size) -> Iterator[str]:
    yield f"q 0 G {HAIRLINE} w {start[0]:.3f} {start[1]:.3f} m {end[0]:.3f} {end[1]:.3f} l S Q"


def _meet(one: Iterable[Any], other: Iterable[Any]) -> Box:
    """The part that two boxes share."""
    (a, b, c, d), (e, f, g, h) = map(float, one), map(float, other)
    return max(a, e), max(b, f), min(c, g), min(d, h)


def _describe(source: Any, out: Any) -> None:
    """Title, author and language of the booklet, and what a print dialogue should choose by itself."""
    for key in ("/Title", "/Author"):
        if key in source.docinfo:
            out.docinfo[key] = str(source.docinfo[key])
    out.docinfo["/Producer"] = "Loadleaf"
    if "/Lang" in source.Root:
        out.Root.Lang = str(source.Root.Lang)
    out.Root.ViewerPreferences = pikepdf.Dictionary(
        Duplex=pikepdf.Name.DuplexFlipShortEdge,
        PrintScaling=pikepdf.Name("/None"),
        PickTrayByPDFSize=True,
    )


def _raise_any(problems: Sequence[Problem]) -> None:
    if problems:
        raise PressError(problems)
