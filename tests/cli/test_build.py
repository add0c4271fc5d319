"""`loadleaf build`: whole files or none, the same bytes for the same input, and nothing filled is lost."""

from __future__ import annotations

import stat
from pathlib import Path

import pytest
from cli.test_commands import BLOCK, CLIENT, loadleaf
from pypdf import PdfReader, PdfWriter


@pytest.fixture
def files(tmp_path: Path) -> tuple[Path, Path]:
    client, block = tmp_path / "client.yaml", tmp_path / "block.yaml"
    client.write_text(CLIENT, encoding="utf-8")
    block.write_text(BLOCK, encoding="utf-8")
    return client, block


def _fill_first_text(pdf: Path, text: str) -> None:
    """Types into the first text field."""

    writer = PdfWriter(clone_from=str(pdf))
    field = next(name for name, f in (writer.get_fields() or {}).items() if f.get("/FT") == "/Tx")
    for page in writer.pages:
        if "/Annots" in page:
            writer.update_page_form_field_values(page, {field: text}, auto_regenerate=False)
    writer.write(str(pdf))


@pytest.mark.slow
def test_build_writes_a_pdf_of_the_asked_paper(files: tuple[Path, Path], tmp_path: Path) -> None:
    target = tmp_path / "out.pdf"
    done = loadleaf("build", *files, "-o", target, "--paper", "A5", "--date", "2027-01-04")
    assert done.returncode == 0, done.stderr
    page = PdfReader(target).pages[0].mediabox
    assert PdfReader(target).page_labels[:3] == ["1", "2", "3"]
    # A5 is 148 x 210 mm (ISO 216).
    assert (round(float(page.width) / 72 * 25.4), round(float(page.height) / 72 * 25.4)) == (148, 210)
    assert [p.name for p in tmp_path.iterdir() if p.suffix not in (".yaml", ".pdf")] == []


@pytest.mark.slow
def test_the_same_input_and_date_give_the_same_bytes(files: tuple[Path, Path], tmp_path: Path) -> None:
    one, two = tmp_path / "one.pdf", tmp_path / "two.pdf"
    loadleaf("build", *files, "-o", one, "--date", "2027-01-04", PYTHONHASHSEED="1")
    anew = ("--cache", "none")
    loadleaf("build", *files, "-o", two, *anew, SOURCE_DATE_EPOCH="1799020800", PYTHONHASHSEED="2")
    assert one.read_bytes() == two.read_bytes()


@pytest.mark.slow
def test_a_filled_pdf_is_never_overwritten(files: tuple[Path, Path], tmp_path: Path) -> None:
    target = tmp_path / "out.pdf"
    loadleaf("build", *files, "--edition", "log", "-o", target)
    _fill_first_text(target, "102.5")
    filled = target.read_bytes()
    done = loadleaf("build", *files, "--edition", "log", "-o", target)
    assert done.returncode == 1
    assert "102.5" in done.stderr and "[output-filled]" in done.stderr and "move that one away" in done.stderr
    assert loadleaf("build", *files, "--edition", "log", "-o", target, "--replace").returncode == 1
    assert target.read_bytes() == filled


def test_an_existing_file_that_is_no_pdf_is_kept(files: tuple[Path, Path], tmp_path: Path) -> None:
    target = tmp_path / "notes.pdf"
    target.write_text("my notes", encoding="utf-8")
    done = loadleaf("build", *files, "-o", target)
    assert done.returncode == 1
    assert target.read_text(encoding="utf-8") == "my notes"


def test_no_source_is_overwritten(files: tuple[Path, Path]) -> None:
    done = loadleaf("build", *files, "-o", files[0], "--replace")
    assert done.returncode == 1
    assert files[0].read_text(encoding="utf-8") == CLIENT


def test_a_broken_source_leaves_no_file(files: tuple[Path, Path], tmp_path: Path) -> None:
    files[1].write_text(BLOCK.replace("kind: single", "kind: singel"), encoding="utf-8")
    done = loadleaf("build", *files, "-o", tmp_path / "out.pdf")
    assert done.returncode == 1
    assert 'Did you mean "single"?' in done.stderr
    assert not (tmp_path / "out.pdf").exists()


def test_an_unknown_theme_names_the_known_ones(files: tuple[Path, Path], tmp_path: Path) -> None:
    done = loadleaf("build", *files, "-o", tmp_path / "out.pdf", "--theme", "shiny")
    assert done.returncode == 2
    assert "default" in done.stderr
    assert not (tmp_path / "out.pdf").exists()


def test_a_missing_logo_is_shown_where_the_brand_names_it(files: tuple[Path, Path], tmp_path: Path) -> None:
    brand = tmp_path / "brand.yaml"
    brand.write_text("format: 1\nbrand: {name: Ferry Street Strength, logo: mark.svg}\n", encoding="utf-8")
    done = loadleaf("build", *files, brand, "-o", tmp_path / "out.pdf")
    assert done.returncode == 1
    assert "brand.yaml:2:44" in done.stderr and "[missing-file]" in done.stderr


@pytest.mark.slow
def test_the_file_can_be_read_by_others_as_the_umask_says(files: tuple[Path, Path], tmp_path: Path) -> None:
    target = tmp_path / "out.pdf"
    loadleaf("build", *files, "--edition", "log", "-o", target)
    assert stat.S_IMODE(target.stat().st_mode) & 0o444 == stat.S_IMODE(files[0].stat().st_mode) & 0o444
