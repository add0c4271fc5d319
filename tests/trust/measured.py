"""Runs the command in a process that tells how much work it did and how much memory it took."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

END = "\x1e\n"
"""Stands after what each command printed."""
_WRAPPED = """
import cProfile, json, re, sys
commands, file, end = json.loads(sys.argv[1])
runs = []
from builder.cli import main
for command in commands:
    sys.argv, code, counter = ["loadleaf", *command], 0, cProfile.Profile()
    try:
        counter.runcall(main)
    except SystemExit as done:
        code = done.code or 0
    for stream in (sys.stdout, sys.stderr):
        stream.write(end)
        stream.flush()
    peak = int(re.search(r"VmHWM:\\s+(\\d+)", open("/proc/self/status").read())[1])
    runs.append([code, sum(called.callcount for called in counter.getstats()), peak / 1024])
json.dump(runs, open(file, "w"))
"""


@dataclass(frozen=True, slots=True)
class Run:
    """How a run ended: exit code, what it printed, calls of functions and MiB at the highest."""

    code: int
    out: str
    err: str
    calls: int
    mebibytes: float


def measured(*arguments: object, cwd: Path, **environment: str) -> Run:
    """`loadleaf` with arguments. Its work is counted in calls, which are the same on every machine.

    The peak is VmHWM of the process itself: ru_maxrss begins with what the tests' own process had.
    """
    (run,) = measured_in_turn([arguments], cwd, environment)
    return run


def measured_in_turn(
    commands: Sequence[Sequence[object]], cwd: Path, environment: dict[str, str] | None = None
) -> list[Run]:
    """Several commands in one process, which saves its start; that of the first counts, and peaks never fall."""
    figures = cwd / "figures.json"
    told = json.dumps([[[str(word) for word in command] for command in commands], str(figures), END])
    done = subprocess.run(
        [sys.executable, "-c", _WRAPPED, told],
        cwd=cwd, env={**os.environ, **(environment or {})}, capture_output=True, timeout=120, check=False,
    )  # fmt: skip
    outs, errs = (stream.decode("utf-8", "backslashreplace").split(END) for stream in (done.stdout, done.stderr))
    assert figures.exists(), errs
    runs = json.loads(figures.read_text())
    return [Run(code, out, err, *used) for (code, *used), out, err in zip(runs, outs, errs, strict=False)]
