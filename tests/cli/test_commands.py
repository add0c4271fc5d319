"""The commands as a user meets them: what they print, what they write, and how they end."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
import warm
from jsonschema import Draft202012Validator

SAMPLES = Path(__file__).parents[2] / "samples"
NOVICE = SAMPLES / "novice"

CLIENT = """format: 1
client: {name: Ada Quill, units: kg}
training: {status: novice, months: 3, days: [mon], session_minutes: 60, starts: 2027-01-11}
lifts:
  back squat: {tests: [{date: 2027-01-02, load: 60, reps: 5, rir: 2}]}
gym: {bars: {bar: 20}, pairs: {20: 2, 10: 1, 5: 1, 2.5: 1, 1.25: 1}, safeties: true, spotter: always}
screening: {answered: 2027-01-02}
"""
BLOCK = """format: 1
block: {title: Short, weeks: 1, suits: [novice]}
days:
  - title: Squat
    slots:
      - {movement: back squat, progression: {kind: single, sets: 3, reps: 5, add: 2.5 kg}}
"""


def loadleaf(*arguments: object, cwd: Path | None = None, **environment: str) -> subprocess.CompletedProcess[str]:
    """Runs the command in a process of its own, as a user does; a new one where Python itself is to start otherwise."""
    if not any(name.startswith("PYTHON") for name in environment):
        return warm.run(tuple(map(str, arguments)), cwd, environment)
    return subprocess.run(
        [sys.executable, "-m", "builder", *map(str, arguments)],
        cwd=cwd, env={**os.environ, **environment}, capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip


@pytest.fixture
def pair(tmp_path: Path) -> tuple[Path, Path]:
    """A small client and block that fit each other."""
    client, block = tmp_path / "client.yaml", tmp_path / "block.yaml"
    client.write_text(CLIENT, encoding="utf-8")
    block.write_text(BLOCK, encoding="utf-8")
    return client, block


def test_check_says_that_all_is_well_and_ends_with_0(pair: tuple[Path, Path]) -> None:
    done = loadleaf("check", *pair)
    assert done.returncode == 0, done.stderr
    assert "No problem found" in done.stdout


def test_check_ends_with_1_on_a_caution_when_it_is_asked_to_be_strict(pair: tuple[Path, Path]) -> None:
    """Squats without safeties: a remark as a rule, a reason to stop with --strict; the same as JSON."""
    client, _ = pair
    assert loadleaf("check", "--strict", *pair).returncode == 0
    client.write_text(CLIENT.replace("safeties: true", "safeties: false"), encoding="utf-8")
    assert loadleaf("check", *pair).returncode == 0
    for more in ([], ["--json"]):
        assert loadleaf("check", "--strict", *more, *pair).returncode == 1


def test_build_tells_cautions_and_builds_all_the_same(pair: tuple[Path, Path], tmp_path: Path) -> None:
    client, _ = pair
    client.write_text(CLIENT.replace("safeties: true", "safeties: false"), encoding="utf-8")
    done = loadleaf("build", *pair, "-o", tmp_path / "a.pdf")
    assert done.returncode == 0 and "[squat-without-safeties]" in done.stderr


def test_check_shows_every_problem_of_both_files_and_ends_with_1(pair: tuple[Path, Path]) -> None:
    client, block = pair
    client.write_text(CLIENT.replace("load: 60", "load: 60 lbs").replace("units: kg", "unit: kg"), encoding="utf-8")
    block.write_text(BLOCK.replace("add: 2.5 kg", 'add: "2,5 kg"'), encoding="utf-8")
    done = loadleaf("check", client, block)
    assert done.returncode == 1
    places = ("client.yaml:2:27", "client.yaml:5:49", "block.yaml:6:83")
    for expected in (*places, "[unknown-key]", "[wrong-unit]", "[decimal-comma]", '"2.5 kg"'):
        assert expected in done.stderr
    assert "Traceback" not in done.stderr


def test_check_as_json_names_code_and_place(pair: tuple[Path, Path]) -> None:
    client, block = pair
    client.write_text(CLIENT.replace("months: 3", "months: three"), encoding="utf-8")
    done = loadleaf("check", client, block, "--json")
    problems = json.loads(done.stdout)["problems"]
    assert done.returncode == 1
    assert [(p["code"], p["line"]) for p in problems] == [("not-a-whole-number", 3)]


def test_a_missing_file_is_a_problem_and_not_a_fault() -> None:
    done = loadleaf("check", "nowhere.yaml")
    assert done.returncode == 1
    assert "nowhere.yaml cannot be read: no such file" in done.stderr


def test_wrong_usage_ends_with_2() -> None:
    assert loadleaf("build").returncode == 2
    assert loadleaf("explain", NOVICE, "--week", "0").returncode == 2
    assert loadleaf("explain", NOVICE, "--week", "99").returncode == 2
    assert loadleaf("schema", "recipe").returncode == 2


def test_explain_json_has_the_documented_shape(pair: tuple[Path, Path]) -> None:
    done = loadleaf("explain", *pair, "--json")
    plan = json.loads(done.stdout)
    assert plan["format"] == 1
    week = plan["weeks"][0]
    assert (week["week"], week["kind"], week["starts"]) == (1, "training", "2027-01-11")
    session = week["sessions"][0]
    assert (session["day"], session["date"], session["title"]) == (1, "2027-01-11", "Squat")
    work = [s for s in session["slots"][0]["sets"] if s["role"] == "working"]
    assert len(work) == 3
    # Wathan 1994: 60 kg for 5 with 2 left is 7 to failure, 60 / (0.488 + 0.538 exp(-0.525)) = 74.04 kg; 5 with 2
    # left are the same share again, so the first load is the tested one.
    assert (work[0]["load"], work[0]["unit"], work[0]["side"], work[0]["target"]) == ("60", "kg", [["20", 1]], "60")
    assert [reason["step"] for reason in work[0]["why"]][:3] == ["test", "estimate", "working-max"]


def test_explain_takes_one_day(pair: tuple[Path, Path]) -> None:
    done = loadleaf("explain", *pair, "--week", 1, "--day", 1)
    assert "Day 1, Mon 11 Jan: Squat" in done.stdout
    assert "60 kg × 5 with 2 in reserve" in done.stdout


@pytest.mark.parametrize("kind", ["client", "block", "brand", "movements"])
def test_each_schema_is_valid_and_accepts_nothing_unknown(kind: str) -> None:
    made = json.loads(loadleaf("schema", kind).stdout)
    Draft202012Validator.check_schema(made)
    assert not Draft202012Validator(made).is_valid({"format": 1, kind: {}, "unheard-of": 1})


def test_help_names_every_command() -> None:
    done = loadleaf("--help")
    assert done.returncode == 0
    for command in ("start", "check", "build", "explain", "schema", "doctor"):
        assert f"  {command} " in done.stdout


def test_doctor_finds_this_machine_well() -> None:
    done = loadleaf("doctor")
    assert done.returncode == 0, done.stdout + done.stderr
    assert "MISSING" not in done.stdout


def test_start_makes_a_folder_that_checks_and_builds_at_once(tmp_path: Path) -> None:
    folder = tmp_path / "my block, größer"
    assert loadleaf("start", folder).returncode == 0
    assert loadleaf("check", folder).returncode == 0
    done = loadleaf("build", folder, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert [p.suffix for p in tmp_path.glob("*.pdf")] == [".pdf"]


def test_start_touches_no_folder_that_holds_something(tmp_path: Path) -> None:
    kept = tmp_path / "kept.txt"
    kept.write_text("mine", encoding="utf-8")
    done = loadleaf("start", tmp_path)
    assert done.returncode == 1
    assert [p.name for p in tmp_path.iterdir()] == ["kept.txt"]
