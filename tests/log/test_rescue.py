"""What other programs did to a filled booklet is undone as far as it goes, and told as far as it does not."""

from __future__ import annotations

import csv
import io
import json
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pypdfium2 as pdfium
import pytest
import yaml
from log.small import CLIENT, WRITTEN, booklet, form, log, manifest, refusal
from log.viewers import Values, click, type_in, with_pikepdf, with_pypdf

from builder.log import as_csv, as_json, as_yaml, merge, progress
from builder.log.filled import Form
from builder.pdf.forms.form import read_forms, read_manifest

OTHER = CLIENT.replace("load: 200, reps: 1}]", "load: 190, reps: 1}]")
QPDF = pytest.mark.skipif(not shutil.which("qpdf"), reason="qpdf is not installed")


def changed(data: bytes, change: Callable[[pikepdf.Pdf], None]) -> bytes:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as pdf:
        change(pdf)
        pdf.save(out)
    return out.getvalue()


def silent(data: bytes) -> bytes:
    """As older booklets are, whose fields do not say where they belong."""

    def change(pdf: pikepdf.Pdf) -> None:
        for field in pdf.Root.AcroForm.Fields:
            del field["/LDLF_Field"]

    return changed(data, change)


def bare(data: bytes) -> bytes:
    """Without attachments."""

    def change(pdf: pikepdf.Pdf) -> None:
        for name in list(pdf.attachments):
            del pdf.attachments[name]

    return changed(data, change)


def merged(one: bytes, other: bytes, folder: Path) -> Path:
    """Both files one after the other, as the command-line tool makes one of two."""
    (folder / "one.pdf").write_bytes(one)
    (folder / "other.pdf").write_bytes(other)
    files: list[str | Path] = [folder / "one.pdf", "--pages", ".", folder / "other.pdf", "--", folder / "both.pdf"]
    subprocess.run(["qpdf", *files], check=True)
    return folder / "both.pdf"


def texts(form: Form) -> dict[str, str]:
    return {value.name: value.text for value in form.values}


def written(values: Values) -> dict[str, str]:
    return {name: "on" if value is True else str(value) for name, value in values.items()}


@QPDF
@pytest.mark.parametrize("dress", [bytes, silent], ids=["told by the field", "told by the page"])
def test_a_blank_and_a_filled_copy_in_one_file_are_one_log(dress: Callable[[bytes], bytes], tmp_path: Path) -> None:
    """The tool renames the fields of the second file; every entry is read under its former name."""
    filled = dress(with_pikepdf(booklet(), WRITTEN, tmp_path))
    (only,), problems = read_forms(merged(dress(booklet()), filled, tmp_path))
    assert not problems and not only.strangers
    assert texts(only) == written(WRITTEN)


@QPDF
@pytest.mark.parametrize("dress", [bytes, silent], ids=["told by the field", "told by the page"])
def test_two_booklets_in_one_file_are_told_apart(dress: Callable[[bytes], bytes], tmp_path: Path) -> None:
    """Without the meaning of the second its entries are told; lent it, each is read as its own."""
    mine: Values = {"w01-d1-s2-t2-reps": "4"}
    its: Values = {"w01-d1-s2-t2-reps": "5", "w01-d1-s2-t3-load": "160"}
    (tmp_path / "original.pdf").write_bytes(booklet(client_text=OTHER))
    lent, _ = read_manifest(tmp_path / "original.pdf")
    assert lent is not None and lent.code != manifest().code
    one, other = dress(with_pikepdf(booklet(), mine, tmp_path)), with_pikepdf(booklet(client_text=OTHER), its, tmp_path)
    path = merged(one, dress(other), tmp_path)
    (first,), (problem,) = read_forms(path)
    assert texts(first) == mine
    assert problem.code == "pdf-merged" and lent.code in problem.fact and "pages 6 to 10" in problem.fact
    assert "2 of them filled" in problem.fact
    forms, problems = read_forms(path, [lent])
    assert not problems
    assert {one.manifest.code: texts(one) for one in forms} == {manifest().code: mine, lent.code: its}
    answers, (both,) = merge(forms)
    assert answers is None and both.code == "log-other" and "holds two booklets" in both.fact


