"""Words that are drawn once stand in the file as if they were drawn each time."""

from __future__ import annotations

import pytest
from weasyprint import HTML, draw
from weasyprint.draw import text

from builder.pdf.fast import shaping

STYLES = [
    "", "font-size: 9px", "font-size: 31px", "font-weight: bold", "color: red", "letter-spacing: 2px",
    "text-align: justify; width: 9em", "hyphens: auto; width: 4em", "text-decoration: underline",
    "visibility: hidden", "white-space: pre", "overflow: hidden; text-overflow: ellipsis; width: 3em",
    "font-feature-settings: 'tnum'", "font-size: 13px; font-style: italic",
]  # fmt: skip
WORDS = "AVATAR affinity 87.5 × 5, To\N{NO-BREAK SPACE}Te and  more of it"


def written(html: str) -> bytes:
    document = HTML(string=f"<html lang=en><title>t</title><body>{html}").render(pdf_variant="pdf/a-3a")
    data: bytes = document.write_pdf(uncompressed_pdf=True, pdf_variant="pdf/a-3a", pdf_identifier=b"x")
    return data


def pages() -> list[str]:
    """Documents that begin with other sizes, so that widths are first known from other texts."""
    told = [f'<p style="{style}">{WORDS}</p>' for style in STYLES]
    return ["".join(told * 2), "".join(reversed(told)), "".join(told[3:] + told[:3])]


def test_the_operators_are_those_of_the_typesetter_in_every_document_of_a_run() -> None:
    expected = [written(html) for html in pages()]
    with shaping.shaped_once():
        assert [written(html) for html in (*pages(), *pages())] == [*expected, *expected]


def test_equal_text_is_drawn_once(monkeypatch: pytest.MonkeyPatch) -> None:
    usual, seen = text.draw_first_line, []
    monkeypatch.setattr(text, "draw_first_line", lambda *a: seen.append(a[1].text) or usual(*a))
    with shaping.shaped_once():
        written("<p>87.5</p>" * 20)
        written("<p>87.5</p><p>90</p>")
    assert seen == ["87.5", "90"]


def test_signs_that_no_font_has_are_left_to_the_typesetter(caplog: pytest.LogCaptureFixture) -> None:
    html = "<p>\U0010fffd and \U0010fffd</p>" * 2
    expected = written(html)
    with shaping.shaped_once():
        assert written(html) == expected


def test_the_typesetter_gets_its_function_back() -> None:
    before = draw.draw_text
    with shaping.shaped_once():
        assert draw.draw_text is not before
    assert draw.draw_text is before is text.draw_text
