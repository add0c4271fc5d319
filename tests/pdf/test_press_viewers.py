"""Validators and viewers, none of them the typesetter, accept the file, show it and fill it."""

import io
import os
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pypdfium2 as pdfium
import pypdfium2.raw as raw
import pytest
from log.viewers import click, type_in
from pypdf import PdfReader

from builder.pdf import Pressed, inside, press
from builder.values.fields import FieldSpec

from . import sample, verapdf


@pytest.mark.slow
@pytest.mark.skipif(bool(verapdf.absent()), reason=verapdf.absent() or "present")
def test_the_file_is_pdf_ua_1_and_pdf_a_3a(full_path: Path) -> None:
    """Prefilled values, ticks, attachments, labels and links included (veraPDF)."""
    assert verapdf.broken_rules(full_path) == {"ua1": [], "3a": []}


@pytest.mark.slow
@pytest.mark.skipif(bool(verapdf.absent()), reason=verapdf.absent() or "present")
def test_the_validator_does_see_a_broken_file(full: Pressed, tmp_path: Path) -> None:
    """A file whose ticks lost their appearances is refused, so silence above means something."""
    from pypdf import PdfWriter

    writer = PdfWriter(clone_from=io.BytesIO(full.pdf))
    for annotation in writer.pages[0]["/Annots"]:  # type: ignore[attr-defined]
        annotation.get_object().pop("/AP", None)
        annotation.get_object().pop("/TU", None)
    writer.write(tmp_path / "broken.pdf")
    broken = verapdf.broken_rules(tmp_path / "broken.pdf")
    assert broken["3a"]
    assert broken["ua1"]


# mutool's -N: Debian builds it without colour management, and it says so of any file with a profile.
TOOLS = {
    "qpdf": ["qpdf", "--check", "FILE"],
    "mutool": ["mutool", "draw", "-q", "-N", "-F", "trace", "-o", os.devnull, "FILE"],
    "gs": ["gs", "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=nullpage", "FILE"],
    "pdftoppm": ["pdftoppm", "-r", "40", "-png", "FILE", "OUT"],
    "pdftotext": ["pdftotext", "FILE", "-"],
}


@pytest.mark.parametrize("tool", sorted(TOOLS))
def test_tools_read_the_file_without_a_word_of_complaint(tool: str, full_path: Path, tmp_path: Path) -> None:
    if not shutil.which(tool):
        pytest.skip(f"{tool} is not installed")
    names = {"FILE": str(full_path), "OUT": str(tmp_path / "page")}
    run = subprocess.run([names.get(word, word) for word in TOOLS[tool]], capture_output=True, text=True)
    assert (run.returncode, run.stderr) == (0, "")
    if tool == "pdftotext":
        assert "1 × 100 kg" in run.stdout
        assert "Week 1 → squat" in run.stdout


def ink(image: Any, box: tuple[float, float, float, float], height: float) -> int:
    """Dark pixels within a rectangle in points of a picture made at one pixel to the point, times four."""
    x0, y0, x1, y1 = box
    part = image.crop([round(v * 4) for v in (x0 + 1, height - y1 + 1, x1 - 1, height - y0 - 1)]).convert("L")
    return sum(part.histogram()[:100])


def widget_rects(reader: PdfReader, page: int) -> dict[str, tuple[float, float, float, float]]:
    found = {}
    for reference in reader.pages[page]["/Annots"]:  # type: ignore[attr-defined]
        widget = reference.get_object()
        if widget["/Subtype"] == "/Widget":
            found[widget["/T"]] = tuple(float(v) for v in widget["/Rect"])
    return found  # type: ignore[return-value]


def test_prefilled_values_and_ticks_show_in_pdfium(full: Pressed) -> None:
    with pdfium.PdfDocument(full.pdf) as pdf:
        pdf.init_forms()
        page = pdf[0]
        image, height = page.render(scale=4, may_draw_forms=True).to_pil(), page.get_height()
        rects = widget_rects(PdfReader(io.BytesIO(full.pdf)), 0)
        for name in (sample.set_name(1, "load"), sample.NOTE, sample.WEIGHT):
            assert ink(image, rects[name], height) > 100, name
        for name in (sample.set_name(2, "load"), sample.set_name(1, "reps")):
            assert ink(image, rects[name], height) == 0, name
        ticked, clear = (ink(image, rects[sample.set_name(row, "done")], height) for row in (2, 1))
        assert ticked > clear + 300


