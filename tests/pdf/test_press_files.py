"""What a finished PDF holds is found out before it is overwritten."""

from pathlib import Path

import pytest

from builder.pdf import Pressed, UnreadablePdfError, inside

from . import sample


def test_filled_fields_are_those_with_a_value(full_path: Path) -> None:
    found = dict(inside(full_path).filled)
    assert found == {
        spec.name: "on" if spec.kind == "tick" else spec.value for spec in sample.specs().values() if spec.value
    }


def test_an_untouched_booklet_has_no_filled_fields(tmp_path: Path) -> None:
    (tmp_path / "b.pdf").write_bytes(sample.pressed(filled=False).pdf)
    assert inside(tmp_path / "b.pdf").filled == ()


def test_a_pdf_without_a_form_has_no_filled_fields(tmp_path: Path) -> None:
    (tmp_path / "b.pdf").write_bytes(sample.pressed(filled=False, fillable=False).pdf)
    assert inside(tmp_path / "b.pdf").filled == ()


@pytest.mark.parametrize("cut", [0, 10, 2000, -400])
def test_a_broken_pdf_raises_the_documented_error_or_is_read(full: Pressed, tmp_path: Path, cut: int) -> None:
    path = tmp_path / "b.pdf"
    path.write_bytes(full.pdf[:cut])
    with pytest.raises(UnreadablePdfError, match=r"b\.pdf "):
        inside(path)


def test_text_that_is_no_pdf_raises_the_documented_error(tmp_path: Path) -> None:
    (tmp_path / "b.pdf").write_text("format: 1\n")
    with pytest.raises(UnreadablePdfError):
        inside(tmp_path / "b.pdf")
