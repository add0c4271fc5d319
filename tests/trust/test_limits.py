"""Strangers' YAML is refused with a clear message, with little work and memory, by every command that reads it."""

from __future__ import annotations

from pathlib import Path

import pytest
from cli.test_commands import loadleaf
from trust.hostile import BLOCK, CLIENT, HOSTILE
from trust.measured import Run, measured, measured_in_turn

MOST_CALLS = 2_500_000
"""Of functions, Python's and C's: twice what the costliest takes; each call is small."""
MOST_MEBIBYTES = 200
MOST_TOLD = 60_000
"""Signs of output; a hundred problems with their lines."""


def _refused(run: Run) -> None:
    assert run.code == 1, run.err[-2000:]
    assert "Traceback" not in run.err and "error: " in run.err
    assert "Nothing was written." in run.err
    assert len(run.err) < MOST_TOLD
    assert "\x1b" not in run.err and "\N{RIGHT-TO-LEFT OVERRIDE}" not in run.err
    assert run.calls < MOST_CALLS
    assert run.mebibytes < MOST_MEBIBYTES


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_yaml_is_refused_at_once_by_every_command_that_reads_it(name: str, tmp_path: Path) -> None:
    client, block = HOSTILE[name]
    (tmp_path / "c.yaml").write_bytes(client)
    (tmp_path / "b.yaml").write_bytes(block)
    runs = measured_in_turn([(command, "c.yaml", "b.yaml") for command in ("check", "build", "explain")], tmp_path)
    assert len(runs) == 3
    for run in runs:
        _refused(run)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["b.yaml", "c.yaml"]


@pytest.mark.parametrize("command", ["check", "build", "explain"])
def test_a_file_of_100_mb_is_not_read(command: str, tmp_path: Path) -> None:
    with (tmp_path / "c.yaml").open("wb") as file:
        file.write(CLIENT)
        file.truncate(100 * 1024 * 1024)
    (tmp_path / "b.yaml").write_bytes(BLOCK)
    run = measured(command, "c.yaml", "b.yaml", cwd=tmp_path)
    _refused(run)
    assert "larger than 512 KiB" in run.err


def test_a_folder_of_very_many_files_is_refused(tmp_path: Path) -> None:
    for number in range(2000):
        (tmp_path / f"{number}.yaml").write_bytes(CLIENT)
    run = measured("check", ".", cwd=tmp_path)
    _refused(run)
    assert "[too-many-files]" in run.err


def test_two_hundred_broken_files_together_are_told_in_a_hundred_problems(tmp_path: Path) -> None:
    for number in range(200):
        (tmp_path / f"{number}.yaml").write_bytes(b"format: 1\nclient: [" + b"~," * 60 + b"]\n")
    run = measured("check", ".", cwd=tmp_path)
    _refused(run)
    assert "[more]" in run.err or run.err.count("error: ") <= 100


def test_what_no_one_can_wait_for_is_not_opened(tmp_path: Path) -> None:
    """A pipe in a stranger's folder would make the command wait for ever."""
    import os

    os.mkfifo(tmp_path / "c.yaml")
    run = measured("check", ".", cwd=tmp_path)
    assert run.code == 1
    assert "is no plain file" in run.err


def test_a_device_behind_a_link_is_not_read(tmp_path: Path) -> None:
    (tmp_path / "c.yaml").symlink_to("/dev/zero")
    run = measured("check", ".", cwd=tmp_path)
    _refused(run)


def test_a_file_that_the_shell_hands_over_is_read(tmp_path: Path) -> None:
    """`loadleaf check <(…)` gives a pipe on purpose."""
    import subprocess
    import sys

    (tmp_path / "c.yaml").write_bytes(CLIENT)
    command = f"{sys.executable} -m builder check <(cat c.yaml)"
    done = subprocess.run(["bash", "-c", command], cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_a_gym_with_both_sets_of_plates_is_not_too_large(tmp_path: Path) -> None:
    """Four pairs of each of fourteen kinds, in kg and lb: 101,254 loads, and sound."""
    plates = [f"{n} kg" for n in (25, 20, 15, 10, 5, 2.5, 1.25, 0.5)] + [f"{n} lb" for n in (45, 35, 25, 10, 5, 2.5)]
    pairs = ", ".join(f"{plate}: 4" for plate in plates)
    client = CLIENT.replace(b"{20: 2, 10: 1, 5: 1, 2.5: 1, 1.25: 1}", b"{" + pairs.encode() + b"}")
    (tmp_path / "c.yaml").write_bytes(client)
    (tmp_path / "b.yaml").write_bytes(BLOCK)
    assert loadleaf("check", tmp_path).returncode == 0
