"""What the press saves in writing a file changes nothing in it, and is undone afterwards."""

from __future__ import annotations

import io
import zlib

import pydyf
import pytest
from weasyprint import HTML
from weasyprint.document import Page
from weasyprint.images import SVGImage

from builder.pdf.fast import lean
from builder.pdf.fast.patches import MissingPart, replaced

CHANGED = (pydyf.PDF, pydyf.Object, pydyf.Stream, Page, SVGImage)
HTML_TEXT = (
    "<html lang=en><title>t</title><body><p>one</p><p style='break-before:page'>two</p><h1>three</h1></body></html>"
)


def test_what_was_replaced_is_given_back_even_after_an_error() -> None:
    class Owner:
        known = 1

    def fail() -> None:
        with replaced(Owner, {"known": 2}, {"new": 3}):
            raise ZeroDivisionError(vars(Owner)["known"] + vars(Owner)["new"])

    with pytest.raises(ZeroDivisionError, match="5"):
        fail()
    assert Owner.known == 1
    assert not hasattr(Owner, "new")


def test_what_is_not_there_cannot_be_replaced() -> None:
    with pytest.raises(MissingPart, match="document has no paint_all"), replaced(Page, {"paint_all": None}):
        pass


def test_a_document_written_the_lean_way_has_the_same_bytes_but_for_the_compression(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(lean, "LEVEL", 9)
    document = HTML(string=HTML_TEXT).render(pdf_variant="pdf/a-3a")
    usual = document.write_pdf(pdf_variant="pdf/a-3a", pdf_identifier=b"x")
    with lean.writing():
        written = document.write_pdf(
            pdf_variant="pdf/a-3a", pdf_identifier=b"x", finisher=lambda _, pdf: lean.settle(pdf)
        )
    assert written == usual


def test_a_picture_is_drawn_once_in_each_size_and_looks_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    shape = (
        "%3Csvg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'%3E%3Cpath d='M0 0H9' stroke='red'/%3E%3C/svg%3E"
    )
    paint = "<p style='background: url(&quot;data:image/svg+xml,{}&quot;) 0 0 / {}px {}px no-repeat'>x</p>"
    shape = shape.replace("'", "%27")
    html = "<html lang=en><title>t</title><body>" + "".join(paint.format(shape, n, n) for n in (9, 9, 9, 8))
    document, usual, drawn = HTML(string=html).render(), SVGImage.draw, []
    expected = document.write_pdf(uncompressed_pdf=True)
    monkeypatch.setattr(SVGImage, "draw", lambda *a: drawn.append(a[2]) or usual(*a))
    with lean.writing():
        assert document.write_pdf(uncompressed_pdf=True) == expected
    assert [round(size) for size in drawn] == [9, 8]


def test_the_typesetter_is_given_back_as_it_was() -> None:
    before = [vars(owner).copy() for owner in CHANGED]
    with lean.writing():
        assert pydyf.Dictionary().__dict__ == {}
    assert [vars(owner) for owner in CHANGED] == before


def test_page_references_follow_the_pages() -> None:
    pdf = pydyf.PDF()
    with lean.writing():
        assert pdf.page_references == ()
        pdf.add_page(pydyf.Dictionary({"Type": "/Page"}))
        kept = pdf.page_references
    assert kept == pdf.page_references != ()


def test_settled_objects_hold_their_bytes_and_streams_are_compressed_once() -> None:
    pdf, stream = pydyf.PDF(), pydyf.Stream([b"0 0 m", b"1 1 l"], compress=True)
    pdf.add_object(stream)
    catalog = (pdf.catalog.number, pdf.catalog.data)
    lean.settle(pdf)
    assert zlib.decompress(stream.stream[0]) == b"0 0 m\n1 1 l"
    assert not stream.compress
    assert (pdf.objects[2].number, pdf.objects[2].data) == catalog
    pdf.write(io.BytesIO(), compress=True)
