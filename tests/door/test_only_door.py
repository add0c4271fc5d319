"""Nothing is written past the door."""

from __future__ import annotations

import ast
from pathlib import Path

PACKAGE = Path(__file__).parents[2] / "builder"
WRITERS = {
    "os.replace", "os.rename", "os.link", "os.symlink", "os.unlink", "os.mkdir", "os.makedirs", "os.chmod",
    "tempfile.mkstemp", "tempfile.mkdtemp", "tempfile.TemporaryDirectory", "tempfile.NamedTemporaryFile",
    "shutil.copy", "shutil.copytree", "shutil.move", "shutil.rmtree",
}  # fmt: skip
METHODS = {"write_text", "write_bytes", "touch", "symlink_to", "hardlink_to", "rename", "unlink", "mkdir"}
MODES = {"w", "wb", "a", "ab", "x", "xb", "r+b", "w+b"}
ALLOWED = {
    ("pdf/fonts.py", "mkdir"): "in the run's own folder",
    ("pdf/fonts.py", "write_text"): "in the run's own folder",
    ("work/roster/run.py", "mkdir"): "the folder that was named, before anything is put into it",
    ("work/roster/cluster.py", "mkdir"): "in a passing folder",
    ("work/roster/cluster.py", "write_bytes"): "in a passing folder",
    ("work/roster/cluster.py", "symlink_to"): "in a passing folder",
    ("manual/__main__.py", "write_text"): "the reference, for who works on loadleaf",
    ("cli/target.py", "mkdir"): "the same for other commands",
}
"""What does not write into a folder of the user's."""


def test_only_the_door_writes() -> None:
    """Whoever opens a file elsewhere opens it to read."""
    found = set()
    for path in PACKAGE.rglob("*.py"):
        name = path.relative_to(PACKAGE).as_posix()
        if name.startswith("door/"):
            continue
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not isinstance(node, ast.Call):
                continue
            called, method = ast.unparse(node.func), getattr(node.func, "attr", "")
            modes = [a.value for a in (*node.args, *(k.value for k in node.keywords)) if isinstance(a, ast.Constant)]
            opens = method == "open" or called == "open"
            writes = opens and not MODES.isdisjoint(modes)
            if called in WRITERS or method in METHODS or writes:
                found.add((name, method or called))
    assert found <= set(ALLOWED), found - set(ALLOWED)