def form_of(pdf: pdfium.PdfDocument) -> Any:
    pdf.init_forms()
    assert pdf.formenv is not None
    return pdf.formenv.raw


def fill_with_pdfium(data: bytes) -> bytes:
    """Types into three fields and clicks two ticks, as a person would in a browser."""
    rects = widget_rects(PdfReader(io.BytesIO(data)), 0)
    with pdfium.PdfDocument(data) as pdf:
        form = form_of(pdf)
        page = pdf[0]
        for name, text in (
            (sample.set_name(3, "load"), "107,5"),
            (sample.set_name(1, "load"), "105"),
            (sample.NOTE, "Żelazo (2 × 5)"),
        ):
            click(form, page, rects[name])
            type_in(form, page, text)
        for row in (2, 4):
            click(form, page, rects[sample.set_name(row, "done")])
        raw.FORM_ForceToKillFocus(form)
        saved = io.BytesIO()
        pdf.save(saved)
        return saved.getvalue()


def test_pdfium_fills_and_pypdf_reads_the_same(full: Pressed, tmp_path: Path) -> None:
    path = tmp_path / "filled.pdf"
    path.write_bytes(fill_with_pdfium(full.pdf))
    values = dict(inside(path).filled)
    assert values[sample.set_name(3, "load")] == "107,5"
    assert values[sample.set_name(1, "load")] == "105"
    assert values[sample.NOTE] == "Żelazo (2 × 5)"
    assert values[sample.PLACE] == "Kraków"
    assert sample.set_name(2, "done") not in values
    assert values[sample.set_name(4, "done")] == "on"


def test_typing_in_one_field_shows_nowhere_else(full: Pressed) -> None:
    """Fields of one size share a blank look; a viewer must not write a value into what is shared."""
    filled = fill_with_pdfium(full.pdf)
    rects = widget_rects(PdfReader(io.BytesIO(filled)), 0)
    with pdfium.PdfDocument(filled) as pdf:
        pdf.init_forms()
        page = pdf[0]
        image, height = page.render(scale=4, may_draw_forms=True).to_pil(), page.get_height()
    shown = {row for row in sample.ROWS if ink(image, rects[sample.set_name(row, "load")], height)}
    assert shown == {1, 3}


def test_length_limits_hold_while_typing(full: Pressed) -> None:
    rects = widget_rects(PdfReader(io.BytesIO(full.pdf)), 0)
    name = sample.set_name(5, "reps")
    with pdfium.PdfDocument(full.pdf) as pdf:
        form = form_of(pdf)
        page = pdf[0]
        click(form, page, rects[name])
        type_in(form, page, "123456789")
        saved = io.BytesIO()
        pdf.save(saved)
    fields: dict[str, Any] = PdfReader(saved).get_fields() or {}
    assert fields[name]["/V"] == "123456"


def test_long_values_are_drawn_smaller_to_fit() -> None:
    """A prefilled text larger than its field is set smaller, so that its end still shows."""
    line = FieldSpec(sample.PLACE, "text", "Place", "W" * 60 + "|", font_size=11)
    note = FieldSpec(sample.NOTE, "multiline", "Note", "\n".join(["i"] * 9 + ["WWW"]), font_size=11)
    specs = {**sample.specs(), line.name: line, note.name: note}
    pdf = press(sample.page_html(), [sample.CSS], roots=[sample.HERE], fields=specs, meta=sample.META).pdf
    reader = PdfReader(io.BytesIO(pdf))
    x0, y0, x1, y1 = widget_rects(reader, 1)[line.name]
    assert shows(pdf, 1, (x1 - 14, y0, x1, y1))
    x0, y0, x1, y1 = widget_rects(reader, 0)[note.name]
    assert shows(pdf, 0, (x0, y0, x0 + 30, y0 + 14))


def shows(pdf: bytes, number: int, box: tuple[float, float, float, float]) -> bool:
    with pdfium.PdfDocument(pdf) as document:
        document.init_forms()
        page = document[number]
        return ink(page.render(scale=4, may_draw_forms=True).to_pil(), box, page.get_height()) > 0
