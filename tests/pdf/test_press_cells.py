"""Fields lie on their printed cells, as an independent library measures both."""

import io
from typing import Any

import pdfplumber
import pikepdf
import pytest

from builder.pdf import Pressed

from . import sample

Rect = tuple[float, float, float, float]


def field_rects(pdf_bytes: bytes) -> list[dict[str, Rect]]:
    """For each page the rectangles of its fields: left, bottom, right, top."""
    with pikepdf.open(io.BytesIO(pdf_bytes)) as pdf:
        return [
            {
                str(w.T): tuple(float(v) for v in w.Rect)  # type: ignore[misc]
                for w in page.get("/Annots", [])
                if w.Subtype == "/Widget"
            }
            for page in pdf.pages
        ]


def painted(page: Any) -> list[Rect]:
    """The filled rectangles of a page: the grey ground of each marked cell."""
    return [(r["x0"], page.height - r["bottom"], r["x1"], page.height - r["top"]) for r in page.rects]


def near(a: Rect, b: Rect) -> bool:
    return all(abs(x - y) < 0.02 for x, y in zip(a, b, strict=True))


@pytest.fixture(scope="module")
def pages(full: Pressed) -> Any:
    with pdfplumber.open(io.BytesIO(full.pdf)) as pdf:
        yield pdf.pages


def test_each_single_field_equals_a_painted_cell(full: Pressed, pages: Any) -> None:
    rects = field_rects(full.pdf)
    singles = {sample.NOTE, sample.WEIGHT, sample.SLEEP, sample.PLACE} | {
        sample.set_name(r, "done") for r in sample.ROWS
    }
    seen = set()
    for fields, page in zip(rects, pages, strict=True):
        for name in singles & fields.keys():
            assert sum(near(fields[name], cell) for cell in painted(page)) == 1, name
            seen.add(name)
    assert seen == singles


def test_shared_cells_are_divided_by_the_given_fractions(full: Pressed, pages: Any) -> None:
    fields = field_rects(full.pdf)[0]
    for row in sample.ROWS:
        parts = [fields[sample.set_name(row, part)] for part in sample.PARTS]
        x0, y0, x1, y1 = parts[0][0], parts[0][1], parts[-1][2], parts[0][3]
        assert sum(near((x0, y0, x1, y1), cell) for cell in painted(pages[0])) == 1
        for rect, (start, end) in zip(parts, sample.SHARES, strict=True):
            wanted = (x0 + start * (x1 - x0), y0, x0 + end * (x1 - x0), y1)
            assert near(rect, wanted)


def test_printed_words_of_a_ticked_cell_lie_within_its_field(full: Pressed, pages: Any) -> None:
    fields = field_rects(full.pdf)[0]
    words = [w for w in pages[0].extract_words() if w["text"] == "planned"]
    assert len(words) == len(sample.ROWS)
    for row, word in zip(sample.ROWS, words, strict=True):
        x0, y0, x1, y1 = fields[sample.set_name(row, "done")]
        assert x0 < word["x0"] < word["x1"] < x1
        assert y0 < pages[0].height - word["bottom"] < pages[0].height - word["top"] < y1


def test_fields_follow_the_page_when_it_has_a_bleed() -> None:
    """With a bleed the page's origin stays at the trimmed corner, and fields stay on their cells."""
    from builder.pdf import press

    css = sample.CSS + "@page { bleed: 3mm; marks: crop }"
    bled = press(sample.page_html(), [css], roots=[sample.HERE], fields=sample.specs(filled=False), meta=sample.META)
    plain = sample.pressed(filled=False)
    assert field_rects(bled.pdf) == field_rects(plain.pdf)
