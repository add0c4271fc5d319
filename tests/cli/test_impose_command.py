"""`loadleaf impose`: a booklet goes in, sheets come out, and nothing is lost on the way."""

from __future__ import annotations

import shutil
import subprocess
from io import BytesIO
from pathlib import Path

import click
import pikepdf
import pytest
from cli.test_build import _fill_first_text
from cli.test_commands import BLOCK, CLIENT, loadleaf
from pdf.flat_pages import A4, HALF_LETTER, numbered, saved
from pypdf import PdfReader

from builder.cli.impose import SHEETS, Creep
from builder.pdf.sheets import saddle


@pytest.fixture
def files(tmp_path: Path) -> list[Path]:
    """A client, a block and a brand."""
    texts = {"client": CLIENT, "block": BLOCK, "brand": "format: 1\nbrand: {name: Ferry Street Strength}\n"}
    for name, text in texts.items():
        (tmp_path / f"{name}.yaml").write_text(text, encoding="utf-8")
    return [tmp_path / f"{name}.yaml" for name in texts]


@pytest.fixture
def booklet(tmp_path: Path) -> Path:
    path = tmp_path / "mara.pdf"
    path.write_bytes(saved(numbered(98)))
    return path


def test_it_says_what_it_made_and_how_to_print_it(booklet: Path, tmp_path: Path) -> None:
    before = booklet.read_bytes()
    done = loadleaf("impose", booklet, "-o", tmp_path / "sheets.pdf")
    assert done.returncode == 0, done.stderr
    assert "98 pages and 2 blank pages on 25 sheets of A4" in done.stdout
    assert "both sides, flipped on the short edge, at actual size" in done.stdout
    assert len(PdfReader(tmp_path / "sheets.pdf").pages) == 50
    assert booklet.read_bytes() == before


def test_without_a_name_the_sheets_are_called_after_the_booklet(booklet: Path, tmp_path: Path) -> None:
    work = tmp_path / "work"
    work.mkdir()
    assert loadleaf("impose", booklet, cwd=work).returncode == 0
    assert [path.name for path in work.iterdir()] == ["mara-sheets.pdf"]


def test_half_letter_goes_on_letter_by_itself(tmp_path: Path) -> None:
    path = tmp_path / "half.pdf"
    path.write_bytes(saved(numbered(4, HALF_LETTER)))
    assert "1 sheet of Letter" in loadleaf("impose", path, "-o", tmp_path / "sheets.pdf").stdout


@pytest.mark.parametrize("creep", ["0.1", "0.1 mm", "0.1mm", ".1"])
def test_creep_is_written_with_or_without_its_unit(creep: str) -> None:
    assert Creep().convert(creep, None, None) == 0.1


def test_creep_moves_the_pages_of_inner_sheets(booklet: Path, tmp_path: Path) -> None:
    creep = "0.1 mm"
    one, two = tmp_path / "one.pdf", tmp_path / "two.pdf"
    assert loadleaf("impose", booklet, "-o", one, "--creep", creep).returncode == 0
    assert loadleaf("impose", booklet, "-o", two).returncode == 0
    first, second = (pikepdf.open(BytesIO(path.read_bytes())) for path in (one, two))
    assert first.pages[0].Contents.read_bytes() == second.pages[0].Contents.read_bytes()
    assert first.pages[2].Contents.read_bytes() != second.pages[2].Contents.read_bytes()


@pytest.mark.parametrize("creep", ["0,1", "-0.1", "2", "0.1 in", "thin"])
def test_a_creep_that_is_no_such_length_is_refused(creep: str) -> None:
    with pytest.raises(click.BadParameter, match="0 to 1 mm"):
        Creep().convert(creep, None, None)


def test_a_creep_that_is_no_length_is_wrong_usage(booklet: Path, tmp_path: Path) -> None:
    done = loadleaf("impose", booklet, "-o", tmp_path / "sheets.pdf", "--creep=-0.1")
    assert done.returncode == 2
    assert "0 to 1 mm" in done.stderr
    assert not (tmp_path / "sheets.pdf").exists()


