"""What the pressed file holds, read by libraries that did not make it."""

import hashlib
import io
import os
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from pypdf import PdfReader

from builder.pdf import OutlineEntry, PageLabel, Pressed, press

from . import sample

ROOT = Path(__file__).resolve().parents[2]


def names_in_order() -> list[str]:
    """The fields as a person reads them: the log row by row, then the rest down the pages."""
    log = [sample.set_name(row, part) for row in sample.ROWS for part in (*sample.PARTS, "done")]
    return [*log, sample.NOTE, sample.WEIGHT, sample.SLEEP, sample.PLACE]


def test_press_reports_pages_fields_and_outline_and_is_silent(full: Pressed) -> None:
    assert full.pages == 2
    assert full.field_count == len(sample.specs()) == 24
    assert full.warnings == ()
    assert full.outline == (OutlineEntry(1, "Week 1 → squat", 0), OutlineEntry(2, "Second page", 1))


def test_every_field_is_read_back_with_its_value_label_and_limits(full: Pressed) -> None:
    fields: dict[str, Any] = PdfReader(io.BytesIO(full.pdf)).get_fields() or {}
    assert list(fields) == names_in_order()
    for name, spec in sample.specs().items():
        assert fields[name]["/TU"] == spec.label
        if spec.kind == "tick":
            assert fields[name]["/FT"] == "/Btn"
            assert fields[name]["/V"] == ("/Yes" if spec.value else "/Off")
        else:
            assert fields[name]["/FT"] == "/Tx"
            assert fields[name].get("/V", "") == spec.value
    assert fields[sample.NOTE]["/Ff"] == 4096


def test_alignment_length_and_typing_size_reach_the_widgets(full: Pressed) -> None:
    with pikepdf.open(io.BytesIO(full.pdf)) as pdf:
        widgets = {str(w.T): w for page in pdf.pages for w in page.Annots if w.Subtype == "/Widget"}
        load = widgets[sample.set_name(1, "load")]
        assert (int(load.Q), int(load.MaxLen), str(load.DA)) == (1, 6, "/Helv 11 Tf 0 g")
        assert widgets[sample.WEIGHT].Q == 2
        assert "/Q" not in widgets[sample.PLACE]
        assert all(w.F == 4 for w in widgets.values())
        assert "/NeedAppearances" not in pdf.Root.AcroForm


def test_ticks_have_both_states_and_blank_fields_share_one_appearance(full: Pressed) -> None:
    with pikepdf.open(io.BytesIO(full.pdf)) as pdf:
        widgets = {str(w.T): w for page in pdf.pages for w in page.Annots if w.Subtype == "/Widget"}
        for row in sample.ROWS:
            tick = widgets[sample.set_name(row, "done")]
            assert set(tick.AP.N.keys()) == {"/Yes", "/Off"}
        blanks = {widgets[sample.set_name(row, "reps")].AP.N.objgen for row in sample.ROWS}
        assert len(blanks) == 1


def test_fields_hang_in_the_structure_tree_in_reading_order(full: Pressed) -> None:
    """Each widget has one Form node, below the node of its cell, and the parent tree leads back to it."""
    with pikepdf.open(io.BytesIO(full.pdf)) as pdf:
        nodes = list(walk(pdf.Root.StructTreeRoot.K))
        forms = [node for node in nodes if str(node.S) == "/Form"]
        assert [str(node.K[0].Obj.T) for node in forms] == names_in_order()
        cells = [str(node.P.S) for node in forms]
        assert cells == ["/TD"] * 20 + ["/P", "/Span", "/Span", "/Div"]
        nums = list(pdf.Root.StructTreeRoot.ParentTree.Nums)
        parents = dict(zip(map(int, nums[0::2]), nums[1::2], strict=True))
        assert len(parents) * 2 == len(nums)
        for node in forms:
            assert parents[int(node.K[0].Obj.StructParent)].objgen == node.objgen


def walk(node: Any) -> Any:
    """The structure elements below a K entry, in order."""
    kids = node if isinstance(node, pikepdf.Array) else [node]
    for kid in kids:
        if isinstance(kid, pikepdf.Dictionary) and kid.get("/S") is not None:
            yield kid
            yield from walk(kid.get("/K", pikepdf.Array()))