@QPDF
def test_pages_that_were_taken_out_are_told_and_the_rest_is_read(tmp_path: Path) -> None:
    (tmp_path / "filled.pdf").write_bytes(with_pikepdf(booklet(), WRITTEN, tmp_path))
    subprocess.run(
        ["qpdf", tmp_path / "filled.pdf", "--pages", ".", "1,3-z", "--", tmp_path / "less.pdf"], check=True
    )
    (form,), problems = read_forms(tmp_path / "less.pdf")
    found, (part,) = log(form)
    assert not problems
    assert part.code == "pdf-part" and "week 2, day 1" in part.fact and "week 1" not in part.fact
    assert texts(form) == {name: text for name, text in written(WRITTEN).items() if not name.startswith("w02")}
    assert found.sessions[0].entries[2].state == "done"


def test_rows_whose_fields_are_gone_count_neither_as_done_nor_as_blank(tmp_path: Path) -> None:
    def change(pdf: pikepdf.Pdf) -> None:
        kept = [field for field in pdf.Root.AcroForm.Fields if not str(field.T).startswith("w02")]
        pdf.Root.AcroForm.Fields = pikepdf.Array(kept)
        del pdf.pages[1]

    filled = with_pikepdf(booklet(), WRITTEN, tmp_path)
    found, (part,) = log(form(changed(filled, change), tmp_path))
    assert part.code == "pdf-part"
    whole, _ = log(form(filled, tmp_path))
    assert {entry.state for entry in found.sessions[1].entries} == {"absent"}
    assert found.sessions[0] == whole.sessions[0]
    assert progress(found).total.planned == len(whole.sessions[0].entries)


def test_copies_of_which_each_lacks_pages_are_whole_together(tmp_path: Path) -> None:
    def without(week: str) -> Callable[[pikepdf.Pdf], None]:
        def change(pdf: pikepdf.Pdf) -> None:
            kept = [field for field in pdf.Root.AcroForm.Fields if not str(field.T).startswith(week)]
            pdf.Root.AcroForm.Fields = pikepdf.Array(kept)
            del pdf.pages[int(week[1:]) - 1]

        return change

    filled = with_pikepdf(booklet(), WRITTEN, tmp_path)
    forms = [form(changed(filled, without(week)), tmp_path, f"{week}.pdf") for week in ("w01", "w02")]
    found, problems = log(*forms)
    assert not problems
    assert found == log(form(filled, tmp_path))[0]


@pytest.mark.parametrize("dress", [bytes, silent], ids=["told by the field", "told by the page"])
def test_a_copy_that_lost_its_attachments_is_lent_its_meaning(
    dress: Callable[[bytes], bytes], tmp_path: Path
) -> None:
    filled = bare(dress(with_pikepdf(booklet(), WRITTEN, tmp_path)))
    problem = refusal(filled, tmp_path)
    assert problem.code == "pdf-stripped" and "--from" in problem.help
    (tmp_path / "filled.pdf").write_bytes(filled)
    (found,), problems = read_forms(tmp_path / "filled.pdf", [manifest()])
    assert not problems and texts(found) == written(WRITTEN)
    assert not found.protection.whole


def test_what_another_booklet_means_is_not_lent(tmp_path: Path) -> None:
    (tmp_path / "original.pdf").write_bytes(booklet(client_text=OTHER))
    lent, _ = read_manifest(tmp_path / "original.pdf")
    assert lent is not None
    (tmp_path / "filled.pdf").write_bytes(bare(with_pikepdf(booklet(), WRITTEN, tmp_path)))
    forms, (problem,) = read_forms(tmp_path / "filled.pdf", [lent])
    assert not forms and manifest().code in problem.fact


def test_a_copy_to_hand_over_is_lent_what_was_lifted_before(tmp_path: Path) -> None:
    """Its own description has none; with the coach's copy the sums are those of the whole one."""
    (tmp_path / "filled.pdf").write_bytes(with_pikepdf(booklet(whole=False), WRITTEN, tmp_path))
    (alone,), _ = read_forms(tmp_path / "filled.pdf")
    sums = progress(log(alone)[0])
    assert not sums.records and not sums.estimates and sums.total.done
    (lent,), _ = read_forms(tmp_path / "filled.pdf", [manifest()])
    assert progress(log(lent)[0]) == progress(log(form(with_pikepdf(booklet(), WRITTEN, tmp_path), tmp_path))[0])
    assert not lent.protection.whole


