"""What travels inside each kind of copy, told by `carries`, and taken out by `strip`."""

from __future__ import annotations

import io
import re
import tempfile
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest
from cli.test_commands import loadleaf
from kept import once_a_run
from log.small import BLOCK, CLIENT, ON, WRITTEN
from log.viewers import with_pikepdf

from builder.intake import load
from builder.log import progress, read_log
from builder.log.merge import merge
from builder.pages.model import Edition, Paper
from builder.pdf.forms.form import read_forms
from builder.values.lists import Keep
from builder.values.problem import Problem
from builder.work.carries import FACTS, Carries, carries, kind_of
from builder.work.publish import Choices, publish
from builder.work.strip import strip

REFERENCE = Path(__file__).parents[2] / "builder" / "manual" / "reference.md"
PRIVATE = CLIENT.replace("born: 1990", "born: 1957, sex: female").replace("Quill", "Ysolde Quill") + (
    "limits: [{area: left shoulder, avoid: [overhead press], note: torn cuff}]\n"
)
ENTRIES: dict[str, str | bool] = WRITTEN | {
    "w01-d1-bodyweight": "81,3",
    "w01-d1-note": "told my sister Brynja",
    "w02-d1-s3-note": "pill for the shoulder",
    "retest-note": "Ysolde was tired",
    "retest-l1-note": "grinder",
}
WHOLE = Choices(ON, Paper.A5, edition=Edition.LOG, buyer="Vela Ferrum", keep=Keep.ALL)
KINDS = {
    "a whole booklet": WHOLE,
    "`--no-sources`": replace(WHOLE, whole=False),
    "`--bleed`": replace(WHOLE, bleed=True, fillable=False),
}


@once_a_run
def _made(kind: str) -> bytes:
    with tempfile.TemporaryDirectory() as name:
        for file, text in (("client", PRIVATE), ("block", BLOCK)):
            Path(name, f"{file}.yaml").write_text(text, "utf-8")
        done = publish(load([Path(name, "client.yaml"), Path(name, "block.yaml")]), KINDS[kind])
    assert done.pressed is not None, done.problems
    return done.pressed.pdf


def copy(kind: str, folder: Path) -> Path:
    """A copy of a kind, with entries where it can have some."""
    path = folder / "copy.pdf"
    data = _made(kind)
    path.write_bytes(data if kind == "`--bleed`" else with_pikepdf(data, ENTRIES, folder))
    return path


def told(path: Path) -> Carries:
    found, problems = carries(path)
    assert found is not None, [problem.as_text() for problem in problems]
    return found


def _stripped(path: Path, folder: Path) -> Path:
    made, problems = strip(path)
    assert made is not None, [problem.as_text() for problem in problems]
    (folder / "stripped.pdf").write_bytes(made.pdf)
    return folder / "stripped.pdf"


def _table() -> dict[str, dict[str, bool]]:
    """The reference's table: for each kind of copy which kinds of facts it carries."""
    lines = REFERENCE.read_text("utf-8").split("<!-- table: copies -->\n")[1].split("\n\n")[0].splitlines()
    cells = [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]
    heads = cells[0][2:]
    return {head: {row[0].strip("`"): row[n] == "yes" for row in cells[2:]} for n, head in enumerate(heads, 2)}


@pytest.mark.slow
@pytest.mark.parametrize("kind", [*KINDS, "`loadleaf strip`"])
def test_the_readme_tells_what_each_kind_of_copy_carries(kind: str, tmp_path: Path) -> None:
    path = copy(kind, tmp_path) if kind in KINDS else _stripped(copy("a whole booklet", tmp_path), tmp_path)
    row = _table()[kind]
    assert tuple(row) == FACTS
    assert told(path).kinds == {fact for fact, there in row.items() if there}


@pytest.mark.slow
def test_each_file_and_each_personal_fact_is_told_in_plain_words(tmp_path: Path) -> None:
    done = loadleaf("carries", copy("a whole booklet", tmp_path))
    assert done.returncode == 0, done.stderr
    for words in (
        "01-client.yaml: a source file, client.yaml", "plan.json: the whole plan", "name: the lifter's name, Ysolde",
        "copy: buyer Vela Ferrum", "body: born in 1957", "body: sex female", "body: bodyweight 80 kg",
        "health: what hurts: left shoulder (torn cuff)", "health: filled in: 1 × bodyweight and sleep",
        "× cells of sets", "rules: the rules of the block",
    ):  # fmt: skip
        assert words in done.stdout, words


@pytest.mark.slow
def test_a_file_that_somebody_put_in_is_told_as_unknown(tmp_path: Path) -> None:
    with pikepdf.open(copy("`--no-sources`", tmp_path)) as pdf:
        pdf.attachments["holiday.jpg"] = b"\xff\xd8"
        pdf.save(tmp_path / "more.pdf")
    assert ("holiday.jpg", "not ours; what it holds is not known") in told(tmp_path / "more.pdf").files


def _all_bytes(path: Path) -> bytes:
    """Everything that the file says, unpacked."""
    out = io.BytesIO()
    with pikepdf.open(path) as pdf:
        pdf.save(out, qdf=True)
        attached = [spec.get_file().read_bytes() for spec in pdf.attachments.values()]
    return b"".join([out.getvalue(), *attached])


SECRETS = ("Ysolde", "Brynja", "pill for", "torn cuff", "1957", "2026-12-19", "grinder", "Vela Ferrum", "81,3")


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["a whole booklet", "`--no-sources`"])
def test_nothing_personal_is_left_in_a_stripped_file(kind: str, tmp_path: Path) -> None:
    """Looked for in every byte of the unpacked file, as PDF text in both of its spellings."""
    path = copy(kind, tmp_path)
    data, before = _all_bytes(_stripped(path, tmp_path)), _all_bytes(path)
    for secret in SECRETS:
        spellings = (secret.encode(), secret.encode("utf-16-be"), secret.encode("utf-16-be").hex().encode())
        assert not any(spelling in data for spelling in spellings), secret
    assert b"Ysolde" in before and b"Brynja" in before


@pytest.mark.slow
def test_the_training_of_a_stripped_file_is_read_as_before(tmp_path: Path) -> None:
    def sums(path: Path) -> tuple[object, tuple[Problem, ...]]:
        (form,), problems = read_forms(path)
        answers, more = merge([form])
        assert answers is not None
        log, unclear = read_log(answers)
        found = progress(log)
        return replace(found, records=(), estimates=()), (*problems, *more, *unclear)

    path = copy("`--no-sources`", tmp_path)
    whole, stripped = sums(path), sums(_stripped(path, tmp_path))
    assert stripped == whole and not stripped[1]
    done = loadleaf("strip", path, "-o", tmp_path / "out.pdf")
    assert done.returncode == 0, done.stderr
    assert re.search(r"out\.pdf: \d of \d pages, \d+ entries", done.stdout), done.stdout


@pytest.mark.parametrize("name", ["w01-d1-bodyweight", "w02-bodyweight", "w02-sleep", "screening-q1-no"])
def test_what_is_written_of_the_body_is_told_as_health_data_whether_of_a_day_or_of_a_week(name: str) -> None:
    assert kind_of(name)[0] == "health"


@pytest.mark.parametrize("name", ["w01-d1-note", "w02-good", "w01-d1-s1-t1-load", "licence-name", "a-stranger"])
def test_what_is_written_otherwise_is_told_as_an_entry(name: str) -> None:
    assert kind_of(name)[0] == "entries"
