"""A command that is killed at any line of the door leaves old or new, whole, and a later run clears the rest."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

HERE = Path(__file__).parent


@pytest.mark.slow
@pytest.mark.parametrize("command", ["start", "build"])
def test_killed_at_any_line_of_the_door_a_command_leaves_old_or_new(command: str) -> None:
    """The others (`read`, `impose`, `unpack`) are tried by hand: `python tests/door/killed.py`."""
    way = os.pathsep.join([str(HERE.parent), str(HERE.parents[1]), os.environ.get("PYTHONPATH", "")])
    done = subprocess.run(
        [sys.executable, str(HERE / "killed.py"), command], env=os.environ | {"PYTHONPATH": way}, capture_output=True,
        text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert int(done.stdout.split()[1]) > 60
