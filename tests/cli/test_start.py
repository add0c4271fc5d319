"""`loadleaf start`: a folder out of ten answers, or an example, whose first booklet has no remark on any day."""

from __future__ import annotations

import os
import pty
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from cli.test_commands import loadleaf

from builder.intake import load
from builder.log.typed import Unclear
from builder.plan import make_plan
from builder.review import Finding, Gravity, review
from builder.values.problem import Problem
from builder.values.quantity import Unit
from builder.work.start import QUESTIONS, files, in_pounds

SAID = {
    Unit.KG: {"bodyweight": "71,5", "back squat": "100 x 5 rir 2", "bench press": "70x5, 1",
              "deadlift": "130kg x 4 @8", "pairs": "20x3 15 10 5 2.5 1.25 0,5"},
    Unit.LB: {"bodyweight": "165", "back squat": "225 x 5 rir 2", "bench press": "155 x 5 rir 1",
              "deadlift": "275 lb x 5 rir 2", "pairs": "45x4, 35, 25, 10x2, 5, 2.5, 1.25"},
}  # fmt: skip
DAYS = {"novice": "Monday, wed and Fri", "intermediate": "mon wed fri", "advanced": "mon tue thu fri"}


def _understood(texts: dict[str, str]) -> dict[str, str]:
    unit = Unit(texts.get("units", "kg"))
    return {question.key: question.read(texts[question.key], unit) for question in QUESTIONS if question.key in texts}


def _reviewed(folder: Path, today: date, answers: dict[str, str]) -> tuple[tuple[Problem, ...], tuple[Finding, ...]]:
    """The problems of the folder that is made, and what the review has to say of its plan."""
    for name, data in files(today, answers):
        place = folder / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(data)
    loaded = load([folder])
    return loaded.problems, review(make_plan(loaded.sources), today) if loaded.sources else ()


@pytest.mark.parametrize("today", ["2026-11-29", "2027-02-28", "2027-12-31", "2028-02-29", "2031-07-07"])
def test_the_example_has_no_remark_whatever_day_it_is(tmp_path: Path, today: str) -> None:
    assert _reviewed(tmp_path, date.fromisoformat(today), {}) == ((), ())
    assert (tmp_path / "block.yaml").is_file()


@pytest.mark.parametrize("unit", [*Unit])
@pytest.mark.parametrize("status", [*DAYS])
def test_a_client_out_of_ten_answers_gets_the_block_that_suits_and_no_remark(
    tmp_path: Path, unit: Unit, status: str
) -> None:
    said = {"name": 'Bo: #1 "the" Lifter', "units": str(unit), "born": "1990", "status": status[:3],
            "days": DAYS[status], "safeties": "y", "spotter": "some", "screening": "Yes"} | SAID[unit]  # fmt: skip
    assert _reviewed(tmp_path, date(2026, 11, 29), _understood(said)) == ((), ())
    sources = load([tmp_path]).sources
    assert sources is not None and sources.client is not None and sources.block is not None
    assert sources.client.client.name == 'Bo: #1 "the" Lifter' and sources.client.client.units == unit
    assert status in sources.block.block.suits
    for place in (tmp_path / "client.yaml", tmp_path / "block.yaml", *(tmp_path / "other-blocks").iterdir()):
        kind, up = place.stem if place.parent == tmp_path else "block", "" if place.parent == tmp_path else "../"
        assert place.read_text().startswith(f"# yaml-language-server: $schema={up}schemas/{kind}.json\n")
    assert sources.client.training.starts == date(2026, 11, 30)
    assert {path.name for path in (tmp_path / "other-blocks").iterdir()} == {f"{name}.yaml" for name in DAYS} - {
        f"{status}.yaml"
    }


def test_what_is_passed_over_is_a_guess_on_the_safe_side(tmp_path: Path) -> None:
    """Nobody is taken to be screened, spotted or safe, and no strange load is planned for a lift that was not told."""
    problems, findings = _reviewed(tmp_path, date(2026, 11, 29), {"name": "Ada Quill"})
    assert problems == ()
    cautions = {one.code for one in findings if one.gravity is Gravity.CAUTION}
    assert {"unscreened", "squat-without-safeties", "bench-alone"} <= cautions
    client = (tmp_path / "client.yaml").read_text()
    assert client.count("{date: 2026-11-29, load: 20, reps: 5, rir: 3} # a guess: the empty bar") == 3