def test_attachments_come_back_byte_for_byte_sorted_and_associated_once(full: Pressed) -> None:
    reader = PdfReader(io.BytesIO(full.pdf))
    assert {name: data[0] for name, data in reader.attachments.items()} == {f.name: f.data for f in sample.ATTACHED}
    with pikepdf.open(io.BytesIO(full.pdf)) as pdf:
        names = list(pdf.Root.Names.EmbeddedFiles.Names)
        assert [str(name) for name in names[0::2]] == ["client.yaml", "plan.json"]
        assert [f.objgen for f in pdf.Root.AF] == [spec.objgen for spec in names[1::2]]
        assert [str(spec.AFRelationship) for spec in names[1::2]] == ["/Source", "/Data"]
        assert [str(spec.EF.F.Subtype) for spec in names[1::2]] == ["/application/yaml", "/application/json"]


def test_metadata_dates_labels_and_opening(full: Pressed) -> None:
    reader = PdfReader(io.BytesIO(full.pdf))
    data = reader.metadata
    assert data is not None
    assert (data.title, data.author, data.subject) == ("Sample für A & B", "A Coach", "Two pages of fields")
    assert data.creation_date == data.modification_date == datetime(2027, 1, 11, 6, 30, tzinfo=UTC)
    assert reader.page_labels == ["i", "W1-5"]
    root: Any = reader.root_object
    assert root["/Lang"] == "en-GB"
    assert root["/OpenAction"][0].get_object() == reader.pages[0]
    assert root["/OpenAction"][1] == "/Fit"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert all(str(page["/Tabs"]) == "/S" for page in reader.pages)
    with pikepdf.open(io.BytesIO(full.pdf)) as pdf, pdf.open_metadata() as xmp:
        assert xmp["pdfuaid:part"] == "1"
        assert xmp["pdfaid:part"] == "3"
        assert xmp["dc:identifier"] == "sample-0001"


def test_without_fields_the_same_pages_carry_no_form() -> None:
    plain = sample.pressed(filled=False, fillable=False)
    assert plain.field_count == 0
    assert plain.pages == 2
    assert "/AcroForm" not in PdfReader(io.BytesIO(plain.pdf)).root_object


def test_labels_that_start_late_get_a_plain_first_range() -> None:
    late = press("<p>a</p>", [sample.CSS], roots=[sample.HERE], fields={}, meta=sample.META,
                 labels=[PageLabel(1, "", "x")])  # fmt: skip
    with pikepdf.open(io.BytesIO(late.pdf)) as pdf:
        assert [int(n) for n in list(pdf.Root.PageLabels.Nums)[0::2]] == [0, 1]


def test_pressing_twice_gives_the_same_bytes(full: Pressed) -> None:
    assert sample.pressed().pdf == full.pdf


@pytest.mark.parametrize("seed", ["1", "2"])
def test_another_process_with_another_hash_seed_gives_the_same_bytes(full: Pressed, seed: str, tmp_path: Path) -> None:
    code = "import hashlib, sample; print(hashlib.sha256(sample.pressed().pdf).hexdigest())"
    paths = os.pathsep.join([str(ROOT), str(sample.HERE)])
    env = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": paths}
    run = subprocess.run(
        [sys.executable, "-c", code], env=env, cwd=tmp_path, capture_output=True, text=True, check=True
    )
    assert run.stdout.strip() == hashlib.sha256(full.pdf).hexdigest()
    assert run.stderr == ""


def test_importing_the_press_does_not_load_the_typesetter() -> None:
    heavy = ("weasyprint", "fontTools", "pypdf")
    code = f"import sys, builder.pdf; print([m for m in {heavy} if m in sys.modules])"
    run = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"


def test_heads_of_tables_say_whose_they_are_and_cells_have_the_heads_of_their_column_and_row() -> None:
    """Also a head over a whole row; ISO 32000-1, 14.8.5.7 has Scope and Headers. Templates name neither."""
    wide = "<table><thead><tr><th>Day</th><th>Load</th></tr></thead><tbody><tr><th>Mon</th><td>80</td></tr>"
    html = sample.page_html(f'{wide}<tr><th colspan="2">Tue: rest</th></tr></tbody></table>')
    made = press(html, [sample.CSS], roots=[sample.HERE], fields=sample.specs(), meta=sample.META)
    with pikepdf.open(io.BytesIO(made.pdf)) as pdf:
        nodes = [one for one in pdf.objects if isinstance(one, pikepdf.Dictionary)]
        heads = {str(one.ID): str(one.A.Scope) for one in nodes if one.get("/S") == "/TH"}
        cells = [[heads[str(head)] for head in one.A.Headers] for one in nodes if one.get("/S") == "/TD"]
    assert sorted(heads.values()) == ["/Column"] * 5 + ["/Row"] * (len(sample.ROWS) + 2)
    assert cells == [["/Row", "/Column"]] * (2 * len(sample.ROWS) + 1)
