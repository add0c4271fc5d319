"""The edition for a print shop: boxes and crop marks where a cutter wants them, and no tint that ends at the cut."""

from __future__ import annotations

import io
from collections.abc import Iterator
from datetime import date
from typing import Any

import pikepdf
import pypdfium2 as pdfium
import pytest
from short import shortened

from builder import places
from builder.pages.model import Edition, Paper
from builder.pdf import Pressed, press
from builder.values.lists import Keep
from builder.work.publish import Choices, publish

from . import sample

MM = 72 / 25.4
DOTS = 4
"""Dots in a millimetre of the pictures."""
BOXES = {"/MediaBox": 9, "/BleedBox": 3, "/TrimBox": 0}
"""How far each box lies outside the cut, in mm. 3 mm of bleed is common practice, no source."""


def _edition(paper: Paper) -> Pressed:
    loaded = shortened("intermediate")
    choices = Choices(date(2027, 1, 4), paper, None, Edition.PERSONAL, fillable=False, bleed=True, keep=Keep.ALL)
    done = publish(loaded, choices)
    assert done.pressed is not None, done.problems
    return done.pressed


def _small(css: str, body: str) -> bytes:
    """One A5 page for a print shop."""
    own = '@page { size: 148mm 210mm; margin: 10mm; } body { font-family: "Source Sans 3"; }'
    bleed = (places.styles() / "bleed.css").read_text(encoding="utf-8")
    html = f"<html><body>{body}</body></html>"
    return press(html, [own, css, bleed], roots=[sample.HERE], fields={}, meta=sample.META, fillable=False).pdf


def _pictures(pdf: bytes) -> Iterator[Any]:
    """Each page in colour, from 9 mm outside the cut."""
    with pdfium.PdfDocument(pdf) as document:
        for page in document:
            yield page.render(scale=DOTS / MM).to_pil().convert("RGB")


def _edges(picture: Any, inside: float, outside: float) -> Iterator[tuple[Any, Any]]:
    """Along all four cuts, each dot `inside` mm within the page with the one `outside` mm past the cut."""
    width, height = picture.size
    cut, within, past = 9 * DOTS, round(inside * DOTS), round(outside * DOTS)
    for x in range(cut + within, width - cut - within):
        yield picture.getpixel((x, cut + within)), picture.getpixel((x, cut - past))
        yield picture.getpixel((x, height - cut - within - 1)), picture.getpixel((x, height - cut + past - 1))
    for y in range(cut + within, height - cut - within):
        yield picture.getpixel((cut + within, y)), picture.getpixel((cut - past, y))
        yield picture.getpixel((width - cut - within - 1, y)), picture.getpixel((width - cut + past - 1, y))


def _tinted(shade: tuple[int, int, int]) -> bool:
    return min(shade) < 250


def _lost(picture: Any) -> int:
    """Dots along the cut that are tinted within the page and white 2.5 mm outside it."""
    return sum(_tinted(within) and not _tinted(past) for within, past in _edges(picture, 0.5, 2.5))


def _kept(picture: Any) -> int:
    return sum(_tinted(within) and _tinted(past) for within, past in _edges(picture, 0.5, 2.5))


@pytest.mark.slow
@pytest.mark.parametrize("paper", [Paper.A5, Paper.LETTER])
def test_the_edition_has_its_boxes_no_fields_and_no_tint_that_ends_at_the_cut(paper: Paper) -> None:
    made = _edition(paper)
    assert made.field_count == 0
    width, height = paper.millimetres
    with pikepdf.open(io.BytesIO(made.pdf)) as pdf:
        assert "/AcroForm" not in pdf.Root
        for page in pdf.pages:
            for name, more in BOXES.items():
                box = [float(edge) / MM for edge in page.obj[name]]
                assert box == pytest.approx([-more, -more, width + more, height + more], abs=0.01), name
    pictures = list(_pictures(made.pdf))
    assert [number for number, picture in enumerate(pictures, 1) if _lost(picture)] == []
    # The strips of deload weeks and of the test are the tints that reach the edge.
    assert any(_kept(picture) > 100 * DOTS for picture in pictures)


