"""Nothing that anybody says lets a command overwrite what a lifter has filled in; what becomes more open is told."""

from __future__ import annotations

from pathlib import Path

import pytest
from cli.test_commands import SAMPLES, loadleaf
from cli.test_protect import CHOICES
from log.small import BLOCK, CLIENT, booklet
from log.viewers import with_pikepdf

COMMANDS = (
    "build client.yaml block.yaml -o there.pdf",
    "retest client.yaml block.yaml --date 2027-01-20 -o there.pdf --result",
    "report here.pdf -o there.pdf",
    "impose here.pdf -o there.pdf",
    "strip here.pdf -o there.pdf",
    "intake brand -o there.pdf",
    "read here.pdf -o there.pdf",
    "unpack here.pdf there.pdf",
)
"""Every command that writes, with what is filled in in its way."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "client.yaml").write_text(CLIENT, "utf-8")
    (tmp_path / "block.yaml").write_text(BLOCK, "utf-8")
    (tmp_path / "brand").symlink_to(SAMPLES / "brand")
    filled = with_pikepdf(booklet(), {"w01-d1-s2-t2-reps": "4"}, tmp_path)
    for name in ("here.pdf", "there.pdf"):
        (tmp_path / name).write_bytes(filled)
    return tmp_path


@pytest.mark.parametrize("command", COMMANDS)
def test_nothing_goes_over_filled_fields(folder: Path, command: str) -> None:
    before = {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}
    words = [*command.split(), *(["back squat: 205 x 1"] if command.endswith("--result") else [])]
    done = loadleaf(*words, *([] if words[0] == "unpack" else ["--replace"]), cwd=folder)
    assert done.returncode == 1, done.stdout
    assert "there.pdf" in done.stderr and ("[output-" in done.stderr or "[folder-taken]" in done.stderr)
    assert {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()} == before


@pytest.mark.slow
def test_an_open_copy_in_the_place_of_a_protected_one_is_told(folder: Path) -> None:
    """The rules would travel with the next mail otherwise, unnoticed. A copy that is no more open says nothing."""

    def build(*options: str) -> str:
        where = ("-o", "copy.pdf", "--edition", "log", "--paper", "A5", "--date", "2027-01-04")
        done = loadleaf("build", "client.yaml", "block.yaml", *where, *options, cwd=folder)
        assert done.returncode == 0, done.stderr
        return done.stderr

    assert "[copy-open]" not in build("--no-sources", "--buyer", CHOICES.buyer)
    assert "[copy-open]" not in build("--no-sources", "--buyer", "Mira Holm")
    told = build("--buyer", "Mira Holm")
    assert "carried no sources" in told and "Say --no-sources" in told and "buyer" not in told.split("[copy-open]")[0]
    told = build()
    assert "was that of the buyer Mira Holm" in told and "[copy-open]" in told
