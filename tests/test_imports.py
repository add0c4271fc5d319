"""Imports point one way, and the rooms in the middle touch no file, clock, chance, screen or typesetter."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "builder"

MAY_IMPORT: dict[str, set[str]] = {
    "quantity": set(),
    "problem": set(),
    "fields": set(),
    "places": set(),
    "foreign": {"problem"},
    "training": {"quantity"},
    "sources": {"problem"},
    "slips": set(),
    "scalars": {"problem", "quantity", "slips"},
    "movements": {"scalars"},
    "brand": {"scalars"},
    "profile": {"scalars", "quantity", "training"},
    "rules": {"scalars", "slips", "quantity", "profile"},
    "intake": {
        "brand",
        "movements",
        "problem",
        "profile",
        "quantity",
        "rules",
        "scalars",
        "slips",
        "sources",
        "training",
    },
    "plan": {"intake", "movements", "profile", "quantity", "rules", "scalars", "training"},
    "review": {"intake", "movements", "plan", "problem", "profile", "quantity", "rules", "scalars", "training"},
    "booklet": {
        "brand",
        "fields",
        "movements",
        "plan",
        "profile",
        "quantity",
        "review",
        "rules",
        "scalars",
        "training",
    },
    "carried": {"booklet", "fields", "movements", "plan", "quantity", "training"},
    "explain": {"booklet", "plan", "quantity", "training"},
    "texts": {"booklet", "places", "quantity"},
    "press": {"booklet", "fields", "foreign", "places", "problem"},
}
"""Every room of the pipeline up to the press, and the rooms that it may know."""

EDGE = ("publish", "retest", "shop", "logbook", "report", "cli", "__main__")
"""Rooms at the end of the pipeline, which may know all of the above; none of the above may know them."""

PURE = (
    "quantity",
    "problem",
    "scalars",
    "slips",
    "training",
    "sources",
    "movements",
    "brand",
    "profile",
    "rules",
    "plan",
    "review",
    "booklet",
    "carried",
    "fields",
    "report",
)
IMPURE_MODULES = {
    "asyncio", "click", "http", "io", "locale", "logging", "multiprocessing", "os", "pathlib", "platform", "random",
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


def _imported(name: str, path: Path) -> Iterator[str]:
    """The dotted names that a module imports, at its top or within a function."""
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
    rooms = {_room(name) for name, _ in MODULES} - {""}
    assert rooms <= set(MAY_IMPORT) | set(EDGE)


@pytest.mark.parametrize("room", sorted(MAY_IMPORT))
def test_a_room_imports_only_what_comes_before_it(room: str) -> None:
    """The direction of the pipeline: sources, profile and rules, plan, review."""
    assert _rooms_known_to(room) <= MAY_IMPORT[room]


@pytest.mark.parametrize("room", sorted(MAY_IMPORT))
def test_what_a_room_may_know_comes_before_it(room: str) -> None:
    """The table above has no circle."""
    seen: set[str] = set()
    ahead = set(MAY_IMPORT[room])
    while ahead:
        step = ahead.pop()
        assert step != room
        seen.add(step)
        ahead |= MAY_IMPORT[step] - seen


def test_the_plan_knows_the_sources_only_as_values() -> None:
    """Of the intake it takes the type of its argument, never the reading of files."""
    taken = {
        i for name, path in MODULES if _room(name) == "plan" for i in _imported(name, path) if _room(i) == "intake"
    }
    assert taken == {"builder.intake.typed"}


def test_the_booklet_is_made_from_the_plan() -> None:
    """It reads no source file and starts no typesetter."""
    known = _rooms_known_to("booklet")
    assert "plan" in known
    assert known.isdisjoint({"press", "publish", "cli", "sources", "shop", "logbook"})


def test_nothing_imports_the_command_line() -> None:
    """It stands at the edge."""
    for name, path in MODULES:
        if _room(name) not in ("cli", "__main__"):
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


def test_every_module_opens_with_one_sentence() -> None:
    """What a module is for stands in its first line."""
    for name, path in MODULES:
        first = (ast.get_docstring(ast.parse(path.read_text("utf-8"))) or "").split("\n")[0]
        assert first.endswith((".", ":")), name
