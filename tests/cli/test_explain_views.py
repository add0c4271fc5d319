"""The short views of `explain`, and what `build` says of what it made."""

from __future__ import annotations

from pathlib import Path

import pytest
from cli.test_commands import BLOCK, CLIENT, loadleaf


@pytest.fixture
def files(tmp_path: Path) -> Path:
    """A folder with a client and a block."""
    (tmp_path / "client.yaml").write_text(CLIENT)
    (tmp_path / "block.yaml").write_text(BLOCK)
    return tmp_path


def test_brief_lift_and_against_print_their_views(files: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    """Against a block alone the client of FILES is taken; short names of lifts are understood."""
    other = tmp_path_factory.mktemp("other") / "block.yaml"
    other.write_text(BLOCK.replace("sets: 3", "sets: 4"))
    assert "back squat" in loadleaf("explain", files, "--brief").stdout
    assert "Week 1" in loadleaf("explain", files, "--lift", "Squats").stdout
    done = loadleaf("explain", files, "--against", other)
    assert (done.returncode, done.stderr) == (0, "")
    assert "4 × 5" in done.stdout and "→ 3 × 5" in done.stdout and done.stdout.endswith("1 slot differs.\n")


def test_a_lift_that_is_not_planned_and_two_views_at_once_are_wrong_usage(files: Path) -> None:
    """What is planned is named."""
    done = loadleaf("explain", files, "--lift", "bench press")
    assert done.returncode == 2 and "back squat" in done.stderr
    assert loadleaf("explain", files, "--brief", "--json").returncode == 2


@pytest.mark.slow
def test_build_says_in_four_lines_what_it_made(files: Path) -> None:
    """Who and what, how long and from when to when, cautions, and the file."""
    lines = loadleaf("build", files, "-o", files / "x.pdf").stdout.splitlines()
    assert lines[0] == "Ada Quill: Short"
    assert lines[1] == "1 week, 1 session, 2027-01-11 to 2027-01-11"
    assert lines[2] == "Cautions: none"
    assert "pages" in lines[3] and "fields" in lines[3] and len(lines) == 4
