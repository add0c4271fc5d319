"""Long work shows a bar on a terminal, and nothing of it on a pipe or for who asked for quiet."""

from __future__ import annotations

import os
import pty
import re
import subprocess
import sys
from pathlib import Path

import pytest

from builder.cli.progress import ProgressBar

ROOT = Path(__file__).parents[2]
SAMPLE = ROOT / "samples" / "novice"
PAGES = re.compile(r"(\d+)/(\d+)")


def on_terminal(*arguments: str, **more: str) -> str:
    """What a run writes to a terminal that stands behind its error stream."""
    here, there = pty.openpty()
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "TERM": "xterm", **more}
    command = [sys.executable, "-m", "builder", *arguments]
    run = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=there, stdin=subprocess.DEVNULL, env=environment)
    os.close(there)
    told = bytearray()
    try:
        while part := _read(here):
            told += part
    finally:
        os.close(here)
    assert run.wait() == 0, told.decode()
    return told.decode()


def _read(terminal: int) -> bytes:
    try:
        return os.read(terminal, 4096)
    except OSError:  # the other end was closed
        return b""


def handed(folder: Path, *more: str) -> list[str]:
    """A build of a few pages."""
    return ["build", str(SAMPLE), "--edition", "handbook", "--date", "2027-01-02", "-o", str(folder / "b.pdf"), *more]


def test_a_terminal_sees_how_many_pages_are_done(tmp_path: Path) -> None:
    told = on_terminal(*handed(tmp_path, "-v"))
    counts = [(int(done), int(expected)) for done, expected in PAGES.findall(told)]
    assert counts[0][0] == 0 and counts[-1][0] >= 5
    assert counts == sorted(counts) and all(done <= expected for done, expected in counts)
    assert re.search(r"· PDF\r\n.*pages", told), told  # the stage stands on a line of its own
    assert "\x1b[?25h" in told.split(PAGES.findall(told)[-1][0] + "/")[-1], "the cursor is shown again"


@pytest.mark.parametrize("how", ["quiet", "dumb"])
def test_a_hushed_run_and_a_plain_terminal_see_none(how: str, tmp_path: Path) -> None:
    told = on_terminal(*handed(tmp_path, "-q")) if how == "quiet" else on_terminal(*handed(tmp_path), TERM="dumb")
    assert "pages" not in told and "\x1b[?25l" not in told


def test_a_pipe_sees_none(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "builder", *handed(tmp_path)],
        capture_output=True, text=True, env={**os.environ, "PYTHONPATH": str(ROOT)},
    )  # fmt: skip
    assert done.returncode == 0 and "\x1b" not in done.stderr and PAGES.search(done.stderr) is None


@pytest.mark.slow
def test_a_roster_counts_its_booklets(tmp_path: Path) -> None:
    roster = tmp_path / "buyers.csv"
    roster.write_text(f"profile\n{SAMPLE / 'client.yaml'}\n")
    block = str(SAMPLE / "block.yaml")
    told = on_terminal("roster", str(roster), block, "--edition", "handbook", "-o", str(tmp_path / "out"))
    assert PAGES.findall(told)[-1] == ("1", "1") and "booklets" in told


def test_what_is_expected_may_grow(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Texts may take more pages than was thought, and a bar that seemed full goes on."""
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    with ProgressBar("pages") as bar:
        for done, expected in ((0, 2), (2, 2), (3, 3), (4, 5)):
            bar.told(done, expected)
    assert PAGES.findall(capsys.readouterr().err)[-1] == ("4", "5")