@pytest.mark.parametrize("status", [*DAYS])
@pytest.mark.parametrize("days", ["tue", "tue, sat"])
def test_a_lifter_with_fewer_days_goes_through_them_in_turn(tmp_path: Path, status: str, days: str) -> None:
    answers = {"days": days, "status": status, "safeties": "true"}
    assert _reviewed(tmp_path, date(2026, 11, 29), answers)[0] == ()
    assert "rolling: true" in (tmp_path / "block.yaml").read_text()


@pytest.mark.parametrize(
    ("key", "text"),
    [("units", "stone"), ("bodyweight", "heavy"), ("bodyweight", "bw"), ("born", "90"), ("status", "pro"),
     ("days", "mon someday"), ("back squat", "100"), ("back squat", "100 x 20"), ("pairs", "20 kg plates"),
     ("pairs", "20x0"), ("safeties", "perhaps"), ("spotter", "me"), ("name", "x" * 90)],
)  # fmt: skip
def test_what_is_not_understood_says_how_to_write_it(key: str, text: str) -> None:
    (question,) = [question for question in QUESTIONS if question.key == key]
    with pytest.raises(Unclear) as unclear:
        question.read(text, Unit.KG)
    assert unclear.value.help.startswith(("Write", "Take"))


@pytest.mark.parametrize(
    ("text", "left"),
    [("100 x 5", "0"), ("100x5 rir 2", "2"), ("100 x 5, 2 left", "2"), ("100 × 5 @8", "2"), ("100 x 5 RPE 8.5", "1.5"),
     ("100 x 5 reps 1", "1"), ("100*5; 2 rir", "2")],
)  # fmt: skip
def test_a_set_is_understood_as_coaches_write_it(text: str, left: str) -> None:
    (question,) = [question for question in QUESTIONS if question.key == "back squat"]
    assert question.read(text, Unit.KG) == f"load: 100, reps: 5, rir: {left}"


def test_every_question_understands_its_own_example() -> None:
    assert {question.number for question in QUESTIONS} == set(range(1, 11))
    for question in QUESTIONS:
        assert question.read(question.example, Unit.KG)


def test_a_block_in_pounds_has_no_kilogram_left() -> None:
    blocks = [data.decode() for name, data in files(date(2026, 11, 29), {}) if "block" in name]
    assert any(" kg" in text for text in blocks)
    assert all(" kg" not in in_pounds(text) for text in blocks)


def test_nothing_is_asked_on_a_pipe(tmp_path: Path) -> None:
    done = loadleaf("start", tmp_path / "mine")
    assert done.returncode == 0 and "questions" not in done.stdout
    assert (tmp_path / "mine" / "other-blocks" / "advanced.yaml").is_file()


def test_on_a_terminal_it_asks_and_asks_again_and_writes_what_was_answered(tmp_path: Path) -> None:
    answers = ["Ada Quill", "lbs", "160", "", "nov", "tue thu", "two plates", "135 x 5 rir 2", "95x5", "185 x 5 2", "",
               "yes", "always", "no"]  # fmt: skip
    main, sub = pty.openpty()
    asked = subprocess.Popen(
        [sys.executable, "-m", "builder", "start", str(tmp_path / "ada")], stdin=sub, stdout=sub, stderr=sub
    )
    os.close(sub)
    os.write(main, "".join(f"{line}\n" for line in answers).encode() + b"\x04")
    told = b""
    while True:
        try:
            piece = os.read(main, 4096)
        except OSError:
            break
        if not piece:
            break
        told += piece
    os.close(main)
    assert asked.wait(60) == 0, told.decode()
    assert b"two plates" in told and b"is no set" in told and b"10/10" in told
    client = (tmp_path / "ada" / "client.yaml").read_text()
    assert "name: Ada Quill" in client and "units: lb" in client and "days: [tue, thu]" in client
    assert "load: 135, reps: 5, rir: 2" in client and "spotter: always" in client and "\n# screening:" in client
