"""The lock: one run at a time on a profile, whatever way leads to it, and none that outlives its run."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from builder.work.retest.lock import LockedError, lock_path, locked

HOLD = """
import sys, time
from pathlib import Path
from builder.work.retest.lock import locked
with locked([Path(sys.argv[1])]):
    print("held", flush=True)
    sys.stdin.readline()
"""
ADD = """
import sys, time
from pathlib import Path
from builder.work.retest.lock import LockedError, locked
path = Path(sys.argv[1])
for _ in range(25):
    while True:
        try:
            with locked([path]):
                number = int(path.read_text())
                time.sleep(0.001)
                path.write_text(str(number + 1))
            break
        except LockedError:
            time.sleep(0.0005)
"""


def _holder(path: Path) -> subprocess.Popen[str]:
    child = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert child.stdout is not None and child.stdout.readline() == "held\n"
    return child


def test_a_second_process_is_turned_away_and_told_who_holds_the_file(tmp_path: Path) -> None:
    path, link = tmp_path / "client.yaml", tmp_path / "link.yaml"
    path.write_text("x")
    link.symlink_to(path)
    child = _holder(path)
    for way in (path, link, tmp_path / "." / "client.yaml"):
        with pytest.raises(LockedError, match=f"process {child.pid} on "), locked([way]):
            pass
    child.communicate("\n")
    with locked([path]):
        assert lock_path(path).exists()
    assert sorted(p.name for p in tmp_path.iterdir()) == ["client.yaml", "link.yaml"]


def test_the_lock_of_a_killed_process_holds_no_one_up(tmp_path: Path) -> None:
    path = tmp_path / "client.yaml"
    child = _holder(path)
    os.kill(child.pid, signal.SIGKILL)
    child.communicate()
    assert lock_path(path).read_text().startswith(f"process {child.pid} on ")
    with locked([path]):
        assert lock_path(path).read_text().startswith(f"process {os.getpid()} on ")
    assert not lock_path(path).exists()


def test_two_processes_that_add_at_once_lose_nothing(tmp_path: Path) -> None:
    path = tmp_path / "number"
    path.write_text("0")
    children = [subprocess.Popen([sys.executable, "-c", ADD, str(path)]) for _ in range(2)]
    assert [child.wait(60) for child in children] == [0, 0]
    assert path.read_text() == "50"


def test_a_fault_within_lets_the_lock_go(tmp_path: Path) -> None:
    with pytest.raises(ZeroDivisionError), locked([tmp_path / "a"]):
        raise ZeroDivisionError
    with locked([tmp_path / "a", tmp_path / "b"]):
        pass


def test_of_several_files_none_stays_locked_when_one_is(tmp_path: Path) -> None:
    child = _holder(tmp_path / "b")
    with pytest.raises(LockedError), locked([tmp_path / "a", tmp_path / "b"]):
        pass
    with locked([tmp_path / "a"]):
        pass
    child.communicate("\n")
