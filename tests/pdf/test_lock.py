"""A locked booklet opens without a password, can be filled and printed, and cannot be changed otherwise."""

from __future__ import annotations

import shutil
import subprocess
from io import BytesIO
from pathlib import Path

import pikepdf
import pypdfium2
import pytest

from builder.pdf import Pressed, inside, locked, unlocked

OWNER = "sloe and damson"


@pytest.fixture(scope="module")
def file(full: Pressed, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("lock") / "locked.pdf"
    path.write_bytes(locked(full.pdf, OWNER))
    return path


@pytest.mark.skipif(shutil.which("qpdf") is None, reason="needs qpdf")
def test_qpdf_finds_aes_256_and_may_fill_and_print_only(file: Path) -> None:
    """The permissions are those of ISO 32000-2, table 22."""
    told = subprocess.run(
        ["qpdf", "--show-encryption", str(file)], capture_output=True, text=True, check=True, encoding="utf-8"
    ).stdout
    assert "R = 6" in told and "file encryption method: AESv3" in told
    assert "User password = \n" in told
    for may in ("print low resolution", "print high resolution", "modify forms", "extract for accessibility"):
        assert f"{may}: allowed" in told, told
    for may_not in ("extract for any purpose", "modify document assembly", "modify annotations", "modify other"):
        assert f"{may_not}: not allowed" in told, told


def test_pdfium_opens_it_without_a_password_and_fills_a_field(file: Path, full: Pressed) -> None:
    document = pypdfium2.PdfDocument(file)
    document.init_forms()
    assert len(document) == full.pages
    assert document.get_formtype() == 1
    assert document[0].render(scale=0.3).to_pil().getextrema() != ((255, 255),) * 3


def test_the_owner_opens_it_with_the_password_and_nobody_with_another(file: Path) -> None:
    with pikepdf.open(file, password=OWNER) as document:
        assert document.owner_password_matched
    with pikepdf.open(file, password="") as document:
        assert not document.owner_password_matched
    with pytest.raises(pikepdf.PasswordError):
        pikepdf.open(file, password="another")


def test_a_locked_file_says_no_longer_that_it_is_pdf_a_and_stays_pdf_ua(file: Path, full: Pressed) -> None:
    def said(data: bytes) -> bytes:
        with pikepdf.open(BytesIO(data)) as document:
            return bytes(document.Root.Metadata.read_bytes())

    assert b"pdfaid:part" in said(full.pdf)
    after = said(file.read_bytes())
    assert b"pdfaid:part" not in after and b"pdfaid:conformance" not in after
    assert b'pdfuaid:part="1"' in after
    with pikepdf.open(file) as document, document.open_metadata() as metadata:
        assert metadata["dc:title"]


def test_a_locked_file_keeps_its_fields_and_their_values(file: Path, full_path: Path) -> None:
    """So a filled one is recognised before it is overwritten."""
    assert inside(file).filled == inside(full_path).filled
    assert inside(file).filled != ()


def test_a_file_that_is_not_locked_stays_as_it_is(full: Pressed) -> None:
    assert unlocked(full.pdf) is full.pdf
