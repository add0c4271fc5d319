"""`report` as a user meets it: what it refuses, what it never overwrites, and what it is called."""

from __future__ import annotations

from pathlib import Path

from cli.test_commands import SAMPLES, loadleaf
from log.small import CLIENT, WRITTEN
from pypdf import PdfReader
from report.printed import LATER, STRONGER, filled, made, text_of


def test_the_name_comes_from_the_lifter_and_the_page_count_is_told(tmp_path: Path) -> None:
    done = loadleaf("report", filled(tmp_path, WRITTEN), cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("quill-report.pdf: 2 pages, ")
    assert (tmp_path / "quill-report.pdf").is_file()


def test_booklets_of_two_lifters_make_no_report(tmp_path: Path) -> None:
    one = filled(tmp_path, WRITTEN, "one.pdf")
    other = filled(tmp_path, {}, "other.pdf", LATER.replace("name: Quill", "name: Sedge"))
    done = loadleaf("report", one, other, "-o", tmp_path / "report.pdf")
    assert done.returncode == 1
    assert f'{other} is the booklet of "Sedge", and {one} is that of "Quill" [report-other]' in done.stderr
    assert not (tmp_path / "report.pdf").exists()


def test_a_profile_of_somebody_else_makes_no_report(tmp_path: Path) -> None:
    client = tmp_path / "client.yaml"
    client.write_text(CLIENT.replace("name: Quill", "name: Sedge"))
    done = loadleaf("report", filled(tmp_path, WRITTEN), "--client", client, "-o", tmp_path / "report.pdf")
    assert done.returncode == 1
    assert "[report-other]" in done.stderr


def test_two_booklets_that_tell_of_one_session_make_no_report(tmp_path: Path) -> None:
    """Entries that moved into a newer booklet would count twice."""
    one = filled(tmp_path, {"w01-d1-s2-t1-done": True}, "one.pdf")
    two = filled(tmp_path, {"w01-d1-s2-t1-done": True, "w02-d1-s2-t1-done": True}, "two.pdf", STRONGER)
    done = loadleaf("report", one, two, "-o", tmp_path / "report.pdf")
    assert done.returncode == 1
    assert "both tell of the session planned for 2027-01-04 [report-twice]" in done.stderr


def test_a_filled_booklet_is_never_overwritten(tmp_path: Path) -> None:
    booklet, other = filled(tmp_path, WRITTEN), filled(tmp_path, WRITTEN, "other.pdf")
    before = booklet.read_bytes(), other.read_bytes()
    assert loadleaf("report", booklet, "-o", booklet, "--replace").returncode == 1
    assert loadleaf("report", booklet, "-o", other).returncode == 1
    assert (booklet.read_bytes(), other.read_bytes()) == before


def test_a_pdf_that_is_no_booklet_ends_with_1_and_one_sentence(tmp_path: Path) -> None:
    other = tmp_path / "other.pdf"
    other.write_bytes(b"%PDF-1.7\n%%EOF\n")
    done = loadleaf("report", other, "-o", tmp_path / "report.pdf")
    assert done.returncode == 1
    assert "Traceback" not in done.stderr and "Nothing was written" in done.stderr


def test_a_brand_gives_its_name_logo_and_paper(tmp_path: Path) -> None:
    pdf, _ = made(tmp_path, filled(tmp_path, WRITTEN), "--brand", SAMPLES / "brand")
    assert "Nine Herons Barbell Parlour" in text_of(pdf)
    page = PdfReader(tmp_path / "report.pdf").pages[0].mediabox
    assert (round(float(page.width) / 72 * 25.4), round(float(page.height) / 72 * 25.4)) == (148, 210)


def test_a_brand_option_needs_a_brand(tmp_path: Path) -> None:
    client = tmp_path / "client.yaml"
    client.write_text(CLIENT)
    done = loadleaf("report", filled(tmp_path, WRITTEN), "--brand", client, "-o", tmp_path / "report.pdf")
    assert done.returncode == 1
    assert 'no file has a section "brand:"' in done.stderr
