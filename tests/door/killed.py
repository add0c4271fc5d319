"""Run by test_kill.py: a command is killed at every line of the door, and what lies there is looked at each time.

`python tests/door/killed.py read impose …` tries the commands named, all of them without a name.
"""

from __future__ import annotations

import io
import os
import shutil
import signal
import sys
import tempfile
from collections.abc import Callable
from contextlib import chdir, redirect_stdout
from pathlib import Path
from types import FrameType
from typing import Any

from cli.test_commands import BLOCK, CLIENT
from log.small import booklet

from builder.cli import loadleaf
from builder.intake import Loaded
from builder.pages.model import Booklet, Edition, Paper
from builder.pdf import Pressed
from builder.plan import make_plan
from builder.work import publish
from builder.work.publish import Published

State = dict[str, bytes]
PDF = b"%PDF-1.7 a new booklet"


def _sources(path: Path) -> None:
    (path / "client.yaml").write_text(CLIENT)
    (path / "block.yaml").write_text(BLOCK)


def _filled(path: Path) -> None:
    (path / "filled.pdf").write_bytes(booklet())


def _with_log(path: Path) -> None:
    _filled(path)
    (path / "log.yaml").write_text("format: 1\nbooklet:\n  code: old\n")


def _with_sheets(path: Path) -> None:
    _filled(path)
    (path / "s.pdf").write_bytes(b"%PDF-1.7 old sheets")


def _with_folder(path: Path) -> None:
    _filled(path)
    (path / "out").mkdir()


COMMANDS: dict[str, tuple[Callable[[Path], None], str]] = {
    "start": (lambda path: None, "start out"),
    "build": (_sources, "build client.yaml block.yaml -o o.pdf"),
    "read": (_filled, "read filled.pdf -o log.yaml"),
    "read-over": (_with_log, "read filled.pdf -o log.yaml"),
    "impose": (_filled, "impose filled.pdf -o s.pdf"),
    "impose-over": (_with_sheets, "impose filled.pdf -o s.pdf --replace"),
    "unpack": (_filled, "unpack filled.pdf out"),
    "unpack-over": (_with_folder, "unpack filled.pdf out"),
}
"""What lies there before, and the command."""


def _killing(at: int) -> Any:
    """A tracer that kills the process before the line `at`, counted over all lines of the door."""
    passed = 0

    def trace(frame: FrameType, event: str, _: Any) -> Any:
        nonlocal passed
        if "/builder/door/" not in frame.f_code.co_filename:
            return None
        if event == "line":
            passed += 1
            if passed == at:
                os.kill(os.getpid(), signal.SIGKILL)
        return trace

    return trace


def _run(path: Path, command: str, at: int) -> int:
    """How the command ends in a child that is killed at a line; 0 when it came to its end before."""
    child = os.fork()
    if child == 0:
        os.chdir(path)
        nowhere = os.open(os.devnull, os.O_RDWR)
        os.dup2(nowhere, 1)
        sys.settrace(_killing(at))
        loadleaf(command.split(), standalone_mode=False)
        sys.settrace(None)
        os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def _warm(prepare: Callable[[Path], None], command: str) -> None:
    """Runs the command here once, so that no child has to read modules."""
    with tempfile.TemporaryDirectory() as folder, chdir(folder), redirect_stdout(io.StringIO()):
        prepare(Path(folder))
        loadleaf(command.split(), standalone_mode=False)


def _state(path: Path) -> tuple[State, list[str]]:
    """What lies there, and the names of what is unfinished."""
    parts = [p.name for p in path.iterdir() if p.name.endswith(".loadleaf.part")]
    whole = [p for p in path.rglob("*") if p.relative_to(path).parts[0] not in parts]
    return {str(p.relative_to(path)): p.read_bytes() if p.is_file() else b"folder" for p in whole}, parts


def _tried(name: str) -> int:
    """Kills the command at every line; the number of kills."""
    prepare, command = COMMANDS[name]
    _warm(prepare, command)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder)
        prepare(path)
        before, _ = _state(path)
        assert _run(path, command, 0) == 0
        after, parts = _state(path)
        assert after != before and not parts
    at = 0
    while True:
        at += 1
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder)
            prepare(path)
            code = _run(path, command, at)
            if code == 0:
                return at - 1
            assert code == -signal.SIGKILL, code
            found, _ = _state(path)
            assert found in (before, after), (name, at, sorted(found))
            if found == before:
                assert _run(path, command, 0) == 0
                assert _state(path) == (after, []), (name, at)
            shutil.rmtree(path / "out", ignore_errors=True)


def _quick() -> None:
    """A booklet at once, in place of the typesetter's."""

    def published(loaded: Loaded, *_: object) -> Published:
        assert loaded.sources is not None
        empty = Booklet("", "", "", "", "en", Paper.A4, Edition.LOG, "", False, 1.0, "", (), ())
        return Published(Pressed(PDF, 1, 0, (), ()), empty, (), make_plan(loaded.sources))

    publish.publish = published  # type: ignore[assignment]


def main() -> None:
    """Prints each command with the number of its kills."""
    _quick()
    with tempfile.TemporaryDirectory() as shared:
        os.environ.setdefault("LOADLEAF_TESTS_SHARED", shared)
        for name in sys.argv[1:] or COMMANDS:
            print(name, _tried(name), flush=True)


if __name__ == "__main__":
    main()
