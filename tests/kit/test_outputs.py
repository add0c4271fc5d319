"""What the commands print for programs is what their schemas say, and no key is printed that a schema keeps quiet."""

from __future__ import annotations

import json
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator
from log.small import WRITTEN, booklet, form, log
from log.viewers import with_pikepdf
from made.cases import Case, for_some_cases

from builder.cli import loadleaf
from builder.intake import load
from builder.log.progress import progress
from builder.log.tell import as_json
from builder.pages.explain import plan_json
from builder.plan import make_plan
from builder.work.check import check
from builder.work.outputs import OUTPUTS, output_schema
from builder.work.roster.delivery import HEAD
from builder.work.texts import load_words

SAMPLES = Path(__file__).parents[2] / "samples"


def _closed(node: Any) -> Any:
    """A schema that takes no key which it does not name."""
    if isinstance(node, dict):
        made = {key: _closed(value) for key, value in node.items()}
        return {**made, "additionalProperties": False} if "required" in made else made
    return [_closed(one) for one in node] if isinstance(node, list) else node


@lru_cache(maxsize=8)
def _judge(name: str) -> Any:
    return Draft202012Validator(_closed(output_schema(name)))


def _faults(name: str, value: Any) -> list[str]:
    return [f"{error.json_path}: {error.message[:200]}" for error in _judge(name).iter_errors(value)]


@pytest.mark.parametrize("name", OUTPUTS)
def test_a_schema_of_an_output_is_one_and_refuses_nothing_at_all(name: str) -> None:
    made = output_schema(name)
    Draft202012Validator.check_schema(made)
    assert not Draft202012Validator(made).is_valid({})
    assert json.loads(CliRunner().invoke(loadleaf, ["schema", name]).output) == made


@pytest.mark.parametrize("lifter", ["novice", "intermediate", "advanced"])
def test_the_plan_of_a_sample_is_what_the_schema_says(lifter: str) -> None:
    sources = load([SAMPLES / lifter]).sources
    assert sources is not None
    plan = make_plan(sources)
    assert _faults("plan", json.loads(json.dumps(plan_json(plan, load_words("en", plan.unit))))) == []


@for_some_cases
def test_made_up_plans_are_what_the_schema_says(case: Case) -> None:
    """Their first and their last week, which is that of the test."""
    short = {**case.json, "weeks": [*case.json["weeks"][:1], *case.json["weeks"][-1:]]}
    assert _faults("plan", json.loads(json.dumps(short))) == []


def test_every_key_of_a_plan_is_described() -> None:
    made = output_schema("plan")
    for part in (made, *made["$defs"].values()):
        assert [key for key, kind in part["properties"].items() if "description" not in kind] == []


def test_a_check_is_what_the_schema_says() -> None:
    wrong, fine = SAMPLES / "broken" / "three-things-wrong.yaml", load([SAMPLES / "intermediate"])
    for loaded, part in ((load([wrong], need=()), "problems"), (fine, "findings"), (fine, "notes")):
        done = check(loaded, date(2026, 1, 4))
        told = {
            "format": 1,
            "problems": [problem.as_json() for problem in done.problems],
            "findings": [finding.as_json() for finding in done.findings],
            "notes": [note.as_json() for note in done.notes],
        }
        assert told[part]
        assert _faults("check", told) == []


def test_a_log_is_what_the_schema_says(tmp_path: Path) -> None:
    filled = with_pikepdf(booklet(), {**WRITTEN, "w02-d1-s2-t2-reps": "fife"}, tmp_path)
    found, _ = log(form(filled, tmp_path))
    told = json.loads(as_json(found, progress(found)))
    assert told["estimates"] and told["unclear"] and told["tests"]
    assert _faults("log", told) == []


def test_a_line_of_the_delivery_is_what_the_schema_says() -> None:
    line = dict(zip(HEAD, ("ada.pdf", "0" * 64, "Ada Quill", "ada@example.org", "A-1", "", "2027-01-11", 30, ""),
                    strict=True))  # fmt: skip
    assert _faults("delivery", line) == []
    assert _faults("delivery", {**line, "sha256": "short"}) != []
    assert list(output_schema("delivery")["properties"]) == list(HEAD)
