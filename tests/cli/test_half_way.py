"""`build --from-week` as a coach meets it: the rest of a block anew, with the entries made so far."""

from __future__ import annotations

import tempfile
from pathlib import Path
from subprocess import CompletedProcess

import pytest
import yaml
from cli.test_commands import loadleaf
from kept import once_a_run
from log.viewers import with_pikepdf

CLIENT = """format: 1
client: {name: Ada Quill, units: kg}
training: {status: novice, months: 3, days: [mon], session_minutes: 60, starts: 2027-01-11}
equation: table
lifts:
  back squat: {tests: [{date: 2027-01-02, load: 100, reps: 1}]}
gym: {bars: {bar: 20}, pairs: {20: 2, 10: 1, 5: 1, 2.5: 1, 1.25: 1}, safeties: true, spotter: always}
screening: {answered: 2027-01-02}
"""
BLOCK = """format: 1
block: {title: Short, weeks: 4, suits: [novice]}
days:
  - title: Squat
    slots:
      - {movement: back squat, progression: {kind: single, sets: 3, reps: 5, rir: 1, add: 2.5 kg}}
"""
WRITTEN: dict[str, str | bool] = {
    "w01-d1-s1-t1-done": True,
    "w02-d1-s1-t1-did": "92,5 x 6",
    "w02-d1-note": "knee well 💪",
    "w03-d1-s1-t1-done": True,
    "record-l1-r6-load": "92.5",
}


@once_a_run
def _first() -> bytes:
    """The booklet of the sources as they were."""
    with tempfile.TemporaryDirectory() as name:
        client, block, target = (Path(name, file) for file in ("client.yaml", "block.yaml", "first.pdf"))
        client.write_text(CLIENT, "utf-8")
        block.write_text(BLOCK, "utf-8")
        done = loadleaf("build", client, block, "-o", target, "--paper", "A5")
        assert done.returncode == 0, done.stderr
        return target.read_bytes()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Sources, the booklet made from them and a filled copy; then a test was added to the profile."""
    (tmp_path / "block.yaml").write_text(BLOCK, "utf-8")
    (tmp_path / "filled.pdf").write_bytes(with_pikepdf(_first(), WRITTEN, tmp_path))
    tested = CLIENT.replace("reps: 1}]", "reps: 1}, {date: 2027-01-23, load: 120, reps: 1}]")
    (tmp_path / "client.yaml").write_text(tested, "utf-8")
    return tmp_path


def build(folder: Path, *options: object) -> CompletedProcess[str]:
    sources = folder / "client.yaml", folder / "block.yaml"
    return loadleaf("build", *sources, "-o", folder / "second.pdf", "--paper", "A5", *options)


@pytest.mark.slow
def test_the_rest_is_planned_anew_and_the_log_moves_along(folder: Path) -> None:
    """85 % of 100 kg, then 2.5 kg more, as printed; from week 3 on 85 % of 120 kg (Haff & Triplett 2016, 17.7)."""
    done = build(folder, "--from-week", 3, "--log", folder / "filled.pdf")
    assert done.returncode == 0, done.stderr
    assert "1 entries stay in the old booklet only: w03-d1-s1-t1-done" in done.stderr
    log = yaml.safe_load(loadleaf("read", folder / "second.pdf").stdout)
    sets = [session["slots"][0]["sets"][0] for session in log["sessions"]]
    assert [one["planned"]["load"] for one in sets] == [85, 87.5, 102.5, 105]
    assert sets[1]["done"] == {"load": 92.5, "reps": 6, "rir": None}
    assert [session["note"] for session in log["sessions"]][:2] == [None, "knee well 💪"]
    assert log["record_table"] == [{"movement": "back squat", "reps": 6, "load": 92.5, "date": None}]
    assert "glyph-unseen" in done.stderr


@pytest.mark.slow
def test_the_new_booklet_carries_what_it_was_made_from(folder: Path) -> None:
    """The resumption, the records of the log and what it shows of the maxes are a file of their own."""
    assert build(folder, "--from-week", 3, "--log", folder / "filled.pdf", "--edition", "log").returncode == 0
    assert loadleaf("unpack", folder / "second.pdf", folder / "out").returncode == 0
    extra = yaml.safe_load((folder / "out" / "resume-week-03.yaml").read_text("utf-8"))
    assert extra["training"]["resumes"] == [{"week": 3}]
    assert extra["lifts"]["back squat"]["records"][-1]["load"] == "92.5 kg"
    assert "92.5 kg" in [one["load"] for one in extra["lifts"]["back squat"]["logged"]]
    sources = [folder / "out" / name for name in ("client.yaml", "block.yaml", "resume-week-03.yaml")]
    assert loadleaf("check", *sources).returncode == 0


@pytest.mark.slow
def test_an_entry_never_stands_beside_another_plan(folder: Path) -> None:
    """Without --from-week the new test would change week 2 too."""
    before = folder / "second.pdf"
    done = build(folder, "--log", folder / "filled.pdf")
    assert done.returncode == 1
    assert "w02-d1-s1-t1-did: error: set 1 of slot 1 in week 2, day 1 is planned otherwise now" in done.stderr
    assert not before.exists()


def test_options_that_need_a_week_say_so(folder: Path) -> None:
    assert build(folder, "--share", "90 %").returncode == 2
    assert build(folder, "--from-week", 3, "--share", "9").returncode == 2
    assert build(folder, "--from-week", 9).returncode == 1
