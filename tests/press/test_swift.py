"""The press's short cuts change nothing that is seen, and are undone afterwards."""

from __future__ import annotations

import zlib

import pydyf
from weasyprint.html import UA

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


def test_page_references_follow_the_pages_and_are_given_back() -> None:
    usual, pdf = pydyf.PDF.page_references, pydyf.PDF()
    with swift.kept_page_references():
        assert pdf.page_references == ()
        pdf.add_page(pydyf.Dictionary({"Type": "/Page"}))
        assert pdf.page_references == usual.fget(pdf) != ()
    assert pydyf.PDF.page_references is usual


def test_a_stream_is_compressed_once_and_holds_the_same() -> None:
    pdf, stream = pydyf.PDF(), pydyf.Stream([b"0 0 m", b"1 1 l"], compress=True)
    pdf.add_object(stream)
    expected = stream.data
    swift.compress_once(pdf)
    assert zlib.decompress(stream.stream[0]) == b"0 0 m\n1 1 l"
    assert (stream.data, stream.compress) == (expected, False)
