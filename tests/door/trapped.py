"""Run by test_ended.py: something lies where a command writes, and what it leads to is looked at afterwards."""

from __future__ import annotations

import os
import signal
import stat
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from door.commands import COMMANDS, quick, run, state, warm

from builder.door import lock_path

LONGEST = 60
"""Seconds; only a run that waits for the other end of a pipe takes them."""
TRAPS: dict[str, Callable[[Path, Path], object]] = {
    "link to a file": lambda at, precious: at.symlink_to(precious / "file"),
    "link to a folder": lambda at, precious: at.symlink_to(precious / "folder"),
    "link to nothing": lambda at, precious: at.symlink_to(precious / "gone"),
    "link to a device": lambda at, precious: at.symlink_to("/dev/full"),
    "pipe": lambda at, precious: os.mkfifo(at),
    "hard link": lambda at, precious: at.hardlink_to(precious / "file"),
}
"""What is laid at a place, and what it may lead to."""
NEW = ("gone", "folder/")
"""What may come to be where a link that was typed is followed."""
FOLDERS = ("start", "unpack")
"""Commands that make a folder at once: nothing can lie in it before."""


def _places(name: str, path: Path) -> list[str]:
    """Where the command makes or takes something: what it wrote, its locks and the folders it was named."""
    prepare, command = COMMANDS[name]
    prepare(path)
    before, _ = state(path)
    code, said = run(path, command)
    assert code == 0, said
    after, _ = state(path)
    new = [one for one in after if after[one] != before.get(one) and not (name in FOLDERS and "/" in one)]
    locks = [str(lock_path(Path(one))) for one in after if one.endswith(("client.yaml", "state.jsonl"))]
    return [one for one in new if one not in before] + (locks if name in ("retest", "roster") else [])


def _bounded() -> None:
    signal.alarm(LONGEST)


def _seen(precious: Path) -> dict[str, tuple[int, bytes]]:
    return {
        str(one.relative_to(precious)): (one.stat().st_mode, one.read_bytes() if one.is_file() else b"")
        for one in precious.rglob("*")
    }


def _tried(name: str, place: str, trap: str) -> None:
    """One trap: nothing that it leads to has changed; where its link was typed, something new may lie there."""
    prepare, command = COMMANDS[name]
    with tempfile.TemporaryDirectory() as folder:
        path, precious = Path(folder, "here"), Path(folder, "precious")
        for one in (path, precious, precious / "folder"):
            one.mkdir()
        for one in (precious / "file", precious / "folder" / "keep"):
            one.write_bytes(b"keep")
            one.chmod(0o640)
        prepare(path)
        at = path / place
        at.parent.mkdir(exist_ok=True)
        if at.is_dir():
            at.rmdir()
        TRAPS[trap](at, precious)
        kind, before = stat.S_IFMT(at.lstat().st_mode), _seen(precious)
        code, said = run(path, command, _bounded)
        told = (name, place, trap, code, said)
        assert code in (0, 1) and "Traceback" not in said, told
        after = _seen(precious)
        if place in command.split() and trap.startswith("link") and code == 0:
            assert "is a link" in said, told
            after = {key: seen for key, seen in after.items() if key in before or not key.startswith(NEW)}
        assert after == before, told
        assert trap == "hard link" or stat.S_IFMT(at.lstat().st_mode) == kind, told
        assert not state(path)[1], told


def main() -> None:
    """Prints each command with the number of its traps."""
    with tempfile.TemporaryDirectory() as shared:
        os.environ.setdefault("LOADLEAF_TESTS_SHARED", shared)
        quick()
        for name in sys.argv[1:] or [name for name in COMMANDS if not name.endswith("-over")]:
            warm(*COMMANDS[name])
            with tempfile.TemporaryDirectory() as folder:
                path = Path(folder, "here")
                path.mkdir()
                places = _places(name, path)
            for place in places:
                for trap in TRAPS:
                    _tried(name, place, trap)
            print(name, len(places) * len(TRAPS), flush=True)


if __name__ == "__main__":
    main()
