"""A file that holds no log gets one clear reason, whatever made it so; a damaged one never a half-read log."""

from __future__ import annotations

import io
import shutil
import subprocess
from pathlib import Path

import pikepdf
import pytest
from log.small import booklet, form, manifest, refusal
from log.viewers import with_pikepdf

from builder.pdf.forms.form import read_forms

VALUES: dict[str, str | bool] = {"w01-d1-s2-t1-load": "150", "w01-d1-s2-t1-reps": "5", "w01-d1-s2-t2-done": True}
FLATTENERS = {
    "qpdf": ["qpdf", "--generate-appearances", "--flatten-annotations=all", "IN", "OUT"],
    "pdftocairo": ["pdftocairo", "-pdf", "IN", "OUT"],
    "gs": ["gs", "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=pdfwrite", "-sOutputFile=OUT", "IN"],
}


@pytest.mark.parametrize("tool", sorted(FLATTENERS))
def test_a_flattened_or_printed_copy_is_known_by_its_code(tool: str, tmp_path: Path) -> None:
    """The code that each log page prints is found although the fields and the attachments are gone."""
    if not shutil.which(tool):
        pytest.skip(f"{tool} is not installed")
    source, target = tmp_path / "in.pdf", tmp_path / "out.pdf"
    source.write_bytes(with_pikepdf(booklet(), VALUES, tmp_path))
    names = {"IN": str(source), "OUT": str(target), "-sOutputFile=OUT": f"-sOutputFile={target}"}
    subprocess.run([names.get(word, word) for word in FLATTENERS[tool]], check=True, capture_output=True)
    problem = refusal(target.read_bytes(), tmp_path)
    assert problem.code == "pdf-flat"
    assert manifest().code in problem.fact
    assert "loadleaf retest" in problem.help


def test_a_file_that_asks_for_a_password_is_refused(tmp_path: Path) -> None:
    assert refusal(locked(user="secret"), tmp_path).code == "pdf-password"


def test_a_file_that_only_its_owner_may_change_is_read(tmp_path: Path) -> None:
    """Locking with an owner password leaves forms open to be filled in and read."""
    found = form(locked(user=""), tmp_path)
    assert {value.name for value in found.values} == set(VALUES)


def locked(user: str) -> bytes:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(with_pikepdf(booklet(), VALUES, Path()))) as pdf:
        pdf.save(out, encryption=pikepdf.Encryption(owner="owner", user=user, R=6))
    return out.getvalue()


@pytest.mark.parametrize("share", [0.01, 0.3, 0.6, 0.9, 0.999])
def test_a_file_cut_short_is_refused_at_any_length(share: float, tmp_path: Path) -> None:
    data = booklet()
    assert refusal(data[: int(len(data) * share)], tmp_path).code == "pdf-cut"


def test_a_stranger_is_told_from_a_booklet(tmp_path: Path) -> None:
    pdf, out = pikepdf.new(), io.BytesIO()
    pdf.add_blank_page()
    pdf.save(out)
    assert refusal(out.getvalue(), tmp_path).code == "pdf-other"


@pytest.mark.parametrize("data", [b"", b"weeks: 3\n", b"\x00" * 5000, b"PK\x03\x04 not a pdf"])
def test_what_is_no_pdf_is_refused(data: bytes, tmp_path: Path) -> None:
    assert refusal(data, tmp_path).code == "pdf-other"


def test_a_damaged_file_never_loses_an_entry_without_a_word(tmp_path: Path) -> None:
    """Bytes overwritten anywhere give a refusal, a warning, or everything that was written."""
    data = with_pikepdf(booklet(), VALUES, tmp_path)
    path = tmp_path / "damaged.pdf"
    told = 0
    for start in range(0, len(data), len(data) // 200):
        path.write_bytes(data[:start] + b"\xff" * 40 + data[start + 40 :])
        found, problems = read_forms(path)
        told += bool(problems)
        if not problems:
            assert {value.name for value in found[0].values} == set(VALUES)
            assert set(found[0].pages) == set(manifest().fields)
    assert told


def test_a_missing_file_is_a_problem(tmp_path: Path) -> None:
    found, problems = read_forms(tmp_path / "none.pdf")
    assert not found
    assert [problem.code for problem in problems] == ["unreadable"]


def test_a_description_that_is_not_ours_is_refused(tmp_path: Path) -> None:
    """An attachment of our name with other contents."""
    for contents in (b"{}", b"[1, 2", b"\xff", b'{"format": 2}'):
        with pikepdf.open(io.BytesIO(booklet())) as pdf:
            pdf.attachments["booklet.json"] = contents
            out = io.BytesIO()
            pdf.save(out)
        assert refusal(out.getvalue(), tmp_path).code == "pdf-damaged"
