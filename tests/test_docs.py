"""README, reference and guide cannot lie: commands, keys, codes and examples are those of the code."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from functools import lru_cache
from pathlib import Path
from typing import Annotated, Any, get_args

import click
import pytest
from pydantic import TypeAdapter
from pydantic.fields import FieldInfo

from builder.cli import loadleaf, outcome
from builder.cli.machines import libraries_command
from builder.given import Client, Progression, Sources
from builder.given.progressions import PROGRESSIONS
from builder.intake import KINDS, load
from builder.intake.compose import compose
from builder.intake.load import library
from builder.intake.merge import as_data
from builder.manual import PLACE, TOPICS, composed, with_shared
from builder.manual.commands import COMMANDS as EVERY
from builder.manual.commands import SHARED
from builder.manual.keys import MODELS, fields_of
from builder.manual.tables import anchor
from builder.pages.explain import plan_json
from builder.pages.model import Edition, Layout, Paper
from builder.places import themes
from builder.plan import make_plan
from builder.plan.cautions import cautions
from builder.values import fields
from builder.values.lists import Keep
from builder.values.quantity import Unit
from builder.values.scalars import Amount, Part
from builder.work.publish import Choices, publish
from builder.work.texts import languages, load_words

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
REFERENCE = PLACE.read_text(encoding="utf-8")
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
STARTER = ROOT / "templates" / "starter"
SPAN = re.compile(r"`([^`\n]+)`")
CODE = re.compile(r"[a-z]+(-[a-z]+)*")
PROBLEM_MAKERS = {"Problem", "Refused", "wrong", "_problem", "problem", "stop", "fault"}
COMMANDS = {name: command for name, command in EVERY.items() if name != "loadleaf"}
Row = list[str]


def _table(text: str, label: str) -> list[Row]:
    """The rows of the table below the mark `<!-- label -->`, its head left out."""
    marks = text.count(f"<!-- {label} -->")
    assert marks == 1, f"{label}: {marks} tables"
    lines = text.split(f"<!-- {label} -->\n", 1)[1].split("\n\n", 1)[0].splitlines()
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines[2:]]


def _spans(rows: list[Row]) -> list[str]:
    """Every word in code type of the first column."""
    return [word for row in rows for word in SPAN.findall(row[0])]


def _labels(text: str, kind: str) -> set[str]:
    return set(re.findall(rf"<!-- {kind}: (.+) -->", text))


def _blocks(info: str) -> list[str]:
    return re.findall(rf"^```{info}\n(.*?)^```$", REFERENCE, re.MULTILINE | re.DOTALL)


def _data(text: str) -> Any:
    """What a YAML text says, read as source files are."""
    tree, problems = compose(text, "text")
    assert tree is not None and not problems
    return as_data(tree)


def _line_after(label: str) -> str:
    """The one line of the fenced block below a mark."""
    found = re.search(rf"<!-- {label} -->\n```sh\n(.*)\n```\n", README)
    assert found, label
    return found[1]


# Commands


def test_the_reference_is_that_of_the_models_commands_and_codes() -> None:
    again = "say: .venv/bin/python -m builder.manual"
    assert composed() == REFERENCE, again
    assert with_shared(README) == README, again


def test_every_topic_has_a_text_and_every_text_a_topic() -> None:
    assert re.findall(r"<!-- topic: (.+) -->", REFERENCE) == list(TOPICS)
    assert {path.stem for path in (PLACE.parent / "said").iterdir()} == set(TOPICS)


def test_every_command_and_option_stands_in_the_reference_and_no_other() -> None:
    assert _labels(REFERENCE, "command") == {"loadleaf", *COMMANDS}
    for name, command in {"loadleaf": loadleaf, **COMMANDS}.items():
        context = click.Context(command, info_name=name, help_option_names=["-h", "--help"])
        options = {o for p in command.get_params(context) if isinstance(p, click.Option) for o in p.opts}
        shared = set() if name == "loadleaf" else {"-h", "-v", "-q", *SHARED}
        assert set(_spans([row[:1] for row in _table(REFERENCE, f"command: {name}")])) == options - shared, name


def test_every_command_has_a_heading_that_shows_its_arguments() -> None:
    for name, command in COMMANDS.items():
        arguments = [p.human_readable_name.upper() for p in command.params if isinstance(p, click.Argument)]
        assert f"### `{' '.join(['loadleaf', name, *arguments])}`\n" in REFERENCE


def test_the_exit_codes_are_those_of_the_commands() -> None:
    codes = (outcome.FINE, outcome.PROBLEMS, outcome.WRONG_USAGE, outcome.OUR_FAULT)
    assert [row[0] for row in _table(REFERENCE, "table: exit codes")] == [str(code) for code in codes]


def test_the_two_commands_install_what_the_doctor_asks_for_and_name_what_is_there() -> None:
    libraries = libraries_command("Linux", {"ID": "debian"}).split("install ")[1]
    assert all(f" {libraries} && " in _line_after(label) for label in ("sample", "tests"))
    arguments = _line_after("sample").split("loadleaf build ")[1].split()
    assert arguments[-2:] == ["-o", "booklet.pdf"]
    assert load([ROOT / name for name in arguments[:-2]]).problems == ()
    expected = "&& .venv/bin/pip install -e '.[dev,validate]' && .venv/bin/python -m pytest -n auto"
    assert _line_after("tests").endswith(expected)
    assert "<!-- tests -->" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


# Keys


def test_every_model_has_a_table_of_keys_and_no_table_is_left_over() -> None:
    assert _labels(REFERENCE, "keys") == set(MODELS)


@pytest.mark.parametrize("name", MODELS)
def test_every_key_of_a_model_stands_in_its_table_and_no_other(name: str) -> None:
    assert sorted(_spans(_table(REFERENCE, f"keys: {name}"))) == sorted(fields_of(MODELS[name]))


@pytest.mark.parametrize("name", MODELS)
def test_the_defaults_in_a_table_are_those_of_the_model(name: str) -> None:
    for key, _, _, default in _table(REFERENCE, f"keys: {name}"):
        info = fields_of(MODELS[name])[key.strip("`")]
        assert info.is_required() == (default == "required"), key
        written = re.fullmatch(rf"{SPAN.pattern}(; .*)?", default)
        value = info.get_default(call_default_factory=True)
        if default.startswith("none"):
            assert value is None, key
        elif default.startswith("empty"):
            assert value in ((), {}), key
        elif written:
            assert value == _read(info, written[1]), key
        elif default != "required":
            assert isinstance(value, Part), key


def _read(info: FieldInfo, text: str) -> Any:
    """A value as the file reader would read it under this key."""
    kind: Any = Annotated[info.annotation, *info.metadata] if info.metadata else info.annotation
    adapter: TypeAdapter[Any] = TypeAdapter(kind)
    return adapter.validate_python(_data(text))


@pytest.mark.parametrize("name", MODELS)
def test_every_word_that_a_key_takes_stands_in_its_row(name: str) -> None:
    schema = MODELS[name].model_json_schema()
    for key, what, how, _ in _table(REFERENCE, f"keys: {name}"):
        for word in _choices(schema, schema["properties"][key.strip("`")]):
            assert f"`{word}`" in how or how == "as above" or "weekday" in how, f"{name} {key} {what}: {word}"


def _choices(schema: dict[str, Any], node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        target = schema["$defs"][node["$ref"].rsplit("/", 1)[1]] if "$ref" in node else {}
        words = [*node.get("enum", []), *target.get("enum", []), *([node["const"]] if "const" in node else [])]
        yield from (str(word) for word in words if not {"yes", True} & set(words))
    below = node.values() if isinstance(node, dict) else node if isinstance(node, list) else ()
    for part in below:
        yield from _choices(schema, part)


def test_every_kind_of_progression_has_an_example_of_two_lines_that_loads() -> None:
    adapter: TypeAdapter[Any] = TypeAdapter(Progression)
    texts = _blocks("yaml progression")
    assert [len(text.splitlines()) for text in texts] == [2] * len(PROGRESSIONS)
    shown = {adapter.validate_python(_data(text)).kind for text in texts}
    assert shown == {*PROGRESSIONS}


def test_the_whole_files_of_the_reference_load_and_plan(tmp_path: Path) -> None:
    for kind in (*KINDS, "part"):
        (block,) = _blocks(f"yaml {kind}")
        (tmp_path / f"{kind}.yaml").write_text(block, encoding="utf-8")
        assert kind == "part" or load([tmp_path / f"{kind}.yaml"], need=[kind]).problems == ()
    every = load([tmp_path / f"{kind}.yaml" for kind in (*KINDS, "part")], need=list(KINDS))
    assert every.problems == ()
    assert every.sources is not None and every.sources.client is not None
    assert every.sources.client.client.bodyweight == Amount(Decimal("70.5"))
    assert make_plan(every.sources).weeks


def test_the_starter_folder_loads_without_a_problem_and_plans() -> None:
    sources = _loaded(STARTER, need=("client", "block", "brand"))
    plan = make_plan(sources)
    assert [str(week.kind) for week in plan.weeks] == ["training"] * 4 + ["taper", "test"]
    assert len(plan.sessions()) == 18


@pytest.mark.slow
def test_the_starter_folder_builds_at_once() -> None:
    done = publish(load([STARTER]), Choices(date(2027, 4, 1), keep=Keep.ALL))
    assert done.problems == ()
    assert done.pressed is not None and done.pressed.field_count > 0


def _loaded(*folders: Path, need: tuple[str, ...] = ("client", "block")) -> Sources:
    result = load(folders, need=need)
    assert result.problems == () and result.sources is not None
    return result.sources


def test_every_built_in_movement_stands_in_the_reference_and_no_other() -> None:
    told: dict[str, tuple[str, str]] = {}
    for pattern, cell in _table(REFERENCE, "table: built-in movements"):
        told |= {re.sub(r" \(.*\)", "", entry): (pattern, entry) for entry in cell.split(", ")}
    movements = library().movements
    assert {name: pattern for name, (pattern, _) in told.items()} == {n: m.pattern for n, m in movements.items()}
    for name, movement in movements.items():
        entry = told[name][1]
        if movement.ratio is not None:
            assert entry == f"{name} ({(movement.ratio * 100).normalize():f} % of {movement.of})"
        else:
            assert entry == (name if movement.equipment == "barbell" else f"{name} ({movement.equipment})")


# Codes


@lru_cache(maxsize=4)
def _first_arguments(makers: frozenset[str]) -> frozenset[str]:
    """The codes that stand as the first argument of a call of `makers` anywhere in the package."""
    found = set()
    for path in (ROOT / "builder").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call) or not node.args or not isinstance(node.args[0], ast.Constant):
                continue
            name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
            if name in makers and CODE.fullmatch(str(node.args[0].value)):
                found.add(str(node.args[0].value))
    return frozenset(found)


def test_every_problem_code_stands_in_the_reference_and_no_other() -> None:
    assert set(_spans(_table(REFERENCE, "table: problem codes"))) == _first_arguments(frozenset(PROBLEM_MAKERS))


def test_every_code_of_the_review_stands_in_the_reference_and_no_other() -> None:
    assert set(_spans(_table(REFERENCE, "table: review codes"))) >= _first_arguments(frozenset({"Rule"}))


def _strained(**changes: Any) -> Client:
    """A profile with everything that a caution can hang on."""
    data = _data((STARTER / "client.yaml").read_text(encoding="utf-8"))
    data["gym"] |= {"safeties": "false", "spotter": "never"}
    data["client"] |= {"born": "2012"}
    data["limits"] = [{"area": "left shoulder", "avoid": ["overhead"], "since": "2027-04-01"}]
    data["screening"] |= {"clinician_advised": "true"}
    return Client.model_validate(data | {key: data[key] | value for key, value in changes.items()})


def test_every_caution_stands_in_both_texts_and_on_the_safety_pages() -> None:
    unscreened = _strained(client={"born": "1950"}).model_copy(update={"screening": None})
    clients = (_strained(), _strained(client={"supervisor": "Dr Vane"}), unscreened)
    codes = {code for client in clients for code in cautions(client, date(2027, 6, 1))}
    words = load_words("en", Unit.KG)
    assert set(_spans(_table(REFERENCE, "table: cautions"))) == codes
    assert set(_spans(_table(GUIDE, "table: cautions"))) == codes
    assert all(words.has(f"caution.{code}") for code in codes)


# JSON, fields, looks


@lru_cache(maxsize=1)
def _plans() -> tuple[dict[str, Any], ...]:
    plans = [make_plan(_loaded(ROOT / "samples" / name)) for name in ("intermediate", "advanced")]
    return tuple(plan_json(plan, load_words("en", plan.unit)) for plan in plans)


def _objects() -> Iterator[tuple[str, dict[str, Any]]]:
    """Every object of two plans with the name of its table."""
    for plan in _plans():
        yield from (("plan", plan), ("client", plan["client"]), ("block", plan["block"]))
        for lift in plan["client"]["lifts"]:
            yield from (("lift", lift), ("test", lift["test"]), ("expected", lift["expected"]))
        for week in plan["weeks"]:
            yield from (("week", week), ("volume", week["volume"]))
            for part in (week["by_movement"], week["by_pattern"]):
                yield from (("volume", volume) for volume in part.values())
            for session in week["sessions"]:
                yield ("session", session)
                for slot in session["slots"]:
                    yield from _of_slot(slot)


def _of_slot(slot: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    yield ("slot", slot)
    yield from (("reason", note) for note in slot["notes"])
    yield from (("outcome", row) for row in slot["next"])
    yield from (("lesson", row) for row in slot["lessons"])
    if slot["pin"]:
        yield ("pin", slot["pin"])
    for one in slot["sets"]:
        yield ("set", one)
        if one["reserve"]:
            yield ("reserve", one["reserve"])
        yield from (("reason", reason) for reason in one["why"])
        if one["record_mark"]:
            yield from (("mark", one["record_mark"]), ("beats", one["record_mark"]["beats"]))


def test_every_key_of_the_plan_as_json_stands_in_the_reference_and_no_other() -> None:
    documented = {label: set(_spans(_table(REFERENCE, f"json: {label}"))) for label in _labels(REFERENCE, "json")}
    seen = {label: set(value) for label, value in _objects()}
    assert documented == seen
    assert all(set(value) == documented[label] for label, value in _objects())


def test_every_kind_of_form_field_has_an_example_that_parses_and_its_parts() -> None:
    examples = _spans(_table(REFERENCE, "table: fields"))
    assert {type(fields.parse(name)) for name in examples} == set(get_args(fields.Field))
    told = {word for row in _table(REFERENCE, "table: fields") for word in SPAN.findall(" ".join(row))}
    for kind in (fields.SetPart, fields.SessionPart, fields.AttemptPart, fields.ResultPart, fields.RecordPart,
                 fields.SignPart, fields.IntakeOnce, fields.IntakePart):
        assert set(get_args(kind)) <= told


def test_themes_papers_editions_and_languages_are_those_at_hand() -> None:
    told = {row[0]: SPAN.findall(row[1]) for row in _table(REFERENCE, "table: looks")}
    looks = {"theme": list(themes()), "paper": list(Paper), "layout": list(Layout), "edition": list(Edition)}
    assert told == looks | {"language": list(languages())}


def test_links_lead_to_a_heading() -> None:
    here, there = _anchors(README), _anchors(REFERENCE)
    assert set(re.findall(r"\]\(#([^)]+)\)", REFERENCE)) <= there
    assert set(re.findall(r"\]\(#([^)]+)\)", README)) <= here
    assert set(re.findall(rf"\]\({PLACE.relative_to(ROOT)}#([^)]+)\)", README)) <= there
    assert all((ROOT / name).exists() for name in re.findall(r"\]\(([\w/.-]+)[#)]", README))


def _anchors(text: str) -> set[str]:
    return {anchor(title) for title in re.findall(r"^#+ (.+)$", text, re.MULTILINE)}


# The contributor's guide


def _rooms() -> dict[str, set[str]]:
    """Each room with the rooms that its modules import."""
    rooms: dict[str, set[str]] = {}
    for path in (ROOT / "builder").rglob("*.py"):
        room = path.relative_to(ROOT / "builder").parts[0].removesuffix(".py")
        if room.startswith("__"):
            continue
        rooms.setdefault(room, set())
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module == "builder":
                rooms[room] |= {alias.name for alias in node.names} - {"__version__"}
            elif isinstance(node, ast.ImportFrom) and (node.module or "").startswith("builder."):
                rooms[room].add(str(node.module).split(".")[1])
    return {room: used - {room} for room, used in rooms.items()}


def test_the_guide_names_every_room_and_what_it_may_import_and_imports_point_one_way() -> None:
    table = {SPAN.findall(row[0])[0]: set(SPAN.findall(row[2])) for row in _table(GUIDE, "table: rooms")}
    rooms = _rooms()
    assert set(table) == set(rooms)
    for place, (room, allowed) in enumerate(table.items()):
        assert rooms[room] <= allowed, room
        assert allowed <= set(list(table)[:place]), f"{room} imports what stands below it"


def test_the_guide_justifies_every_dependency_and_no_other() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = {re.split(r"[<>=]", line)[0] for line in project["dependencies"]}
    assert set(_spans(_table(GUIDE, "table: dependencies"))) == wanted
    assert project["license"] == "MIT"


def test_every_shipped_font_is_named_with_its_licence() -> None:
    for folder in (ROOT / "styles" / "fonts").iterdir():
        assert "SIL OPEN FONT LICENSE Version 1.1" in (folder / "OFL.txt").read_text(encoding="utf-8")
        assert folder.name.replace("-", " ").title() in GUIDE


def test_the_files_and_folders_that_the_guide_names_are_there() -> None:
    text = re.sub(r"^```.*?^```", "", GUIDE, flags=re.MULTILINE | re.DOTALL)
    paths = [word for word in SPAN.findall(text) if "/" in word and not re.search(r"[<*…% ]", word)]
    assert len(paths) > 10
    homes = (ROOT, ROOT / "builder", ROOT / "styles", ROOT / "templates", ROOT / "samples")
    assert [p for p in paths if p != "expected/" and not any((home / p).exists() for home in homes)] == []
