"""What travels inside a booklet: enough to read it and to build it again, and no more than the coach wants."""

from __future__ import annotations

import io
import json
from dataclasses import replace
from datetime import date
from pathlib import Path

import pikepdf
import pytest
from log import small
from pages.sample_pages import NAMES

from builder.intake import load
from builder.log import manifest as carried
from builder.pages.model import Edition, Paper
from builder.pdf.forms.luggage import unpack
from builder.plan import Plan, identity, make_plan
from builder.values.lists import Keep
from builder.work.publish import Choices, publish

SAMPLES = Path(__file__).parents[2] / "samples"
CHOICES = Choices(date(2027, 1, 4), Paper.A4, edition=Edition.LOG, keep=Keep.ALL)


def pressed(paths: list[Path], choices: Choices = CHOICES) -> bytes:
    done = publish(load(paths), choices)
    assert done.pressed is not None, [problem.as_text() for problem in done.problems]
    return done.pressed.pdf


def plan_of(paths: list[Path]) -> Plan:
    sources = load(paths).sources
    assert sources is not None
    return make_plan(sources)


def attachments(data: bytes) -> dict[str, bytes]:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        return {name: spec.get_file().read_bytes() for name, spec in pdf.attachments.items()}


@pytest.fixture(scope="module")
def novice() -> bytes:
    return pressed([SAMPLES / "novice", SAMPLES / "brand"])


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_a_booklet_alone_is_enough_to_build_it_again_byte_for_byte(name: str, tmp_path: Path) -> None:
    data = pressed([SAMPLES / name, SAMPLES / "brand"])
    (tmp_path / "booklet.pdf").write_bytes(data)
    luggage, problems = unpack(tmp_path / "booklet.pdf")
    assert luggage is not None, problems
    for path, contents in (*luggage.sources, *luggage.assets):
        target = tmp_path / "again" / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(contents)
    assert pressed([tmp_path / "again" / path for path, _ in luggage.sources]) == data


def test_the_sources_are_carried_as_they_were_read_and_associated_as_sources(novice: bytes) -> None:
    """The relationship of an associated file: ISO 19005-3, 6.8."""
    client = (SAMPLES / "novice" / "client.yaml").read_bytes()
    assert client in attachments(novice).values()
    with pikepdf.open(io.BytesIO(novice)) as pdf:
        kinds = {name: str(spec.obj.AFRelationship) for name, spec in pdf.attachments.items()}
        assert len(pdf.Root.AF) == len(kinds)
    assert {kinds[name] for name in kinds if name.endswith(".yaml")} == {"/Source"}
    assert kinds["plan.json"] == kinds["booklet.json"] == "/Data"


def test_the_identity_of_the_plan_is_that_of_the_manifest_and_the_printed_code(novice: bytes) -> None:
    """RFC 4648, 6: five bits a letter, so that eight letters are the first forty bits of the digest."""
    manifest = carried.from_bytes(attachments(novice)["booklet.json"])
    made = identity(plan_of([SAMPLES / "novice"]))
    assert (manifest.digest, manifest.code) == (made.digest, made.code)
    letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"
    assert f"{int(made.digest[:10], 16):040b}" == "".join(f"{letters.index(letter):05b}" for letter in made.code)
    assert manifest.version == __import__("builder").__version__


def test_the_manifest_plans_each_set_as_the_plan_does(novice: bytes) -> None:
    """Working sets of plan.json beside the rows, both in the order of the pages."""
    files = attachments(novice)
    plan = json.loads(files["plan.json"])
    planned = [
        (week["week"], session["day"], number, one["reps"])
        for week in plan["weeks"]
        for session in week["sessions"]
        for number, slot in enumerate(session["slots"], 1)
        for one in slot["sets"]
        if one["role"] not in ("ramp", "attempt")
    ]
    rows = carried.from_bytes(files["booklet.json"]).rows
    assert [(row.week, row.day, row.slot, row.reps) for row in rows] == planned


def test_the_manifest_is_read_back_as_it_was_written(novice: bytes) -> None:
    data = attachments(novice)["booklet.json"]
    assert carried.as_bytes(carried.from_bytes(data)) == data


def test_without_sources_nothing_travels_but_the_meaning_of_the_fields() -> None:
    """Neither the coach's rules nor the client's facts: what hurts, when born, what was weighed and lifted before."""
    private = small.CLIENT.replace("born: 1990", "born: 1957").replace("bodyweight: 80", "bodyweight: 81.3")
    private += "limits: [{area: left shoulder, avoid: [overhead press], note: torn cuff}]\n"
    files = attachments(small.booklet(whole=False, client_text=private))
    assert set(files) == {"booklet.json"}
    manifest = carried.from_bytes(files["booklet.json"])
    assert manifest.client == "Quill" and manifest.fields and not manifest.protection.whole
    told = files["booklet.json"].decode()
    facts = ("1957", "81.3", "shoulder", "cuff", "2026-12-19", "screening.", "rep_out", "progression")
    assert [fact for fact in facts if fact in told] == []
    whole = b"".join(attachments(small.booklet(client_text=private)).values()).decode()
    assert all(fact in whole for fact in ("1957", "81.3", "shoulder", "cuff", "2026-12-19", "rep_out"))


def test_a_print_shop_gets_no_files() -> None:
    assert attachments(pressed([SAMPLES / "novice"], replace(CHOICES, bleed=True, fillable=False))) == {}


def test_files_of_one_name_are_told_apart(tmp_path: Path) -> None:
    for folder, kind in (("a", "client"), ("b", "block")):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "part.yaml").write_bytes((SAMPLES / "novice" / f"{kind}.yaml").read_bytes())
    files = attachments(pressed([tmp_path / "a" / "part.yaml", tmp_path / "b" / "part.yaml"]))
    assert {"01-part.yaml", "02-part-2.yaml"} <= set(files)
