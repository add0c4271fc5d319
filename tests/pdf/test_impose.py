"""Print sheets hold the pages at full size where folding wants them, with all that was filled in."""

from __future__ import annotations

import io
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pdfplumber
import pikepdf
import pypdfium2 as pdfium
import pytest
from pypdf import PdfWriter

from builder.pdf import Pressed, PressError
from builder.pdf.sheets.impose import Folding, impose

from . import sample
from .flat_pages import A4, A5, AT, HALF_LETTER, MM, numbered, saved
from .test_press_viewers import fill_with_pdfium

Place = tuple[int, float, float]


def places(pdf: bytes) -> dict[str, Place]:
    """For each word "p…": the side it stands on, and its left lower corner in points from that of the sheet."""
    with pdfplumber.open(io.BytesIO(pdf)) as sheets:
        return {
            word["text"]: (number, word["x0"], sheet.height - word["bottom"])
            for number, sheet in enumerate(sheets.pages)
            for word in sheet.extract_words()
            if word["text"].startswith("p")
        }


def refusal(booklet: bytes, folding: Folding | None = None) -> Any:
    with pytest.raises(PressError) as caught:
        impose(booklet, folding or Folding())
    (problem,) = caught.value.problems
    return problem


# Where pages stand


def test_the_pages_of_eight_stand_on_their_sides_and_halves() -> None:
    """Front 8 1, back 2 7, front 6 3, back 4 5, as folded by hand; right pages start at the fold."""
    found = places(impose(saved(numbered(8)), Folding()).pdf)
    left, right = 148.5 * MM - 148 * MM + AT[0], 148.5 * MM + AT[0]
    expected = {1: (0, right), 8: (0, left), 2: (1, left), 7: (1, right)}
    expected |= {6: (2, left), 3: (2, right), 4: (3, left), 5: (3, right)}
    assert {int(word[1:]): (side, round(x, 1)) for word, (side, x, _) in found.items()} == {
        number: (side, round(x, 1)) for number, (side, x) in expected.items()
    }


def test_all_98_pages_are_there_once_and_two_places_stay_blank() -> None:
    made = impose(saved(numbered(98)), Folding())
    assert (made.sheets, made.pages, made.blanks) == (25, 98, 2)
    assert set(places(made.pdf)) == {f"p{number}" for number in range(1, 99)}
    assert len(pikepdf.open(io.BytesIO(made.pdf)).pages) == 50


def test_creep_moves_the_pages_of_inner_sheets_to_the_fold_and_not_up_or_down() -> None:
    """The outermost sheet stays; the third moves by two leaves: right pages to the left, left pages to the right."""
    booklet = saved(numbered(12))
    still, moved = (places(impose(booklet, Folding(creep=creep)).pdf) for creep in (0.0, 0.5))
    for word, (side, x, y) in still.items():
        leaves = side // 2
        towards = 1 if x < 148.5 * MM else -1
        assert moved[word][0] == side
        assert moved[word][1] - x == pytest.approx(towards * leaves * 0.5 * MM, abs=0.01), word
        assert moved[word][2] == pytest.approx(y, abs=0.01)


def test_a_page_whose_corner_is_not_at_zero_stands_where_the_others_do() -> None:
    plain, moved = (places(impose(saved(numbered(4, origin=o)), Folding()).pdf) for o in ((0, 0), (-25.5, 40)))
    for word, place in plain.items():
        assert list(moved[word]) == pytest.approx(place, abs=0.01)


# Sheets


@pytest.mark.parametrize(
    ("page", "asked", "sheet", "size"),
    [
        (A5, None, "A4", (297, 210)),
        (HALF_LETTER, None, "Letter", (279.4, 215.9)),
        (A4, "A3", "A3", (420, 297)),
        ((215.9, 279.4), "Tabloid", "Tabloid", (431.8, 279.4)),
        (A5, "SRA4", "SRA4", (320, 225)),
    ],
)
def test_the_sheets_have_the_size_of_their_paper(
    page: tuple[float, float], asked: str | None, sheet: str, size: tuple[float, float]
) -> None:
    made = impose(saved(numbered(4, page)), Folding(asked))
    assert made.sheet == sheet
    for side in pikepdf.open(io.BytesIO(made.pdf)).pages:
        assert [float(edge) / MM for edge in side.mediabox] == pytest.approx([0, 0, *size], abs=0.01)


