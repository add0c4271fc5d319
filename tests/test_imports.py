"""Imports point one way, and the rooms in the middle touch no file, clock, chance, screen or typesetter."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "builder"

MAY_IMPORT: dict[str, set[str]] = {
    "values": set(),
    "words": {"values"},
    "training": {"values"},
    "given": {"training", "values"},
    "plan": {"given", "training", "values"},
    "review": {"given", "plan", "training", "values"},
    "pages": {"given", "plan", "training", "values", "words"},
    "log": {"given", "pages", "plan", "training", "values", "words"},
    "places": set(),
    "door": {"values"},
    "pdf": {"door", "log", "pages", "places", "values"},
    "intake": {"given", "training", "values"},
    "work": {
        "door", "given", "intake", "log", "pages", "pdf", "places", "plan", "review", "training", "values", "words",
    },
    "cli": {"door", "given", "intake", "log", "pages", "pdf", "places", "plan", "review", "values", "words", "work"},
    "manual": {"cli", "given", "intake", "pages", "pdf", "places", "review", "values"},
    "__main__": {"cli"},
}  # fmt: skip
"""Every room, from the bottom to the top, and the rooms below it that it may know."""

PURE = ("values", "words", "training", "given", "plan", "review", "pages", "log")
"""Rooms that read no file and start no typesetter, and neither does anything that they import."""

IMPURE_MODULES = {
    "asyncio", "click", "http", "locale", "logging", "multiprocessing", "os", "pathlib", "platform", "random",
    "secrets", "shutil", "socket", "subprocess", "sys", "tempfile", "threading", "time", "urllib", "weasyprint",
    "pypdf", "importlib",
}  # fmt: skip
IMPURE_CALLS = {"open", "input", "print", "now", "today", "utcnow", "getenv", "read_text", "read_bytes", "write_text"}


def _room(module: str) -> str:
    return module.split(".")[1] if "." in module else ""


def _modules() -> list[tuple[str, Path]]:
    """Every module of the package with its dotted name."""
    found = []
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
        found.append((".".join(parts[:-1] if parts[-1] == "__init__" else parts), path))
    return found


MODULES = _modules()
NAMES = {name for name, _ in MODULES}


@cache
def _imported(name: str, path: Path) -> tuple[str, ...]:
    """The dotted names that a module imports, at its top or within a function."""
    return tuple(_names(name, path))


def _names(name: str, path: Path) -> Iterator[str]:
    package = name if path.name == "__init__.py" else name.rpartition(".")[0]
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = package.split(".")[: len(package.split(".")) - node.level + 1] if node.level else []
            base = ".".join([*above, *([node.module] if node.module else [])])
            yield from (f"{base}.{a.name}" if f"{base}.{a.name}" in NAMES else base for a in node.names)


def _rooms_known_to(room: str) -> set[str]:
    return {
        _room(imported)
        for name, path in MODULES
        if _room(name) == room
        for imported in _imported(name, path)
        if imported.startswith("builder.") and _room(imported) != room
    }


def test_every_room_has_its_place() -> None:
    """A new room is entered in this file, so that someone decides what it may know."""
    assert {_room(name) for name, _ in MODULES} - {""} == set(MAY_IMPORT)


@pytest.mark.parametrize("room", sorted(MAY_IMPORT))
def test_a_room_imports_only_what_comes_before_it(room: str) -> None:
    """Imports go down only."""
    assert _rooms_known_to(room) <= MAY_IMPORT[room]


def test_what_a_room_may_know_comes_before_it() -> None:
    """The table above has no circle: each row names rows above it."""
    above: set[str] = set()
    for room, known in MAY_IMPORT.items():
        assert known <= above, room
        above.add(room)


@pytest.mark.parametrize("room", PURE)
def test_a_pure_room_rests_on_pure_rooms(room: str) -> None:
    """So what holds for each of them holds for all that it imports."""
    assert MAY_IMPORT[room] <= set(PURE)


@pytest.mark.parametrize("room", [*PURE, "log.report"])
def test_importing_the_middle_loads_neither_files_nor_press(room: str) -> None:
    """Seen in a process of its own: no reader of files, no typesetter, no command line comes along."""
    heavy = "{'weasyprint', 'pikepdf', 'pypdf', 'jinja2', 'click', 'fontTools'}"
    edge = "{'builder.' + room for room in ('places', 'pdf', 'intake', 'work', 'cli')}"
    code = f"import sys, builder.{room}; print(*sorted(set(sys.modules) & ({heavy} | {edge})))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=PACKAGE.parent)
    assert done.stdout.strip() == ""


def test_nothing_imports_the_command_line() -> None:
    """It stands at the edge; but the text about it is made of it."""
    for name, path in MODULES:
        if _room(name) not in ("cli", "__main__", "manual"):
            assert not [i for i in _imported(name, path) if i.startswith("builder.cli")], name


def test_no_module_reaches_itself_again() -> None:
    """The imports between modules have no circle, a package standing for the modules that it opens."""
    graph = {name: {i for i in _imported(name, path) if i in NAMES and i != name} for name, path in MODULES}
    done: set[str] = set()

    def visit(name: str, trail: tuple[str, ...]) -> None:
        assert name not in trail, " -> ".join((*trail, name))
        if name not in done:
            for following in sorted(graph[name]):
                if not name.startswith(f"{following}."):
                    visit(following, (*trail, name))
            done.add(name)

    for name in sorted(graph):
        visit(name, ())


@pytest.mark.parametrize(
    ("name", "path"), [(n, p) for n, p in MODULES if _room(n) in PURE], ids=lambda v: str(v).split("/")[-1]
)
def test_the_middle_is_pure(name: str, path: Path) -> None:
    """No file, clock, environment, chance or printer: the same values in give the same values out."""
    roots = {imported.split(".")[0] for imported in _imported(name, path)}
    assert roots.isdisjoint(IMPURE_MODULES)
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Call):
            called = node.func
            word = (
                called.id if isinstance(called, ast.Name) else called.attr if isinstance(called, ast.Attribute) else ""
            )
            assert word not in IMPURE_CALLS, f"{name}:{node.lineno} calls {word}"


def test_a_class_name_stands_for_one_thing() -> None:
    """Whoever meets a name need not ask which of them is meant."""
    homes: dict[str, list[str]] = {}
    for module, path in MODULES:
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.ClassDef):
                homes.setdefault(node.name, []).append(module)
    assert {name: where for name, where in homes.items() if len(where) > 1} == {}


def test_every_module_opens_with_one_sentence() -> None:
    """What a module is for stands in its first line."""
    for name, path in MODULES:
        first = (ast.get_docstring(ast.parse(path.read_text("utf-8"))) or "").split("\n")[0]
        assert first.endswith((".", ":")), name
