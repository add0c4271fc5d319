"""The schemas take every file that `check` takes, and refuse what a schema can see; an editor says why before."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Annotated, Any

import pytest
from jsonschema import Draft202012Validator
from kit.as_editor import as_editor
from made.cases import Case, for_some_cases
from pydantic import TypeAdapter

from builder.given.progressions import PROGRESSIONS
from builder.intake import KINDS
from builder.intake.compose import compose
from builder.intake.merge import as_data
from builder.manual.keys import MODELS
from builder.work.schemas import MIXED, SOURCES, source_schema

ROOT = Path(__file__).parents[2]
GOOD = sorted([*(ROOT / "samples").glob("[!be]*/*.yaml"), *(ROOT / "samples" / "brand").glob("*.yaml"),
               *(ROOT / "templates" / "starter").rglob("*.yaml")])  # fmt: skip
BROKEN = sorted((ROOT / "samples" / "broken").glob("*.yaml"))
UNSEEN = {
    "attempts-fall", "deload-reduces-nothing", "drill-without-lift", "dumbbells-do-not-rise", "duplicate-key",
    "duplicate-plate", "missing-unit", "movement-without-pattern", "no-gym", "no-pins", "no-such-date",
    "no-such-hole", "not-tested", "only-missed-tests", "pins-in-two-units", "pins-rise", "replaced-but-not-avoided",
    "resume-day", "resume-week", "tag", "taper-without-test", "too-many-days", "track-differs", "unknown-bar",
    "unknown-lift", "unknown-movement", "unknown-stack", "unknown-usual-bar", "weak-test", "week-outside",
}  # fmt: skip
"""What only the values together, or the other files, show."""


@lru_cache(maxsize=8)
def _judge(kind: str) -> Any:
    made = source_schema(kind)
    Draft202012Validator.check_schema(made)
    return Draft202012Validator(made)


def _faults(text: str) -> list[str]:
    """What the schema of its kind has against a file."""
    data = as_editor(text)
    kinds = [kind for kind in KINDS if kind in data]
    errors = _judge(kinds[0] if len(kinds) == 1 else MIXED).iter_errors(data)
    return [f"{error.json_path}: {error.message[:120]}" for error in errors]


def _name(path: Path) -> str:
    return f"{path.parent.name}-{path.stem}"


@pytest.mark.parametrize("path", GOOD, ids=_name)
def test_the_schema_takes_every_good_file_odd_ones_too(path: Path) -> None:
    assert _faults(path.read_text(encoding="utf-8-sig")) == []


def test_the_schema_takes_every_part_of_a_file() -> None:
    """A file may change one thing of another; nothing else is asked of it."""
    for text in ("format: 1\nclient: {bodyweight: 70.5}", "format: 1\ngym: {safeties: true}",
                 "format: 1\nlifts: {back squat: {working_max: 90 %}}", "format: 1\nblock: {deload: {every: 3}}",
                 "format: 1\nmovements: {back squat: {cues: [Knees out]}}", "format: 1\ntheme: plain"):  # fmt: skip
        assert _faults(text) == [], text


@for_some_cases
def test_the_schema_takes_what_is_made_up(case: Case) -> None:
    for text in case.made.texts:
        assert _faults(text) == []


def test_the_schema_takes_the_built_in_movements() -> None:
    assert _faults((ROOT / "builder" / "given" / "library.yaml").read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_the_schema_refuses_what_is_broken_where_it_can_see_it(path: Path) -> None:
    try:
        faults = _faults(path.read_bytes().decode("utf-8"))
    except Exception:
        return  # no YAML: every editor says so
    assert bool(faults) == (path.stem not in UNSEEN), faults


SLOT = "format: 1\nblock: {{title: A, weeks: 4, suits: [novice]}}\ndays: [{{title: A, slots: [{{{}}}]}}]"


@pytest.mark.parametrize(
    "slot",
    [
        "movement: back squat, progression: {kind: rep_out, sets: 3, reps: 5, start: 75}, rest: 180",
        "movement: back squat, ratio: 85, progression: {kind: step, reps: 5, hold: 3, add: 5}",
        "movement: back squat, rest: 3, progression: {kind: step, reps: 5, hold: 3, add: 5}",
        "movement: back squat, progression: {kind: wave, weeks: [{share: 80, sets: 3, reps: 5}]}",
        "movement: back squat, progression: {kind: wave, weeks: [{share: 80 %, rir: 2, sets: 3, reps: 5}]}",
        "movement: back squat, progression: {kind: top_set, reps: 3, rir: 2, rpe: 8}",
        "movement: back squat, progression: {kind: top_set, reps: 3}",
        "movement: back squat, progression: {kind: double, reps: 5, add: 2.5}",
        "movement: back squat, progression: {kind: hold, from: 90 %, to: 95 %}",
        "drill: walkout, of: back squat, progression: {kind: hold, from: 90, to: 95 %}",
        "movement: back squat, drill: walkout, progression: {kind: hold, from: 90 %, to: 95 %}",
        "movement: back squat, progression: {kind: top_set, reps: 3, rir: 2, backoff: {sets: 3, reps: 5, share: 85}}",
        "movement: back squat, progression: {kind: single, reps: 5}",
        "movement: back squat, progression: {kind: single, reps: 5, add: 2.5, hold: 3}",
        "movement: back squat, progression: {kind: single, sets: 0, reps: 5, add: 2.5}",
    ],
)
def test_the_schema_refuses_a_number_where_a_sign_is_due_and_keys_that_do_not_go_together(slot: str) -> None:
    assert _faults(SLOT.format("movement: back squat, progression: {kind: single, reps: 5, add: 2.5}")) == []
    if "start: 75}" in slot:
        assert _faults(SLOT.format(slot.replace(", rest: 180", ""))) == []  # 75 kg, as good as any load
    assert _faults(SLOT.format(slot)) != []


def _parts() -> Iterator[tuple[str, str, Any]]:
    for name, model in MODELS.items():
        for key, info in model.model_fields.items():
            yield name, key, info


@pytest.mark.parametrize(("name", "key", "info"), [pytest.param(*one, id=f"{one[0]}.{one[1]}") for one in _parts()])
def test_every_key_says_in_one_sentence_what_it_is_with_an_example_that_holds(name: str, key: str, info: Any) -> None:
    assert re.fullmatch(r"[A-Z0-9].*\.", info.description or ""), name
    assert "\n" not in info.description and len(info.description) < 140
    assert info.examples, key
    kind: Any = Annotated[info.annotation, *info.metadata] if info.metadata else info.annotation
    adapter: TypeAdapter[Any] = TypeAdapter(kind)
    for example in info.examples:
        tree, problems = compose(json.dumps(example), "example")
        assert tree is not None and not problems
        adapter.validate_python(as_data(tree))


def test_every_example_and_default_of_a_schema_is_one_that_it_takes_itself() -> None:
    for kind in SOURCES:
        made = source_schema(kind)
        for key, node in _described(made):
            judge = Draft202012Validator({**node, "$defs": made["$defs"]})
            for value in [*node["examples"], *([node["default"]] if "default" in node else [])]:
                assert judge.is_valid(value), f"{kind} {key}: {value}"


def _described(node: Any) -> Iterator[tuple[str, dict[str, Any]]]:
    if isinstance(node, dict):
        for key, inner in node.get("properties", {}).items() if isinstance(node.get("properties"), dict) else ():
            if "examples" in inner:
                yield key, inner
        for inner in node.values():
            yield from _described(inner)
    elif isinstance(node, list):
        for inner in node:
            yield from _described(inner)


@pytest.mark.parametrize("kind", SOURCES)
def test_every_key_of_a_schema_has_a_description_and_a_default_that_reads_back(kind: str) -> None:
    found = list(_described(source_schema(kind)))
    assert len(found) > 10
    assert all(inner["description"] for _, inner in found)


def test_a_default_is_written_as_a_coach_writes_it() -> None:
    parts = source_schema("block")["$defs"]
    assert parts["Deload.part"]["properties"]["sets"]["default"] == "60 %"
    assert parts["Pins"]["properties"]["shares"]["default"] == ["80 %", "65 %"]
    assert parts["Hold"]["properties"]["seconds"]["default"] == "8 s"
    assert parts["Hold"]["properties"]["every"]["default"] == "2 weeks"


def test_there_is_one_branch_a_kind_of_progression() -> None:
    made = source_schema("block")
    branches = made["$defs"]["Slot"]["properties"]["progression"]["oneOf"]
    kinds = [made["$defs"][one["$ref"].rsplit("/", 1)[1]]["properties"]["kind"]["const"] for one in branches]
    assert kinds == [*PROGRESSIONS]


def test_names_of_movements_are_offered_and_others_are_taken() -> None:
    made = source_schema("block")
    assert {"back squat", "deadlift"} <= set(made["$defs"]["movements"]["enum"])
    assert _faults(SLOT.format("movement: sled of our own, progression: {kind: single, reps: 5, add: 2.5}")) == []

