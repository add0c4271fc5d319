"""A command that is killed, or led astray by what lies in its way, leaves old or new, whole, and all else alone."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

HERE = Path(__file__).parent


def counted(script: str, *commands: str) -> dict[str, int]:
    """What the script prints: each command with a number."""
    way = os.pathsep.join([str(HERE.parent), str(HERE.parents[1]), os.environ.get("PYTHONPATH", "")])
    done = subprocess.run(
        [sys.executable, str(HERE / script), *commands], env=os.environ | {"PYTHONPATH": way}, capture_output=True,
        text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return {name: int(number) for name, number in (line.split() for line in done.stdout.splitlines())}


@pytest.mark.slow
def test_killed_before_anything_it_does_to_files_a_command_leaves_old_or_new() -> None:
    """The others are tried by hand: `python tests/door/killed.py`."""
    kills = counted("killed.py", "build", "report", "retest", "intake", "enrol", "roster", "strip", "unpack")
    assert len(kills) == 8 and min(kills.values()) > 5


@pytest.mark.slow
def test_what_lies_in_the_way_of_an_output_leads_nowhere() -> None:
    """Links to files, folders, devices and nothing, pipes, and second names, wherever a command writes or locks."""
    assert sum(counted("trapped.py").values()) > 100
