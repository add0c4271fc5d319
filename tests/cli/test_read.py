"""`read` and `unpack` as a user meets them."""

from __future__ import annotations

import json
from pathlib import Path

import pikepdf
import pytest
import yaml
from cli.test_commands import loadleaf
from log.small import booklet
from log.viewers import with_pikepdf

VALUES: dict[str, str | bool] = {"w01-d1-s2-t1-done": True, "w01-d1-s2-t2-reps": "4", "w01-d1-note": "schön"}


@pytest.fixture
def filled(tmp_path: Path) -> Path:
    path = tmp_path / "filled.pdf"
    path.write_bytes(with_pikepdf(booklet(), VALUES, tmp_path))
    return path


def test_a_clear_log_is_printed_as_yaml_and_ends_with_0(filled: Path) -> None:
    done = loadleaf("read", filled)
    assert (done.returncode, done.stderr) == (0, "")
    assert yaml.safe_load(done.stdout)["so_far"]["missed"] == 1


def test_json_and_csv_go_to_a_file(filled: Path, tmp_path: Path) -> None:
    assert loadleaf("read", filled, "--format", "json", "-o", tmp_path / "log.json").returncode == 0
    assert json.loads((tmp_path / "log.json").read_text("utf-8"))["format"] == 1
    assert loadleaf("read", filled, "--format", "csv", "-o", tmp_path / "log.csv").returncode == 0
    assert (tmp_path / "log.csv").read_text("utf-8").startswith('"week","day","date"')


def test_unclear_cells_are_told_with_page_and_field_and_the_rest_is_printed(filled: Path, tmp_path: Path) -> None:
    filled.write_bytes(with_pikepdf(booklet(), VALUES | {"w02-d1-s2-t1-reps": "fife"}, tmp_path))
    done = loadleaf("read", filled)
    assert done.returncode == 1
    assert f'{filled}, page 2, field w02-d1-s2-t1-reps: error: "fife" is no number of reps' in done.stderr
    assert yaml.safe_load(done.stdout)["whole"]["unclear"] == 1


def test_a_file_that_is_no_booklet_stops_the_reading(filled: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.pdf"
    other.write_bytes(b"%PDF-1.7\n%%EOF\n")
    done = loadleaf("read", filled, other)
    assert (done.returncode, done.stdout) == (1, "")
    assert "Traceback" not in done.stderr


def test_the_booklet_itself_is_never_overwritten_by_its_log(filled: Path) -> None:
    before = filled.read_bytes()
    assert loadleaf("read", filled, "-o", filled).returncode == 1
    assert filled.read_bytes() == before


def test_unpack_gives_files_that_check_well(filled: Path, tmp_path: Path) -> None:
    done = loadleaf("unpack", filled, tmp_path / "out")
    assert done.returncode == 0, done.stderr
    command = done.stdout.splitlines()[-1].partition("with: ")[2].split()
    assert loadleaf("check", *command[2:]).returncode == 0
    assert loadleaf("unpack", filled, tmp_path / "out").returncode == 1
    assert sorted(p.name for p in (tmp_path / "out").iterdir()) == ["block.yaml", "client.yaml"]
    assert [p.name for p in tmp_path.iterdir() if p.name.startswith(".unpack")] == []


def test_a_copy_that_lost_its_meaning_is_read_with_the_booklet_as_it_was_built(filled: Path, tmp_path: Path) -> None:
    """The attachments dropped, as programs do that put pages together."""
    (tmp_path / "built.pdf").write_bytes(booklet())
    whole = loadleaf("read", filled)
    with pikepdf.open(filled, allow_overwriting_input=True) as pdf:
        for name in list(pdf.attachments):
            del pdf.attachments[name]
        pdf.save(filled)
    alone = loadleaf("read", filled)
    assert alone.returncode == 1 and "[pdf-stripped]" in alone.stderr and "--from" in alone.stderr
    assert loadleaf("read", filled, "--from", tmp_path / "built.pdf").stdout == whole.stdout


def test_a_copy_to_hand_over_says_what_it_does_not_carry(tmp_path: Path) -> None:
    (tmp_path / "sold.pdf").write_bytes(with_pikepdf(booklet(whole=False), VALUES, tmp_path))
    (tmp_path / "built.pdf").write_bytes(booklet())
    done = loadleaf("read", tmp_path / "sold.pdf")
    assert done.returncode == 0 and "--from" in done.stderr
    lent = loadleaf("read", tmp_path / "sold.pdf", "--from", tmp_path / "built.pdf")
    assert (lent.returncode, lent.stderr) == (0, "")
    assert yaml.safe_load(done.stdout)["so_far"] == yaml.safe_load(lent.stdout)["so_far"]
