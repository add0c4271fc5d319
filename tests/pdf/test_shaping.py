"""Text that is shaped once looks as if it were shaped each time."""

from __future__ import annotations

import inspect
import re

import pytest
from weasyprint import HTML
from weasyprint.layout import inline, preferred
from weasyprint.text import fonts, line_break

from builder.pdf.fast import shaping

LONG = "<p>Squat, bench press and deadlift are the three lifts of the contest.</p>"
STYLES = ["", "letter-spacing: 2px", "hyphens: auto; width: 3em", "text-align: justify; width: 9em", "font-size: 9px"]


def lines(html: str) -> list[tuple[object, ...]]:
    """Place, size and words of each piece of text."""
    pages = HTML(string=f"<html lang=en><body>{html}").render().pages
    boxes = [box for page in pages for box in page._page_box.descendants() if hasattr(box, "text")]
    return [(b.text, b.position_x, b.position_y, b.width, b.height, b.baseline, b.pango_layout.text) for b in boxes]


def test_lines_break_and_stand_as_they_did() -> None:
    html = "".join(f'<div style="{style}">{LONG}{LONG}</div>' for style in STYLES)
    html += "<table><tr><td>a b<td>a b<td style='white-space:pre-line'>a\nb<td style='white-space:nowrap'>a b</table>"
    expected = lines(html)
    with shaping.shaped_once():
        assert lines(html) == expected


def test_equal_text_is_shaped_once(monkeypatch: pytest.MonkeyPatch) -> None:
    usual, shaped = line_break.split_first_line, []
    monkeypatch.setattr(
        line_break, "split_first_line", lambda text, *a, **k: shaped.append(text) or usual(text, *a, **k)
    )
    with shaping.shaped_once():
        lines("<p>87.5</p>" * 20)
    assert shaped == ["87.5"]


def test_each_piece_of_text_has_a_layout_of_its_own() -> None:
    with shaping.shaped_once():
        document = HTML(string="<p>87.5</p><p>87.5</p>").render()
    layouts = [b.pango_layout for b in document.pages[0]._page_box.descendants() if hasattr(b, "text")]
    assert len(layouts) == 2
    assert layouts[0] is not layouts[1]


def test_every_property_that_shaping_reads_tells_types_apart() -> None:
    """Fails when the typesetter begins to read one that `READ` lacks."""
    read = set()
    for part in (line_break, fonts.get_font_description):
        read |= set(re.findall(r"style\['(\w+)'\]", inspect.getsource(part)))
    assert len(read) > 20
    assert read <= set(shaping.READ)


def test_the_typesetter_gets_its_functions_back() -> None:
    before = (line_break.get_font_description, line_break.font_features, inline.split_first_line, inline.strut)
    with shaping.shaped_once():
        assert inline.split_first_line is not before[2]
    after = (line_break.get_font_description, line_break.font_features, inline.split_first_line, inline.strut)
    assert after == before
    assert preferred.split_first_line is before[2] is line_break.split_first_line
