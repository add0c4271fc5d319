"""Runs the command in a process that tells how much time and memory it took."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

_WRAPPED = """
import atexit, json, re, resource, sys
def tell():
    used = resource.getrusage(resource.RUSAGE_SELF)
    peak = int(re.search(r"VmHWM:\\s+(\\d+)", open("/proc/self/status").read())[1])
    with open(sys.argv.pop(), "w") as file:
        json.dump([used.ru_utime + used.ru_stime, peak / 1024], file)
name = sys.argv[-1]
sys.argv = ["loadleaf", *sys.argv[1:-1]]
atexit.register(lambda: (sys.argv.append(name), tell()))
from builder.cli import main
main()
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
    figures = cwd / "figures.json"
    done = subprocess.run(
        [sys.executable, "-c", _WRAPPED, *map(str, arguments), str(figures)],
        cwd=cwd, env={**os.environ, **environment}, capture_output=True, timeout=120, check=False,
    )  # fmt: skip
    seconds, mebibytes = json.loads(figures.read_text())
    out, err = (stream.decode("utf-8", "backslashreplace") for stream in (done.stdout, done.stderr))
    return Run(done.returncode, out, err, seconds, mebibytes)
