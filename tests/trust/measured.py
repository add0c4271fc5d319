"""Runs the command in a process that tells how much work it did and how much memory it took."""

from __future__ import annotations

import cProfile
import json
import os
import re
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path

_FORKED = get_context("forkserver")
# One process has read our modules and is copied for each run: reading them takes longer than most runs.
_FORKED.set_forkserver_preload(["builder.cli", "builder.work.build", "builder.work.check", "builder.work.explain"])
LONGEST = 120
"""Seconds; only a run that hangs takes them."""


@dataclass(frozen=True, slots=True)
class Run:
    """How a run ended: exit code, what it printed, calls of functions and MiB at the highest."""

    code: int
    out: str
    err: str
    calls: int
    mebibytes: float


def measured(*arguments: object, cwd: Path) -> Run:
    """`loadleaf` with arguments. Its work is counted in calls, which are the same on every machine.

    The peak is VmHWM of the process itself: ru_maxrss begins with what the tests' own process had.
    """
    (run,) = measured_in_turn([arguments], cwd)
    return run


def measured_in_turn(commands: Sequence[Sequence[object]], cwd: Path) -> list[Run]:
    """Several commands in one process, where peaks never fall."""
    words = [[str(word) for word in command] for command in commands]
    with tempfile.TemporaryDirectory() as told:
        process = _FORKED.Process(target=_run_each, args=(words, str(cwd), told))
        process.start()
        process.join(LONGEST)
        process.kill()
        process.join()
        return [_told(Path(told, str(number))) for number in range(len(words))]


def _told(stem: Path) -> Run:
    out, err = (stem.with_suffix(end).read_bytes().decode("utf-8", "backslashreplace") for end in (".out", ".err"))
    assert stem.with_suffix(".json").exists(), err
    code, calls, mebibytes = json.loads(stem.with_suffix(".json").read_text())
    return Run(code, out, err, calls, mebibytes)


def _run_each(commands: list[list[str]], cwd: str, told: str) -> None:
    from builder.cli import main

    os.chdir(cwd)
    for number, words in enumerate(commands):
        stem = Path(told, str(number))
        for descriptor, end in ((1, ".out"), (2, ".err")):
            os.dup2(os.open(stem.with_suffix(end), os.O_CREAT | os.O_WRONLY), descriptor)
        sys.argv, counter = ["loadleaf", *words], cProfile.Profile()
        code: str | int = 0
        try:
            counter.runcall(main)
        except SystemExit as done:
            code = done.code or 0
        sys.stdout.flush()
        sys.stderr.flush()
        calls = sum(called.callcount for called in counter.getstats())
        peak = re.search(r"VmHWM:\s+(\d+)", Path("/proc/self/status").read_text())
        assert peak
        stem.with_suffix(".json").write_text(json.dumps([code, calls, int(peak[1]) / 1024]))
