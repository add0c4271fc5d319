"""The lock: one run at a time on a profile, whatever way leads to it, and none that outlives its run."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from builder.door import BarredError, LockedError, lock_path, locked

HOLD = """
import sys, time
from pathlib import Path
from builder.door import locked
with locked([Path(sys.argv[1])]):
    print("held", flush=True)
    sys.stdin.readline()
"""
ADD = """
import sys, time
from pathlib import Path
from builder.door import LockedError, locked
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


def test_a_second_process_is_turned_away_whatever_the_way(tmp_path: Path) -> None:
    path, link = tmp_path / "client.yaml", tmp_path / "link.yaml"
    path.write_text("x")
    link.symlink_to(path)
    child = _holder(path)
    for way in (path, link, tmp_path / "." / "client.yaml"):
        with pytest.raises(LockedError, match=r"client\.yaml is locked by another run"), locked([way]):
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
    assert lock_path(path).exists()
    with locked([path]):
        assert lock_path(path).exists()
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


def test_a_planted_link_is_not_followed(tmp_path: Path) -> None:
    """Whatever lies under the lock's name keeps its contents, by whichever kind of link it is reached."""
    target, path = tmp_path / "precious", tmp_path / "client.yaml"
    target.write_text("keep")
    lock_path(path).symlink_to(target)
    with pytest.raises(BarredError, match="it is a link"), locked([path]):
        pass
    lock_path(path).unlink()
    lock_path(path).hardlink_to(target)
    with locked([path]):
        pass
    assert target.read_text() == "keep"


def test_a_pipe_or_a_folder_is_no_lock(tmp_path: Path) -> None:
    """Nothing waits for the other end of a pipe."""
    path = tmp_path / "client.yaml"
    os.mkfifo(lock_path(path))
    with pytest.raises(BarredError), locked([path]):
        pass
    lock_path(path).unlink()
    lock_path(path).mkdir()
    with pytest.raises(BarredError), locked([path]):
        pass
