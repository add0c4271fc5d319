"""Whether a PDF can become a folded booklet: it opens, its pages have one size, and the sheet and creep suit it."""

from collections.abc import Sequence
from io import BytesIO
from typing import Any

import pikepdf

from builder.pdf.parts import PressError
from builder.pdf.sheets.saddle import EVERYDAY, MOST_CREEP, Side, Size, fits, fitting, shift
from builder.values.problem import Problem, listing

POINTS = 72 / 25.4
"""Points in a millimetre."""
SAME = 0.5
"""Points by which pages of one size may differ."""
NAME_ANOTHER = "Name a booklet as it was built, or as it was filled in."


def opened(booklet: bytes) -> Any:
    """The booklet as an open pikepdf.Pdf with at least one page; PressError when it is locked or no PDF."""
    try:
        source = pikepdf.open(BytesIO(booklet))
    except pikepdf.PasswordError as error:
        raise PressError([_locked()]) from error
    except pikepdf.PdfError as error:
        raise PressError([_problem("pdf-unreadable", "this is not a PDF that can be read", NAME_ANOTHER)]) from error
    # Also one that opens without a password: its sheets would have lost the lock.
    if source.is_encrypted:
        raise PressError([_locked()])
    if not len(source.pages):
        raise PressError([_problem("pdf-unreadable", "this PDF has no pages", NAME_ANOTHER)])
    return source


def page_size(pages: Any) -> Size:
    """Width and height in mm of every trimmed page; PressError when they differ or one was turned."""
    sizes = []
    for number, page in enumerate(pages, start=1):
        # Its boxes are in measures from before it was turned, so it would be placed wrongly.
        if page.rotation % 360 or page.get("/UserUnit", 1) != 1:
            fact = f"page {number} was turned or scaled after it was built"
            raise PressError([_problem("page-turned", fact, NAME_ANOTHER)])
        x0, y0, x1, y1 = (float(edge) for edge in page.trimbox)
        sizes.append((x1 - x0, y1 - y0))
    for number, size in enumerate(sizes, start=1):
        if any(abs(a - b) > SAME for a, b in zip(size, sizes[0], strict=True)):
            fact = f"page {number} is {_measured(size)}, and page 1 is {_measured(sizes[0])}"
            raise PressError([_problem("page-sizes", fact, "A booklet folds when all its pages have one size.")])
    return sizes[0][0] / POINTS, sizes[0][1] / POINTS


def sheet_for(wanted: str | None, page: Size) -> str:
    """The sheet that was asked for, or the smallest everyday one; PressError when two pages do not fit on it."""
    if wanted is not None and fits(wanted, page):
        return wanted
    everyday = fitting(page, EVERYDAY)
    if wanted is None and everyday:
        return everyday[0]
    fact = f"two pages of {page[0]:.0f} × {page[1]:.0f} mm do not fit on {wanted or listing(EVERYDAY)}"
    larger = fitting(page)
    help_ = f"Say --sheet {listing(larger)}." if larger else "Build the booklet on a smaller paper."
    raise PressError([_problem("sheet-small", fact, help_)])


def creep_problems(order: Sequence[Side], creep: float) -> tuple[Problem, ...]:
    """A problem when `creep`, in mm per sheet, moves the innermost pages too far."""
    most = shift(max(side.sheet for side in order), creep)
    if most <= MOST_CREEP:
        return ()
    fact = f"with this creep the innermost pages would move by {most:.1f} mm, into the fold"
    help_ = f"Give the thickness of one leaf, about 0.1 mm; over all sheets it may come to {MOST_CREEP:.0f} mm."
    return (_problem("creep-large", fact, help_),)


def _locked() -> Problem:
    fact = "the booklet is locked with a password, and its sheets would not be"
    return _problem("pdf-locked", fact, "Impose the booklet before it is locked.")


def _measured(size: Size) -> str:
    return f"{size[0] / POINTS:.1f} × {size[1] / POINTS:.1f} mm"


def _problem(code: str, fact: str, help_: str) -> Problem:
    return Problem(code, None, fact, help_)
