"""Nobody's data in another's file, and nothing overwritten unasked, as the commands are typed."""

from __future__ import annotations

import csv
import io
import json
import os
import stat
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
import yaml
from cli.test_commands import BLOCK, CLIENT, loadleaf
from log.small import WRITTEN, booklet
from log.viewers import with_pikepdf


def mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


@pytest.fixture
def filled(tmp_path: Path) -> Path:
    """A folder with a filled booklet in it."""
    path = tmp_path / "filled.pdf"
    path.write_bytes(with_pikepdf(booklet(), WRITTEN, tmp_path))
    for left in tmp_path.iterdir():
        if left != path:
            left.unlink()
    return path


def test_a_folder_of_three_clients_is_nobody(tmp_path: Path) -> None:
    for name in ("Ada", "Bo", "Cy"):
        (tmp_path / f"{name}.yaml").write_text(f"format: 1\nclient: {{name: {name}}}\n")
    for command in (("check",), ("build",), ("explain",), ("retest", "--result", "back squat: 100 x 1")):
        done = loadleaf(command[0], tmp_path, *command[1:])
        assert done.returncode == 1 and "two-clients" in done.stderr, done.stderr
        assert "Ada.yaml" in done.stderr and "Bo.yaml:2" in done.stderr and "Cy.yaml:2" in done.stderr


@pytest.mark.parametrize("replace", [False, True])
@pytest.mark.parametrize(
    "there", ["filled", "client.yaml", "pipe", "/dev/null", "link to a device", "folder", "other.pdf"]
)
def test_a_log_replaces_nothing_but_a_log(filled: Path, there: str, replace: bool) -> None:
    """Another lifter's filled booklet, a profile, a device and a pipe are all left as they are, at once."""
    folder = filled.parent
    another = folder / "another.pdf"
    another.write_bytes(filled.read_bytes() + b"\n")
    target = another if there == "filled" else folder / there
    lay: dict[str, Callable[[], object]] = {
        "client.yaml": lambda: target.write_text(CLIENT),
        "pipe": lambda: os.mkfifo(target),
        "link to a device": lambda: target.symlink_to("/dev/null"),
        "folder": target.mkdir,
        "other.pdf": lambda: target.write_bytes(b"%PDF-1.7 a contract"),
    }
    if there in lay:
        lay[there]()
    before = target.read_bytes() if target.is_file() else stat.S_IFMT(target.lstat().st_mode)
    done = loadleaf("read", filled, "-o", target, *(["--replace"] if replace else []))
    if replace and there == "client.yaml":
        assert done.returncode == 0 and target.read_text().startswith("format: 1\nbooklet:")
        return
    assert done.returncode == 1 and "error: " in done.stderr and "Nothing was written" in done.stderr
    assert (target.read_bytes() if target.is_file() else stat.S_IFMT(target.lstat().st_mode)) == before


def test_a_log_replaces_a_log_in_any_of_its_forms_and_goes_to_the_screen(filled: Path) -> None:
    target = filled.parent / "log"
    for form in ("yaml", "json", "csv", "yaml"):
        done = loadleaf("read", filled, "--format", form, "-o", target)
        assert done.returncode == 0, done.stderr
    filled.chmod(0o640)
    target.unlink()
    assert loadleaf("read", filled, "-o", target).returncode == 0
    assert mode(target) == 0o640 & mode(target) and not mode(target) & 0o007
    assert loadleaf("read", filled, "-o", "-", cwd=filled.parent).stdout.encode() == target.read_bytes()
    assert not (filled.parent / "-").exists()


def test_a_log_is_no_more_open_than_the_booklet_and_follows_the_link_that_was_typed(filled: Path) -> None:
    filled.chmod(0o600)
    link, real = filled.parent / "link.yaml", filled.parent / "real.yaml"
    link.symlink_to(real)
    done = loadleaf("read", filled, "-o", link)
    assert done.returncode == 0 and "link-followed" in done.stderr and str(real) in done.stderr
    assert mode(real) == 0o600 and link.is_symlink()


def test_sheets_do_not_replace_a_booklet_nor_a_booklet_a_stranger(filled: Path) -> None:
    """A file is replaced by its own kind only."""
    blank, sheets = filled.parent / "blank.pdf", filled.parent / "sheets.pdf"
    blank.write_bytes(booklet())
    done = loadleaf("impose", filled, "-o", blank)
    assert done.returncode == 1 and "is a booklet, and print sheets would take its place" in done.stderr
    for _ in range(2):
        assert loadleaf("impose", blank, "-o", sheets).returncode == 0
    assert loadleaf("impose", blank, "-o", "-").returncode == 1