def _lines(pdf: bytes) -> list[list[tuple[float, ...]]]:
    """The straight lines of each side, in mm from the lower left corner."""
    with pdfplumber.open(io.BytesIO(pdf)) as sheets:
        return [
            [tuple(round(line[k] / MM, 1) for k in ("x0", "y0", "x1", "y1")) for line in sheet.lines]
            for sheet in sheets.pages
        ]


def test_a_larger_sheet_has_crop_marks_at_the_corners_of_both_pages_and_says_where_to_trim() -> None:
    """A3 is 420 × 297 mm: the spread of two A5 pages runs from 62 to 358 mm and from 43.5 to 253.5 mm."""
    made = impose(saved(numbered(4)), Folding("A3"))
    with pikepdf.open(io.BytesIO(made.pdf)) as pdf:
        trim = [float(edge) / MM for edge in pdf.pages[0].trimbox]
    assert trim == pytest.approx([62, 43.5, 358, 253.5], abs=0.01)
    across = [(54.0, y, 59.0, y) for y in (43.5, 253.5)] + [(361.0, y, 366.0, y) for y in (43.5, 253.5)]
    up = [(x, 35.5, x, 40.5) for x in (62.0, 358.0)] + [(x, 256.5, x, 261.5) for x in (62.0, 358.0)]
    assert [sorted(lines) for lines in _lines(made.pdf)] == [sorted(across + up)] * 2


def test_an_everyday_sheet_has_no_marks_and_ticks_on_the_fold_when_asked() -> None:
    booklet = saved(numbered(4))
    assert _lines(impose(booklet, Folding()).pdf) == [[], []]
    front, back = _lines(impose(booklet, Folding(fold=True)).pdf)
    assert front == []
    assert sorted(back) == [(148.5, 0.0, 148.5, 5.0), (148.5, 205.0, 148.5, 210.0)]


def test_bleed_shows_around_the_pages_and_never_across_the_fold() -> None:
    """Each page is black all over its media box, 9 mm past the trim; 3 mm of that is bleed."""
    source = numbered(4)
    for page in source.pages:
        for name, more in (("/MediaBox", 9), ("/BleedBox", 3), ("/TrimBox", 0)):
            page[name] = pikepdf.Array([-more * MM, -more * MM, (A5[0] + more) * MM, (A5[1] + more) * MM])
        page.Contents = source.make_stream(b"0 g -100 -100 1000 1000 re f")
    source.pages[3].Contents = source.make_stream(b"")
    picture = _picture(impose(saved(source), Folding("A3")).pdf, 0)
    # The front: page 4, white, at the left; page 1 from 210 to 358 mm, its bleed to 361 mm.
    assert [_dark(picture, x, 150) for x in (208, 211, 357, 360, 362)] == [False, True, True, True, False]
    assert [_dark(picture, 300, y) for y in (39.5, 41.5, 255.5, 257.5)] == [False, True, True, False]


SCALE = 4


def _picture(pdf: bytes, page: int) -> Any:
    with pdfium.PdfDocument(pdf) as document:
        return document[page].render(scale=SCALE).to_pil().convert("L")


def _dark(picture: Any, x: float, y: float) -> bool:
    """Whether the picture is dark at a place in mm from the upper left corner."""
    return bool(picture.getpixel((round(x * MM * SCALE), round(y * MM * SCALE))) < 128)


# What was filled in


def _text(pdf: bytes) -> str:
    with pdfium.PdfDocument(pdf) as document:
        return "\n".join(page.get_textpage().get_text_bounded() for page in document)