def test_a_filled_field_without_a_meaning_is_told_in_every_format(tmp_path: Path) -> None:
    def change(pdf: pikepdf.Pdf) -> None:
        field = pikepdf.Dictionary(
            T="shopping", FT=pikepdf.Name.Tx, V="three lemons", Subtype=pikepdf.Name.Widget, Rect=[0, 0, 9, 9]
        )
        pdf.Root.AcroForm.Fields.append(pdf.make_indirect(field))
        pdf.pages[1].Annots.append(pdf.Root.AcroForm.Fields[-1])

    found, (problem,) = log(form(changed(with_pikepdf(booklet(), WRITTEN, tmp_path), change), tmp_path))
    assert problem.code == "log-stranger" and "three lemons" in problem.as_text() and "page 2" in problem.as_text()
    assert all("three lemons" in text for text in told(found))


def told(found: object) -> tuple[str, str, str]:
    sums = progress(found)  # type: ignore[arg-type]
    return as_yaml(found, sums), as_json(found, sums), as_csv(found)  # type: ignore[arg-type]


def test_an_unclear_cell_keeps_its_text_in_every_format(tmp_path: Path) -> None:
    """Of a set, of a session, of the test, and where two copies differ."""
    values: dict[str, str | bool] = {
        "w01-d1-s2-t1-load": "115 (missed)",
        "w01-d1-s2-t1-reps": "5",
        "w01-d1-date": "soon",
        "retest-l1-load": "19o",
    }
    one = form(with_pikepdf(booklet(), values | {"w02-d1-s2-t1-reps": "5"}, tmp_path), tmp_path, "a.pdf")
    other = form(with_pikepdf(booklet(), {"w02-d1-s2-t1-reps": "6"}, tmp_path), tmp_path, "b.pdf")
    found, problems = log(one, other)
    assert len(problems) == 4
    in_yaml, in_json, in_csv = told(found)
    for text in (in_yaml, in_json, in_csv):
        assert all(raw in text for raw in ("115 (missed)", "soon", "19o", "5 | 6"))
    first = yaml.safe_load(in_yaml)["sessions"][0]["slots"][1]["sets"][0]
    assert first["state"] == "unclear" and first["written"] == {"load": "115 (missed)", "reps": "5"}
    cells = {cell["field"]: cell["written"] for cell in json.loads(in_json)["unclear"]}
    assert cells["retest-l1-load"] == "19o" and cells["w02-d1-s2-t1-reps"] == "5 | 6"
    lines = list(csv.DictReader(io.StringIO(in_csv)))
    assert [line["written"] for line in lines if line["set"] and line["state"] == "unclear"] == [
        "load: 115 (missed); reps: 5", "reps: 5 | 6",
    ]  # fmt: skip
    assert {line["written"] for line in lines if not line["set"]} == {"w01-d1-date: soon", "retest-l1-load: 19o"}


@pytest.mark.parametrize("program", ["pypdf", "PDFium"])
def test_a_file_that_was_added_to_is_not_called_damaged(program: str, tmp_path: Path) -> None:
    """Both append to the file and write its new table of contents carelessly."""
    values: Values = {"w01-d1-s2-t2-reps": "4"}
    data = with_pypdf(booklet(), values, tmp_path) if program == "pypdf" else _appended()
    assert data.startswith(booklet())
    (tmp_path / "added.pdf").write_bytes(data)
    (found,), problems = read_forms(tmp_path / "added.pdf")
    assert not problems
    assert texts(found) == {"w01-d1-s2-t2-reps": "4"}


def _appended() -> bytes:
    import pypdfium2.raw as raw
    from log.viewers import _rects

    page_number, rect = _rects(booklet())["w01-d1-s2-t2-reps"]
    with pdfium.PdfDocument(booklet()) as pdf:
        pdf.init_forms()
        assert pdf.formenv is not None
        page = pdf[page_number]
        click(pdf.formenv.raw, page, rect)
        type_in(pdf.formenv.raw, page, "4")
        raw.FORM_ForceToKillFocus(pdf.formenv.raw)
        out = io.BytesIO()
        pdf.save(out, flags=raw.FPDF_INCREMENTAL)
    return out.getvalue()
