"""Runs the command in a process that tells how much time and memory it took."""

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
import json, re, resource, sys
commands, file, end = json.loads(sys.argv[1])
runs, before = [], 0.0
from builder.cli import main
for command in commands:
    sys.argv, code = ["loadleaf", *command], 0
    try:
        main()
    except SystemExit as done:
        code = done.code or 0
    for stream in (sys.stdout, sys.stderr):
        stream.write(end)
        stream.flush()
    used = resource.getrusage(resource.RUSAGE_SELF)
    peak = int(re.search(r"VmHWM:\\s+(\\d+)", open("/proc/self/status").read())[1])
    after = used.ru_utime + used.ru_stime
    runs.append([code, after - before, peak / 1024])
    before = after
json.dump(runs, open(file, "w"))
"""


@dataclass(frozen=True, slots=True)
class Run:
    """How a run ended: exit code, what it printed, seconds of processor time and MiB at the highest."""

    code: int
    out: str
    err: str
    seconds: float
    mebibytes: float


def measured(*arguments: object, cwd: Path, **environment: str) -> Run:
    """`loadleaf` with arguments; processor time, since the clock also counts what else the machine does.

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
