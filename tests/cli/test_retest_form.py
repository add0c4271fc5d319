"""`retest --form`: the filled retest form goes into the profile as if it had been typed."""

from __future__ import annotations

from pathlib import Path
from subprocess import CompletedProcess

import pytest
import yaml
from cli.test_commands import loadleaf
from log.small import booklet
from log.viewers import FILLERS, Values, absent

FORM: Values = {
    "retest-l1-a1-good": True,
    "retest-l1-a2-load": "195",
    "retest-l1-a2-good": True,
    "retest-l1-a3-load": "452,5 lb",
    "retest-l1-date": "18.1.",
    "retest-l1-note": "third: lost the brace",
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The sources of the small booklet, out of itself."""
    (tmp_path / "booklet.pdf").write_bytes(booklet())
    assert loadleaf("unpack", tmp_path / "booklet.pdf", tmp_path / "mara").returncode == 0
    return tmp_path


def retest(folder: Path, values: Values, *options: object, filler: str = "pikepdf") -> CompletedProcess[str]:
    (folder / "filled.pdf").write_bytes(FILLERS[filler](booklet(), values, folder))
    files = folder / "mara" / "client.yaml", folder / "mara" / "block.yaml"
    output = ("-o", folder / "next.pdf", "--edition", "log", "--paper", "A5", "--date", "2027-01-20")
    return loadleaf("retest", *files, "--form", folder / "filled.pdf", *output, *options)


def profile_tests(folder: Path) -> list[dict[str, object]]:
    found = yaml.safe_load((folder / "mara" / "client.yaml").read_text("utf-8"))["lifts"]["back squat"]["tests"]
    assert isinstance(found, list)
    return found


@pytest.mark.slow
@pytest.mark.parametrize("filler", ["pikepdf", "pdfium", "pdfjs"])
def test_the_form_becomes_a_dated_test_with_its_attempts(filler: str, folder: Path) -> None:
    """The opener was ticked as printed, 182.5 kg; the best good attempt counts; the miss is kept in its own unit."""
    if reason := absent(filler):
        pytest.skip(reason)
    done = retest(folder, FORM, filler=filler)
    assert done.returncode == 0, done.stderr
    test = profile_tests(folder)[-1]
    assert str(test["date"]) == "2027-01-18"
    assert (test["load"], test["reps"], test["revision"]) == ("195 kg", 1, 2)
    assert test["attempts"] == {"made": ["182.5 kg", "195 kg"], "missed": ["452.5 lb"]}
    assert test["note"] == "third: lost the brace"
    assert (folder / "next.pdf").is_file()


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({}, "form-blank"),
        ({"retest-l1-load": "19o"}, "log-unclear"),
        ({"retest-l1-load": "195", "retest-l1-reps": "1"}, "form-undated"),
        (FORM | {"retest-l1-load": "190", "retest-l1-reps": "1"}, "log-unclear"),
    ],
)
def test_a_form_that_is_not_clear_changes_nothing(values: Values, said: str, folder: Path) -> None:
    before = (folder / "mara" / "client.yaml").read_bytes()
    done = retest(folder, values)
    assert done.returncode == 1
    assert f"[{said}]" in done.stderr
    assert (folder / "mara" / "client.yaml").read_bytes() == before
    assert not (folder / "next.pdf").exists()


@pytest.mark.slow
def test_a_day_can_be_said_for_a_form_without_one(folder: Path) -> None:
    values: Values = {"retest-l1-load": "195", "retest-l1-reps": "1"}
    assert retest(folder, values, "--on", "2027-01-17").returncode == 0
    assert str(profile_tests(folder)[-1]["date"]) == "2027-01-17"


def test_the_form_of_somebody_else_is_not_taken(folder: Path) -> None:
    client = folder / "mara" / "client.yaml"
    client.write_text(client.read_text("utf-8").replace("name: Quill", "name: Sedge"), "utf-8")
    done = retest(folder, FORM)
    assert done.returncode == 1
    assert "form-other" in done.stderr


def test_form_and_typed_results_are_not_mixed(folder: Path) -> None:
    assert retest(folder, FORM, "--result", "back squat: 195 x 1").returncode == 2
