"""Running text stands on one grid of half lines, the same on every page, so that lines of facing pages meet."""

from __future__ import annotations

import pytest
from pages.layout import Book
from pages.leaves import HEADINGS, MM
from pages.pressed import printed

LINE = {"A5": 4.2, "A4": 4.6}
"""mm from one line of running text to the next, in the design of a paper; 4.6 where pages are magnified."""
NEAR = 0.3
"""Points by which a baseline may miss the grid."""
TEXTS = ("flow", "licence", "after", "numbers", "guide", "drills", "effort")
"""Templates of running text, and of text between tables and figures, which take whole half lines. On large paper a
licence has columns above its form, which end where they are even; magnified, the parts of a lift on the guide, and the
table of effort, have the measures of their design.
"""

CASES = (
    ("advanced", "A5", "default", "en"), ("novice", "A5", "large-print", "en"), ("intermediate", "A4", "default", "en"),
    ("novice", "A4", "default", "en"), ("advanced", "A4", "default", "en"),
)  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("case", CASES, ids="-".join)
def test_lines_of_running_text_stand_on_the_grid(case: tuple[str, ...]) -> None:
    one = printed(*case)
    book = Book(one.booklet, one.pressed, one.leaves)
    zoom = one.booklet.zoom
    half = (LINE[case[1]] if zoom == 1 else 4.6 * zoom) * MM / 2
    texts = TEXTS if case[1] == "A5" else tuple(text for text in TEXTS if text != "licence")
    # Magnified, the lines of the contents, and of the calendar, stand closer, so that they keep to their page.
    texts = (*texts, "contents", "glance", "records", "loads") if zoom == 1 else TEXTS[:3]
    # Magnified, the first text begins below the charts, which stand on no grid.
    below = {page for page in book.starts if zoom > 1 and page > 1 and book.on(page - 1)[-1].template == "glance"}
    lines = {
        (leaf.number, run.text): (leaf.height - run.glyphs[0].base) % half
        for leaf in book.leaves.pages
        if leaf.number not in below and any(section.template in texts for section in book.on(leaf.number))
        for run in leaf.runs
        if run.within("P", "LI") and not run.within("Table", "Figure", *HEADINGS)
    }
    assert len(lines) > 60
    first = sorted(lines.values())[len(lines) // 2]
    off = {line: at for line, at in lines.items() if abs((at - first + half / 2) % half - half / 2) > NEAR * zoom}
    assert {line: at for line, at in off.items() if not _caption(book, line)} == {}


def _caption(book: Book, line: tuple[int, str]) -> bool:
    """Whether it is a caption, which is smaller than running text."""
    number, text = line
    return any(run.text == text and run.size < 8.6 * book.booklet.zoom for run in book.leaves.pages[number - 1].runs)
