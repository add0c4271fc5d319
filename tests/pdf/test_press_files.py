"""Files are replaced whole, and filled ones are recognised."""

import os
from pathlib import Path

import pytest

from builder.pdf import Pressed, UnreadablePdfError, filled_fields, write_whole

from . import sample


def test_a_file_is_replaced_and_keeps_its_permissions(tmp_path: Path) -> None:
    path = tmp_path / "b.pdf"
    path.write_bytes(b"old")
    path.chmod(0o640)
    write_whole(path, b"new")
    assert path.read_bytes() == b"new"
    assert path.stat().st_mode & 0o777 == 0o640
    assert os.listdir(tmp_path) == ["b.pdf"]


def test_a_new_file_gets_the_usual_permissions(tmp_path: Path) -> None:
    (tmp_path / "usual").touch()
    write_whole(tmp_path / "b.pdf", b"new")
    assert (tmp_path / "b.pdf").stat().st_mode == (tmp_path / "usual").stat().st_mode


@pytest.mark.parametrize("step", ["fsync", "replace", "fchmod"])
def test_a_failure_at_any_step_leaves_the_old_file_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    path = tmp_path / "b.pdf"
    path.write_bytes(b"old")

    def fail(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, step, fail)
    with pytest.raises(OSError, match="No space left"):
        write_whole(path, b"new")
    assert path.read_bytes() == b"old"
    assert os.listdir(tmp_path) == ["b.pdf"]


def test_a_symbolic_link_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    real = tmp_path / "real" / "b.pdf"
    real.write_bytes(b"old")
    (tmp_path / "link.pdf").symlink_to(real)
    write_whole(tmp_path / "link.pdf", b"new")
    assert (tmp_path / "link.pdf").is_symlink()
    assert real.read_bytes() == b"new"


def test_a_missing_folder_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        write_whole(tmp_path / "gone" / "b.pdf", b"new")


def test_filled_fields_are_those_with_a_value(full_path: Path) -> None:
    found = dict(filled_fields(full_path))
    assert found == {
        spec.name: "/Yes" if spec.kind == "tick" else spec.value for spec in sample.specs().values() if spec.value
    }


def test_an_untouched_booklet_has_no_filled_fields(tmp_path: Path) -> None:
    write_whole(tmp_path / "b.pdf", sample.pressed(filled=False).pdf)
    assert filled_fields(tmp_path / "b.pdf") == ()


def test_a_pdf_without_a_form_has_no_filled_fields(tmp_path: Path) -> None:
    write_whole(tmp_path / "b.pdf", sample.pressed(filled=False, fillable=False).pdf)
    assert filled_fields(tmp_path / "b.pdf") == ()


@pytest.mark.parametrize("cut", [0, 10, 2000, -400])
def test_a_broken_pdf_raises_the_documented_error_or_is_read(full: Pressed, tmp_path: Path, cut: int) -> None:
    path = tmp_path / "b.pdf"
    path.write_bytes(full.pdf[:cut])
    with pytest.raises(UnreadablePdfError, match=r"b\.pdf cannot be read"):
        filled_fields(path)


def test_text_that_is_no_pdf_raises_the_documented_error(tmp_path: Path) -> None:
    (tmp_path / "b.pdf").write_text("format: 1\n")
    with pytest.raises(UnreadablePdfError):
        filled_fields(tmp_path / "b.pdf")
