"""A run that is killed at any point leaves the old or the new file, whole, and the next run goes on from there."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

HERE = Path(__file__).parent


@pytest.mark.slow
def test_killed_before_anything_it_does_to_files_profile_and_booklet_are_whole() -> None:
    """The states come in one order: nothing, the profile, then the booklet too."""
    way = os.pathsep.join([str(HERE.parent), str(HERE.parents[1]), os.environ.get("PYTHONPATH", "")])
    done = subprocess.run(
        [sys.executable, str(HERE / "killed.py")], env=os.environ | {"PYTHONPATH": way}, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    times, *states = done.stdout.split()
    assert int(times) > 15
    assert states == ["old/old", "new/old", "new/new"]
