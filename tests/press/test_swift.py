"""The press's short cuts change nothing that is seen, and are undone afterwards."""

from __future__ import annotations

import pytest
from weasyprint import CSS, HTML
from weasyprint.html import UA
from weasyprint.layout import page as page_layout

from builder.press import swift


def test_equal_style_attributes_become_one_class_that_wins() -> None:
    html, rules = swift.shared_styles('<p style="height:8mm">a</p><p class="x" style="height:8mm" id="b">b</p>')
    assert html == '<p class="own-0">a</p><p class="own-0 x" id="b">b</p>'
    assert rules == ".own-0 { height:8mm !important;  }"


def test_text_and_drawings_keep_what_looks_like_a_style_attribute() -> None:
    html = '<p>&lt;p style=&quot;x&quot;&gt; style="y"</p><text style="fill:red">1</text>'
    assert swift.shared_styles(html) == (html, "")


def test_the_built_in_sheet_loses_the_rules_for_notes_and_nothing_else() -> None:
    trimmed = swift._NOTES.sub("", UA)
    lost = [line for line in UA.splitlines() if line not in trimmed.splitlines()]
    assert len(lost) == 5
    assert all(line.startswith(("::footnote-", "::note-")) for line in lost)
    assert "\n::marker {" in trimmed


SHEET = "@page { size: 100px 100px; margin: 20px; @top-left { content: counter(page) } } p { break-after: page }"
COUNTING = SHEET + "@page :nth(2) { size: 100px 90px }"


def laid_out(css: str, kind: type[HTML]) -> list[tuple[object, ...]]:
    """Size, boxes and words of each of three pages."""
    html = "<html lang=en><body><p id=one>one</p><p>two <a href='#one'>back</a></p><p>three</p></body></html>"
    document = kind(string=html).render(stylesheets=[CSS(string=css)])
    boxes = [list(page._page_box.descendants()) for page in document.pages]
    return [
        (
            page.width,
            page.height,
            [link[:3] for link in page.links],
            [(b.element_tag, getattr(b, "text", ""), b.position_x) for b in parts],
        )
        for page, parts in zip(document.pages, boxes, strict=True)
    ]


@pytest.mark.parametrize("css", [SHEET, COUNTING])
def test_pages_of_a_kind_share_their_styles_and_nothing_moves(css: str) -> None:
    usual = page_layout.set_page_type_computed_styles
    assert laid_out(css, swift.Page) == laid_out(css, HTML)
    assert page_layout.set_page_type_computed_styles is usual


def test_page_styles_are_computed_once_for_each_kind_of_page(monkeypatch: pytest.MonkeyPatch) -> None:
    usual, calls = page_layout.set_page_type_computed_styles, []
    monkeypatch.setattr(page_layout, "set_page_type_computed_styles", lambda *a: calls.append(a) or usual(*a))
    laid_out(SHEET, swift.Page)
    assert len(calls) == 3, "the first page, the first left page, the first other right page"
    calls.clear()
    html = "<html><body>" + "<p>x</p>" * 9
    swift.Page(string=html).render(stylesheets=[CSS(string=SHEET)])
    assert len(calls) == 3
