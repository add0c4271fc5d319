"""Whatever program fills in the form and saves it, the same log is read."""

from __future__ import annotations

from pathlib import Path

import pikepdf
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from log.small import booklet, form, log, manifest
from log.viewers import FILLERS, Values, absent, with_pdfium, with_pikepdf

from builder.log import as_json, progress
from builder.values.fields import parse

VALUES: dict[str, str | bool] = {
    "w01-d1-date": "2027-01-05",
    "w01-d1-bodyweight": "82,5",
    "w01-d1-s1-t1-done": True,
    "w01-d1-s2-t1-load": "102,5 kg",
    "w01-d1-s2-t1-reps": "8+",
    "w01-d1-s2-t1-rir": "½",
    "w01-d1-s2-t2-done": True,
    "w01-d1-s2-t3-reps": "x",
    "w01-d1-s3-t1-load": "bw",
    "w01-d1-s3-t1-reps": "6",
    "w01-d1-s2-note": "tendon: 2/10 <b>\\(left\\)</b>",
    "w01-d1-note": "schön € Ж 日本 (a\\b)\nsecond line",
    "retest-l1-a1-good": True,
    "retest-l1-a2-load": "450 lb",
    "retest-note": "№ 1",
}
BEYOND: dict[str, str | bool] = {"w01-d1-note": "a bicep 💪 and a tab\there"}
"""What PDFium cannot keep: it cuts signs beyond the first plane to 16 bits and turns tabs into spaces."""


def shown(values: Values) -> dict[str, str]:
    return {name: "on" if value is True else str(value) for name, value in values.items()}


@pytest.mark.slow
@pytest.mark.parametrize("filler", sorted(FILLERS))
def test_a_booklet_filled_in_with_any_program_reads_the_same(filler: str, tmp_path: Path) -> None:
    """Texts with a comma, a plus, fractions, several scripts, brackets and a line end; ticks; a form over pages."""
    if reason := absent(filler):
        pytest.skip(reason)
    values = VALUES if filler == "pdfium" else VALUES | BEYOND
    filled = form(FILLERS[filler](booklet(), values, tmp_path), tmp_path)
    assert {value.name: value.text for value in filled.values} == shown(values)
    found, problems = log(filled)
    assert problems == ()
    first = found.sessions[0]
    assert [entry.state for entry in first.entries][:6] == ["done", "done", "done", "left out", "done", "blank"]
    assert found.tests[0].missed == (log_kg("450"),)
    assert '"w01' not in as_json(found, progress(found))


def log_kg(pounds: str) -> object:
    from decimal import Decimal

    return Decimal(pounds) * Decimal("0.45359237")


@pytest.mark.parametrize("filler", ["pikepdf", "pdfium"])
def test_a_field_knows_its_page(filler: str, tmp_path: Path) -> None:
    filled = form(FILLERS[filler](booklet(), {"w02-d1-note": "here"}, tmp_path), tmp_path)
    (value,) = filled.values
    pages = {str(w.T): n for n, page in enumerate(pikepdf.open(tmp_path / "filled.pdf").pages, 1)
             for w in page.obj.get("/Annots", []) if "/T" in w}  # fmt: skip
    assert value.page == pages["w02-d1-note"] > 1


LETTERS = st.characters(
    exclude_categories=("Cc", "Cs", "Co", "Cn", "Zl", "Zp", "Cf"), max_codepoint=0xFFFF, exclude_characters="\u00a0"
)
TEXTS = st.text(LETTERS, min_size=1, max_size=40).map(str.strip).filter(bool)
NAMES = st.sampled_from([name for name in manifest().fields if parse(name) and not name.endswith(("-done", "-good"))])


def mistakable(text: str) -> bool:
    """Whether a text in the old one-byte code has the bytes of another one in UTF-8, as "Ã¤" has those of "ä"."""
    try:
        data = text.encode("pdfdoc")
        return not data.isascii() and data.decode("utf-8") != text
    except UnicodeError:
        return False


@settings(max_examples=40)
@given(st.dictionaries(NAMES, TEXTS, max_size=12))
@pytest.mark.parametrize("fill", [with_pikepdf, with_pdfium])
def test_any_text_that_can_be_typed_is_read_back_equal(
    fill: object, tmp_path_factory: pytest.TempPathFactory, values: dict[str, str]
) -> None:
    """Limits of the field lengths are kept by PDFium; texts are cut to them before."""
    assume(not any(mistakable(text) for text in values.values()))
    lengths = most_letters()
    values = {name: cut for name, text in values.items() if (cut := text[: lengths[name]].strip())}
    assume(not any(mistakable(text) for text in values.values()))
    folder = tmp_path_factory.mktemp("typed")
    filled = form(fill(booklet(), values, folder), folder)  # type: ignore[operator]
    assert {value.name: value.text for value in filled.values} == values


def most_letters() -> dict[str, int]:
    import io

    with pikepdf.open(io.BytesIO(booklet())) as pdf:
        return {str(field.T): int(field.get("/MaxLen", 1000)) for field in pdf.Root.AcroForm.Fields}
