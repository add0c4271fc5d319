"""Run by test_ended.py: a command is killed before everything it does to files, and what lies there is looked at.

`python tests/door/killed.py read impose …` tries the commands named, all of them without a name.
"""

from __future__ import annotations

import os
import signal
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from door.commands import COMMANDS, State, quick, run, state, warm

from builder.work.roster.state import STATE

TOUCHING = {
    "os.mkdir", "os.rename", "os.link", "os.remove", "os.rmdir", "os.chmod", "os.chown", "fcntl.flock",
}  # fmt: skip
"""Audit events of Python's library reference; so is "open"."""
MANY = ("enrol", "roster", "retest")
"""Each of their files is old or new by itself."""


def killing(at: int) -> Callable[[], None]:
    """What a child does first, to be killed when it is about to touch files for the time `at`."""

    def first() -> None:
        passed, me = 0, os.getpid()

        def hear(event: str, told: tuple[Any, ...]) -> None:
            nonlocal passed
            if os.getpid() != me or not (event in TOUCHING or (event == "open" and told[2] & 3)):
                return
            passed += 1
            if passed == at:
                os.kill(me, signal.SIGKILL)

        sys.addaudithook(hear)

    return first


def _each(name: str, found: State, before: State, after: State) -> None:
    """Everything is old, or everything is new; of several files each is, and the roster's state names what is there."""
    whole = {key: data for key, data in found.items() if not key.endswith((".lock", STATE))}
    if name in MANY:
        assert all(data in (before.get(key), after.get(key)) for key, data in whole.items()), sorted(whole)
    else:
        assert found in (before, after), (name, sorted(found))


def _tried(name: str) -> int:
    """Kills the command wherever it touches files; the number of kills."""
    prepare, command = COMMANDS[name]
    warm(prepare, command)
    at, before, after = 0, State(), State()
    while True:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder, "here")
            path.mkdir()
            prepare(path)
            if at == 0:
                before, _ = state(path)
            code, said = run(path, command, killing(at))
            found, parts = state(path)
            if code == 0:
                assert at == 0 or (found, parts) == (after, [])
                if at:
                    return at - 1
                after = found
                assert after != before and not parts
            else:
                assert code == -signal.SIGKILL, (code, said)
                _each(name, found, before, after)
                if found != after and not (name == "retest" and found["client.yaml"] == after["client.yaml"]):
                    run(path, command)
                    assert state(path) == (after, []), (name, at)
        at += 1


def main() -> None:
    """Prints each command with the number of its kills."""
    with tempfile.TemporaryDirectory() as shared:
        os.environ.setdefault("LOADLEAF_TESTS_SHARED", shared)
        quick()
        for name in sys.argv[1:] or COMMANDS:
            print(name, _tried(name), flush=True)


if __name__ == "__main__":
    main()
