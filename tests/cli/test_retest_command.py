"""`loadleaf retest` from the terminal: exit codes, what is printed, and the booklet that follows."""

from __future__ import annotations

import json
import os
import shlex
from pathlib import Path

import pytest
from cli.test_commands import loadleaf
from pypdf import PdfReader
from retest.files import BLOCK
from sources_for_tests import CLIENT

from builder import places

SQUAT = ("--result", "back squat: 205 x 1")
DATES = ("--on", "2027-02-13", "--date", "2027-03-01")


@pytest.fixture
def files(tmp_path: Path) -> tuple[Path, Path]:
    client, block = tmp_path / "client.yaml", tmp_path / "block.yaml"
    client.write_text(CLIENT, encoding="utf-8")
    block.write_text(BLOCK, encoding="utf-8")
    return client, block


@pytest.mark.slow
def test_a_retest_prints_what_changed_and_builds_the_next_revision(files: tuple[Path, Path], tmp_path: Path) -> None:
    target = tmp_path / "new.pdf"
    done = loadleaf("retest", *files, *SQUAT, "--missed", "squat: 212.5", *DATES, "-o", target, "--paper", "A5")
    assert done.returncode == 1 and "[duplicate-lift]" in done.stderr
    done = loadleaf("retest", *files, *SQUAT, "--missed", "back squat: 212.5", *DATES, "-o", target, "--paper", "A5")
    assert done.returncode == 0, done.stderr
    lines = done.stdout.splitlines()
    assert "  Tested on 13 Feb 2027: 205 kg × 1, 0 in reserve. Attempts missed: 212.5 kg." in lines
    # 70 % of 200 is 140, of 205 143.5, on steps of 2.5 kg 142.5.
    assert "  Week 1, top set   140 kg × 5   142.5 kg × 5      +2.5 kg" in lines
    assert lines[-1].startswith(f"{target}: revision 2, ")
    reader = PdfReader(target)
    pages = [page.extract_text() for page in reader.pages]
    assert "revision 2" in pages[0]
    assert any("What changed" in page and "205" in page for page in pages[2:8])
    assert "missed: [212.5]" in files[0].read_text(encoding="utf-8")
    # The same booklet comes from the profile as it now is.
    assert loadleaf("build", *files, "-o", tmp_path / "again.pdf", "--paper", "A5", *DATES[2:]).returncode == 0
    assert (tmp_path / "again.pdf").read_bytes() == target.read_bytes()


@pytest.mark.slow
def test_json_and_german_tell_the_same(files: tuple[Path, Path], tmp_path: Path) -> None:
    where = ("--edition", "log", "-o", tmp_path / "new.pdf")
    done = loadleaf("retest", *files, *SQUAT, *DATES, *where, "--json")
    assert done.returncode == 0
    told = json.loads(done.stdout)
    assert told["files"]["kept"] == [str(tmp_path / "client.yaml.before-retest")]
    assert told["change"]["revision"] == 2
    assert told["change"]["lifts"][0]["estimate"] == {"before": "200", "now": "205"}
    assert [p["code"] for p in told["problems"]] == ["starts-before"]
    lower = ("--result", "back squat: 195 x 1", "--on", "2027-02-27", "--date", "2027-03-01", "--language", "de")
    done = loadleaf("retest", *files, *lower, *where)
    assert done.returncode == 0, done.stderr
    assert "Kniebeuge" in done.stdout and "−10 kg" in done.stdout
    assert "Wenn ein Ergebnis niedriger ist" in done.stdout and "ärztliche Hände" in done.stdout


def test_a_doubt_is_named_ends_with_one_and_writes_nothing(files: tuple[Path, Path], tmp_path: Path) -> None:
    done = loadleaf("retest", *files, "--result", "back squat: 440 x 1", *DATES)
    assert done.returncode == 1
    assert "[other-unit]" in done.stderr and "--yes" in done.stderr and "Nothing was written." in done.stderr
    told = loadleaf("retest", *files, "--result", "back squat: 440 x 1", *DATES, "--json")
    assert told.returncode == 1
    assert "other-unit" in [p["code"] for p in json.loads(told.stdout)["problems"]]
    assert files[0].read_text(encoding="utf-8") == CLIENT
    assert sorted(os.listdir(tmp_path)) == ["block.yaml", "client.yaml"]


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ((), "--result"),
        (("--made", "back squat: 200"), "--result"),
        (("--result", "back squat 205 x 1"), 'Write "back squat: 147.5 x 1"'),
        (("--result", "back squat: 1,475 x 1"), 'Write "1475" if the comma parts thousands'),
        ((*SQUAT, "--on", "13.2.2027"), "not a date"),
        ((*SQUAT, "--bodyweight", "80 stone"), "not a unit of load"),
    ],
)
def test_what_cannot_be_read_is_wrong_usage(files: tuple[Path, Path], options: tuple[str, ...], said: str) -> None:
    done = loadleaf("retest", *files, *options)
    assert done.returncode == 2
    assert said in done.stderr
    assert files[0].read_text(encoding="utf-8") == CLIENT


@pytest.mark.slow
def test_the_walk_through_of_the_readme_prints_what_it_shows(tmp_path: Path) -> None:
    told = places.reference().read_text(encoding="utf-8").split("### `loadleaf retest FILES`")[1]
    command, shown = (told.split(mark)[1].split("```")[0].strip() for mark in ("```sh", "```text"))
    # The starter files are dated by the day they are made: here shortly before the block that the test day ends.
    loadleaf("start", "mara", "--date", "2027-04-03", cwd=tmp_path)
    done = loadleaf(*shlex.split(command)[1:], "--date", "2027-05-10", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith(shown.removesuffix("…"))
    assert len(shown.splitlines()) > 10