@pytest.mark.slow
def test_a_booklet_is_no_more_open_than_its_profile(tmp_path: Path) -> None:
    """A profile of mode 600 made a booklet that all could read."""
    client, block, out = tmp_path / "client.yaml", tmp_path / "block.yaml", tmp_path / "out.pdf"
    client.write_text(CLIENT)
    block.write_text(BLOCK)
    client.chmod(0o600)
    assert loadleaf("build", client, block, "--edition", "log", "-o", out).returncode == 0
    assert mode(out) == 0o600
    assert loadleaf("unpack", out, tmp_path / "again").returncode == 0
    assert [mode(tmp_path / "again" / name) for name in ("", "client.yaml")] == [0o700, 0o600]


def test_a_starter_folder_follows_the_mask(tmp_path: Path) -> None:
    line = f"umask 077; {sys.executable} -m builder start new/deeper"
    assert subprocess.run(["bash", "-c", line], cwd=tmp_path, check=False).returncode == 0
    made = list((tmp_path / "new").rglob("*"))
    assert {mode(path) for path in made if path.is_dir()} == {0o700}
    assert {mode(path) for path in made if path.is_file()} == {0o600}
    for taken in ("new/deeper", "new/deeper/client.yaml"):
        assert "folder-taken" in loadleaf("start", taken, cwd=tmp_path).stderr


HOSTILE = "\x1b[2J\x9b31m\u202e\U000e0041\u00ad;=cmd|' /C calc'!A0"


def test_a_hostile_note_paints_no_terminal_and_is_no_formula(tmp_path: Path) -> None:
    """In every format what the lifter wrote can be looked at; from YAML and JSON it reads back as it was."""
    path = tmp_path / "filled.pdf"
    path.write_bytes(with_pikepdf(booklet(), {"w01-d1-s2-t1-done": True, "w01-d1-s2-note": HOSTILE}, tmp_path))
    told = {form: loadleaf("read", path, "--format", form).stdout for form in ("yaml", "json", "csv")}
    for text in told.values():
        assert not {"\x1b", "\x9b", "\u202e", "\U000e0041", "\u00ad"} & set(text)
    for log in (yaml.safe_load(told["yaml"]), json.loads(told["json"])):
        assert HOSTILE in [slot["note"] for session in log["sessions"] for slot in session["slots"]]
    for separator in (",", ";"):
        cells = [cell for row in csv.reader(io.StringIO(told["csv"]), delimiter=separator) for cell in row]
        assert any("'=cmd|" in cell for cell in cells) and not [cell for cell in cells if cell.startswith("=")]
    assert all(line.startswith('"') and line.endswith('"') for line in told["csv"].splitlines())


@pytest.mark.parametrize("command", ["check", "build", "read", "impose", "unpack", "report", "retest", "schema", "--x"])
def test_a_hostile_argument_paints_no_terminal(tmp_path: Path, command: str) -> None:
    more = ["out"] if command == "unpack" else []
    done = loadleaf(command, f"\x1b]0;owned\x07{HOSTILE}\n.pdf", *more, cwd=tmp_path)
    assert done.returncode in (1, 2)
    assert not {"\x1b", "\x07", "\x9b", "\u202e"} & set(done.stdout + done.stderr)


@pytest.mark.parametrize("trap", ["roster-state.jsonl", "ada-quill-short.pdf"])
def test_a_roster_writes_through_no_link_in_its_folder(tmp_path: Path, trap: str) -> None:
    (tmp_path / "client.yaml").write_text(CLIENT)
    (tmp_path / "block.yaml").write_text(BLOCK)
    (tmp_path / "r.csv").write_text("profile\nclient.yaml\n")
    out, precious = tmp_path / "out", tmp_path / "precious"
    out.mkdir()
    (out / trap).symlink_to(precious)
    done = loadleaf("roster", tmp_path / "r.csv", tmp_path / "block.yaml", "-o", out, "--jobs", 1)
    assert done.returncode == 1 and "is a link, and nobody named it" in done.stderr, done.stderr
    assert not precious.exists() and (out / trap).is_symlink()


def test_a_folder_that_cannot_be_is_a_problem(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    (tmp_path / "form.pdf").write_bytes(b"%PDF-1.7")
    done = loadleaf("enrol", tmp_path / "form.pdf", "-o", tmp_path / "file" / "deeper")
    assert done.returncode == 1 and "output-folder" in done.stderr