BAR = '<div style="position: absolute; left: -10mm; right: -10mm; top: 40mm; height: 30mm; background: #888"></div>'
RUNNING = BAR.replace("-10mm", "calc(-10mm - var(--bleed, 0mm))")


def test_a_bar_that_ends_at_the_cut_is_seen_by_the_search_and_one_that_runs_past_it_is_not() -> None:
    (stopped,) = _pictures(_small("", BAR))
    (running,) = _pictures(_small("", RUNNING))
    assert _lost(stopped) >= 2 * 29 * DOTS
    assert _lost(running) == 0
    assert _kept(running) >= 2 * 29 * DOTS


def test_tints_end_with_the_bleed_and_leave_the_marks_clear() -> None:
    (picture,) = _pictures(_small("", RUNNING))
    assert not any(_tinted(past) for _, past in _edges(picture, 0.5, 3.5))


def test_crop_marks_stand_at_the_corners_outside_the_bleed() -> None:
    """Along the cut of a blank page: ink from 9 to 4.5 mm outside it at each corner, none nearer."""
    (picture,) = _pictures(_small("", ""))
    width, height = picture.size
    cut = 9 * DOTS
    for x in (cut, width - cut):
        for y in (2 * DOTS, height - 2 * DOTS):
            assert _dark(picture, x, y)
        for y in (6 * DOTS, height - 6 * DOTS):
            assert not _dark(picture, x, y)
    for y in (cut, height - cut):
        for x in (2 * DOTS, width - 2 * DOTS):
            assert _dark(picture, x, y)


def _dark(picture: Any, x: int, y: int) -> bool:
    """Whether there is ink within two dots of a place."""
    return any(min(picture.getpixel((x + i, y + j))) < 200 for i in range(-2, 3) for j in range(-2, 3))


def test_a_booklet_for_the_screen_has_no_bleed() -> None:
    with pikepdf.open(io.BytesIO(sample.pressed(filled=False).pdf)) as pdf:
        for page in pdf.pages:
            assert list(page.mediabox) == list(page.trimbox)


def _operators(pdf: bytes) -> set[str]:
    """The operators that set a colour on the page and in its groups, with whether red, green and blue are equal."""
    found = set()
    with pikepdf.open(io.BytesIO(pdf)) as document:
        for thing in (*document.pages, *(o for o in document.objects if isinstance(o, pikepdf.Stream))):
            if isinstance(thing, pikepdf.Stream) and thing.get("/Subtype") != "/Form":
                continue
            for step in pikepdf.parse_content_stream(thing):
                if str(step.operator) in ("rg", "RG", "g", "G"):
                    same = len({float(one) for one in step.operands}) == 1
                    found.add(f"{step.operator} {'grey' if same else 'colour'}")
    return found


def test_greys_and_black_are_one_ink_for_a_print_shop_and_colours_stay() -> None:
    """DeviceGray is set by g and G, DeviceRGB by rg and RG: ISO 32000-1, table 74."""
    body = '<p style="color: #161616; border: 1mm solid #888">a</p><p style="color: #1d5b52">b</p>'
    css = '@page { size: 148mm 210mm; } body { font-family: "Source Sans 3"; }'
    made = {
        one_ink: press(
            f"<html><body>{body}</body></html>", [css], roots=[sample.HERE], fields={}, meta=sample.META,
            one_ink=one_ink,
        ).pdf
        for one_ink in (False, True)
    }  # fmt: skip
    assert _operators(made[False]) >= {"rg grey", "rg colour"}
    assert {"g grey", "rg colour"} <= _operators(made[True])
    assert not _operators(made[True]) & {"rg grey", "RG grey"}