def test_filled_values_and_ticks_look_on_the_sheet_as_they_do_on_the_page(full: Pressed) -> None:
    """pdfium draws page 1 with its form, and the right half of the first sheet: no dot differs by much."""
    with pdfium.PdfDocument(full.pdf) as document:
        document.init_forms()
        page = document[0].render(scale=SCALE, may_draw_forms=True).to_pil().convert("L")
    sheet = _picture(impose(full.pdf, Folding()).pdf, 0)
    half = sheet.crop((sheet.width // 2, 0, sheet.width // 2 + page.width, page.height))
    assert _grey(half) == pytest.approx(_grey(page), rel=0.002)
    blank = _picture(impose(full.pdf, Folding(blank=True)).pdf, 0)
    assert _grey(blank) < _grey(sheet) * 0.98


def _grey(picture: Any) -> float:
    """How much ink a picture has."""
    return float(sum((255 - shade) * count for shade, count in enumerate(picture.histogram())))


def test_prefilled_text_is_printed_and_left_out_when_asked(full: Pressed) -> None:
    shown, blank = (_text(impose(full.pdf, Folding(blank=blank)).pdf) for blank in (False, True))
    for value in ("102.5", "Kraków", "Slow off the floor"):
        assert value in shown
        assert value not in blank
    assert "Week 1 → squat" in blank


def test_what_a_person_typed_in_a_browser_viewer_is_printed() -> None:
    filled = fill_with_pdfium(sample.pressed(filled=False).pdf)
    before = _text(impose(sample.pressed(filled=False).pdf, Folding()).pdf)
    after = _text(impose(filled, Folding()).pdf)
    with pikepdf.open(io.BytesIO(filled)) as pdf:
        values = [str(f["/V"]) for f in pdf.Root.AcroForm.Fields if f.get("/FT") == "/Tx" and str(f.get("/V", ""))]
    assert len(values) == 3
    for value in values:
        assert value.splitlines()[0] in after
        assert value.splitlines()[0] not in before


def _with_value(change: Any) -> bytes:
    """The empty sample after `change` of its first text field and its first tick."""
    pdf = pikepdf.open(io.BytesIO(sample.pressed(filled=False).pdf))
    fields = list(pdf.Root.AcroForm.Fields)
    change(next(f for f in fields if f.FT == "/Tx"), next(f for f in fields if f.FT == "/Btn"))
    return saved(pdf)


def _typed(text: Any, tick: Any) -> None:
    text.V = pikepdf.String("102.5")


def _typed_without_look(text: Any, tick: Any) -> None:
    text.V = pikepdf.String("102.5")
    del text.AP


def _ticked_without_state(text: Any, tick: Any) -> None:
    tick.V = pikepdf.Name.Yes


def _drawn_on_a_shared_look(text: Any, tick: Any) -> None:
    """What some programs leave: the look that the empty fields of one size share, drawn on for one of them."""
    text.V = pikepdf.String("102.5")
    text.AP.N.write(b"/Tx BMC BT /Helv 9 Tf 2 4 Td (102.5) Tj ET EMC")
    text.AP.N.Resources = pikepdf.Dictionary(Font=pikepdf.Dictionary(Helv=pikepdf.Dictionary(
        Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica
    )))  # fmt: skip


def test_a_shared_look_that_was_drawn_on_shows_for_the_filled_field_only() -> None:
    sheets = impose(_with_value(_drawn_on_a_shared_look), Folding()).pdf
    assert _text(sheets).count("102.5") == 1


def test_fields_with_different_values_and_one_look_are_refused() -> None:
    pdf = pikepdf.open(io.BytesIO(_with_value(_drawn_on_a_shared_look)))
    one = next(f for f in pdf.Root.AcroForm.Fields if f.get("/V") == "102.5")
    other = next(f for f in pdf.Root.AcroForm.Fields if f.get("/FT") == "/Tx" and "/V" not in f)
    other.V, other.AP = pikepdf.String("5"), one.AP
    problem = refusal(saved(pdf))
    assert problem.code == "value-unseen"
    assert str(one.T) in problem.fact and str(other.T) in problem.fact


@pytest.mark.parametrize(
    ("change", "name"),
    [
        (_typed, "w01-d2-s1-t1-load"),
        (_typed_without_look, "w01-d2-s1-t1-load"),
        (_ticked_without_state, "w01-d2-s1-t1-done"),
    ],
)
def test_a_value_that_the_file_does_not_draw_is_not_lost_in_silence(change: Any, name: str) -> None:
    """The first is what a program leaves that sets values only: the look is there and stays empty."""
    booklet = _with_value(change)
    problem = refusal(booklet)
    assert problem.code == "value-unseen"
    assert name in problem.fact and "--blank" in problem.help
    assert impose(booklet, Folding(blank=True)).pages == 2


def test_a_tick_that_was_set_is_drawn() -> None:
    def ticked(text: Any, tick: Any) -> None:
        tick.V = tick.AS = pikepdf.Name.Yes

    plain, done = (_picture(impose(_with_value(c), Folding()).pdf, 0) for c in (lambda text, tick: None, ticked))
    assert _grey(done) > _grey(plain)


def test_sheets_have_no_fields_left(full: Pressed) -> None:
    made = pikepdf.open(io.BytesIO(impose(full.pdf, Folding()).pdf))
    assert "/AcroForm" not in made.Root
    assert not any("/Annots" in page for page in made.pages)


# The file


@pytest.mark.skipif(not shutil.which("qpdf"), reason="qpdf is not installed")
@pytest.mark.parametrize("sheet", [None, "A3"])
def test_qpdf_finds_nothing_to_complain_of(full: Pressed, tmp_path: Path, sheet: str | None) -> None:
    path = tmp_path / "sheets.pdf"
    path.write_bytes(impose(full.pdf, Folding(sheet, creep=0.1, fold=True)).pdf)
    run = subprocess.run(["qpdf", "--check", str(path)], capture_output=True, text=True)
    assert (run.returncode, run.stderr) == (0, "")


def test_the_same_booklet_gives_the_same_bytes_and_carries_its_title(full: Pressed) -> None:
    one, two = (impose(full.pdf, Folding(creep=0.1)).pdf for _ in range(2))
    assert one == two
    made = pikepdf.open(io.BytesIO(one))
    assert str(made.docinfo["/Title"]) == sample.META.title
    assert str(made.Root.Lang) == "en-GB"


def test_a_print_dialogue_is_told_to_flip_on_the_short_edge_and_not_to_scale() -> None:
    made = pikepdf.open(io.BytesIO(impose(saved(numbered(4)), Folding()).pdf))
    assert made.Root.ViewerPreferences.Duplex == "/DuplexFlipShortEdge"
    assert made.Root.ViewerPreferences.PrintScaling == "/None"


def test_fonts_and_looks_that_pages_share_are_kept_once(full: Pressed) -> None:
    """The sheets take less room than the booklet, which has its fields and structure besides."""
    assert len(impose(full.pdf, Folding()).pdf) < len(full.pdf)


# What cannot be folded


def test_pages_of_two_sizes_are_refused_by_number() -> None:
    pdf, other = numbered(3), numbered(1, A4)
    pdf.pages.append(other.pages[0])
    problem = refusal(saved(pdf))
    assert problem.code == "page-sizes" and "page 4 is 210.0 × 297.0 mm" in problem.fact


def test_a_turned_page_is_refused_by_number() -> None:
    pdf = numbered(4)
    pdf.pages[2].rotate(90, relative=False)
    problem = refusal(saved(pdf))
    assert problem.code == "page-turned" and "page 3" in problem.fact


@pytest.mark.parametrize("password", ["", "iron"])
def test_a_locked_booklet_is_refused(password: str) -> None:
    """Also one that opens without a password: its sheets would have lost the lock."""
    writer = PdfWriter(clone_from=io.BytesIO(saved(numbered(4))))
    writer.encrypt(password, owner_password="owner", algorithm="AES-256")
    target = io.BytesIO()
    writer.write(target)
    assert refusal(target.getvalue()).code == "pdf-locked"


@pytest.mark.parametrize("junk", [b"", b"my notes", b"%PDF-1.7\n%%EOF", saved(pikepdf.new())])
def test_what_is_no_booklet_is_refused(junk: bytes) -> None:
    assert refusal(junk).code == "pdf-unreadable"


def test_a_booklet_that_needs_a_larger_sheet_is_told_which() -> None:
    problem = refusal(saved(numbered(4, A4)))
    assert problem.code == "sheet-small" and "--sheet A3 or SRA3" in problem.help
    assert refusal(saved(numbered(4)), Folding("Letter")).code == "sheet-small"


def test_creep_that_would_push_the_text_into_the_fold_is_refused() -> None:
    """50 pages are 13 sheets; 12 × 0.5 mm are 6 mm."""
    problem = refusal(saved(numbered(50)), Folding(creep=0.5))
    assert problem.code == "creep-large" and "6.0 mm" in problem.fact
