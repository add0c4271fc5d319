"""The press's short cuts change nothing that is seen, and are undone afterwards."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from pages.sample_pages import context
from weasyprint import CSS, HTML, tinyhtml5
from weasyprint.css.properties import INHERITED
from weasyprint.formatting_structure.boxes import BlockBox, InlineBox
from weasyprint.html import UA
from weasyprint.layout import page as page_layout

from builder.pages.make import make_booklet
from builder.pages.model import Paper
from builder.pdf.fast import swift
from builder.pdf.fast.matched import SIZES
from builder.pdf.html import render


def test_equal_style_attributes_become_one_class_that_wins() -> None:
    classes: dict[str, str] = {}
    html = swift.shared_styles('<p style="height:8mm">a</p><p class="x" style="height:8mm" id="b">b</p>', classes)
    assert html == '<p class="own-0">a</p><p class="own-0 x" id="b">b</p>'
    assert swift.class_rules(classes) == ".own-0 { height:8mm !important;  }"
    swift.shared_styles('<p style="width:1mm">a</p>', classes)
    assert swift.class_rules(classes, 1) == ".own-1 { width:1mm !important;  }"


def test_text_and_drawings_keep_what_looks_like_a_style_attribute() -> None:
    html = '<p>&lt;p style=&quot;x&quot;&gt; style="y"</p><text style="fill:red">1</text>'
    classes: dict[str, str] = {}
    assert swift.shared_styles(html, classes) == html and not classes


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


def test_elements_below_two_ids_share_their_styles_and_each_keeps_its_anchor() -> None:
    html = "<section id='a'><p>x</p></section><section id='b'><p>y</p><a href='#a'>z</a></section>"
    usual, ours = HTML(string=html).render().pages[0], swift.Page(string=html).render().pages[0]
    assert ours.anchors == usual.anchors
    assert set(ours.anchors) == {"a", "b"}
    assert [link[:3] for link in ours.links] == [link[:3] for link in usual.links]
    one, other = (b.style for b in ours._page_box.descendants() if isinstance(b, BlockBox) and b.element_tag == "p")
    assert one is other


def test_what_is_below_elements_of_different_sizes_shares_its_style_unless_it_takes_a_size_over() -> None:
    html = "".join(
        f"<div style='height:{n}px;margin-bottom:{n}px'><p>x<b>y</b></p><u style='height:inherit'></u></div>"
        for n in (30, 40)
    )
    usual, ours = (
        [b for b in page._page_box.descendants() if type(b) in (BlockBox, InlineBox) and b.element_tag in "divpbu"]
        for page in (kind(string=html).render().pages[0] for kind in (HTML, swift.Page))
    )
    assert [(b.position_y, b.height) for b in ours] == [(b.position_y, b.height) for b in usual]
    by_tag = {tag: {id(b.style) for b in ours if b.element_tag == tag} for tag in "pbu"}
    assert {tag: len(styles) for tag, styles in by_tag.items()} == {"p": 1, "b": 1, "u": 2}
    assert SIZES.isdisjoint(INHERITED)


def test_an_id_given_twice_is_still_told(caplog: pytest.LogCaptureFixture) -> None:
    swift.Page(string="<p id='a'>x</p><p id='a'>y</p>").render()
    assert "Anchor defined twice: 'a'" in caplog.text


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


def flat(tree: ElementTree.Element) -> list[tuple[object, ...]]:
    """Every element with what styles and pages take from it; the parsers differ in blanks around head and body."""
    outside = ("html", "head", "body")
    return [
        (
            element.tag,
            {key: value for key, value in element.attrib.items() if "xmlns" not in key},
            "" if element.tag in outside else element.text or "",
            "" if element.tag in (*outside, "section") else element.tail or "",
        )
        for element in tree.iter()
    ]


@pytest.mark.parametrize(("sample", "paper"), [("advanced", Paper.A5), ("novice", Paper.LETTER)])
def test_a_booklet_is_the_same_tree_for_the_xml_parser(sample: str, paper: Paper) -> None:
    html = render(make_booklet(context(sample, paper)))
    assert flat(ElementTree.fromstring(html)) == flat(tinyhtml5.parse(html, namespace_html_elements=False))


@pytest.mark.parametrize(
    "html", ["<p>a<br>b&nbsp;c", "<p>a</p>", "<html><svg/></html>", "<html><table><tr><td>a</td></tr></table></html>"]
)
def test_a_page_that_needs_an_html_parser_gets_one(html: str) -> None:
    expected = [element.tag for element in HTML(string=html).etree_element.iter()]
    assert [element.tag for element in swift.Page(string=html).etree_element.iter()] == expected