def test_problems_are_told_with_their_way_out_and_nothing_is_written(booklet: Path, tmp_path: Path) -> None:
    large, notes = tmp_path / "large.pdf", tmp_path / "notes.txt"
    large.write_bytes(saved(numbered(4, A4)))
    notes.write_text("my notes", encoding="utf-8")
    target = tmp_path / "sheets.pdf"
    for source, code, says in (
        (large, "sheet-small", "--sheet A3"),
        (notes, "pdf-unreadable", "Name a booklet"),
        (tmp_path / "gone.pdf", "unreadable", "Check the name"),
    ):
        done = loadleaf("impose", source, "-o", target)
        assert done.returncode == 1
        assert f"[{code}]" in done.stderr and says in done.stderr and "Traceback" not in done.stderr
        assert not target.exists()


def test_the_booklet_is_not_overwritten(booklet: Path) -> None:
    before = booklet.read_bytes()
    done = loadleaf("impose", booklet, "-o", booklet, "--replace")
    assert done.returncode == 1
    assert "[output-source]" in done.stderr
    assert booklet.read_bytes() == before


def test_an_existing_file_that_is_no_pdf_is_kept_unless_asked(booklet: Path, tmp_path: Path) -> None:
    target = tmp_path / "notes.pdf"
    target.write_text("my notes", encoding="utf-8")
    done = loadleaf("impose", booklet, "-o", target)
    assert done.returncode == 1 and "[output-other]" in done.stderr
    assert target.read_text(encoding="utf-8") == "my notes"
    assert loadleaf("impose", booklet, "-o", target, "--replace").returncode == 0
    assert len(PdfReader(target).pages) == 50


def test_the_command_offers_the_sheets_that_the_press_knows() -> None:
    assert ("auto", *saddle.SHEETS) == SHEETS


@pytest.mark.slow
@pytest.mark.skipif(not shutil.which("pdftotext"), reason="poppler is not installed")
def test_what_a_lifter_typed_is_on_the_sheets_of_a_built_booklet(files: list[Path], tmp_path: Path) -> None:
    booklet, sheets = tmp_path / "booklet.pdf", tmp_path / "sheets.pdf"
    assert loadleaf("build", *files, "-o", booklet, "--paper", "A5", "--edition", "log").returncode == 0
    for typed in (False, True):
        if typed:
            _fill_first_text(booklet, "Quillon 7")
        assert loadleaf("impose", booklet, "-o", sheets).returncode == 0
        told = subprocess.run(["pdftotext", str(sheets), "-"], capture_output=True, text=True, check=True).stdout
        assert ("Quillon 7" in told) is typed


@pytest.mark.slow
def test_a_print_shop_build_has_bleed_and_no_fields(files: list[Path], tmp_path: Path) -> None:
    target = tmp_path / "shop.pdf"
    done = loadleaf("build", *files, "-o", target, "--paper", "A5", "--edition", "pocket", "--bleed")
    assert done.returncode == 0, done.stderr
    assert " 0 fields" in done.stdout
    page = PdfReader(target).pages[0]
    # 3 mm on either side of 148 mm.
    assert round(float(page.bleedbox.width) / 72 * 25.4, 1) == 154.0
    assert round(float(page.trimbox.width) / 72 * 25.4, 1) == 148.0


def test_more_sheets_than_a_stapler_folds_are_told_with_the_way_out(booklet: Path, tmp_path: Path) -> None:
    """98 pages are 25 sheets; a stapler takes about 20 (common practice, no source)."""
    thick = loadleaf("impose", booklet, "-o", tmp_path / "thick.pdf")
    assert thick.returncode == 0
    assert "25 sheets are folded into each other" in thick.stderr
    assert "--signatures 4" in thick.stderr
    sewn = loadleaf("impose", booklet, "--signatures", 4, "-o", tmp_path / "sewn.pdf")
    assert (sewn.returncode, sewn.stderr) == (0, "")
    assert "signatures of 4" in sewn.stdout
    assert len(PdfReader(tmp_path / "sewn.pdf").pages) == 50


def test_twenty_sheets_are_folded_without_a_word(tmp_path: Path) -> None:
    path = tmp_path / "thin.pdf"
    path.write_bytes(saved(numbered(80)))
    assert loadleaf("impose", path, "-o", tmp_path / "sheets.pdf").stderr == ""
