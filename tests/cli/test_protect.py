"""What a copy was protected with stays on its successor: rules kept back, buyer, order and lock."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import Path
from subprocess import CompletedProcess
from threading import Event, Thread

import pikepdf
import pytest
from cli.test_commands import loadleaf
from kept import once_a_run
from log.small import BLOCK, CLIENT, ON
from log.viewers import with_pikepdf

from builder.intake import load
from builder.log import manifest as carried
from builder.pages.model import Edition, Paper
from builder.pdf import locked
from builder.values.lists import Keep
from builder.work.publish import Choices, publish

FORM: dict[str, str | bool] = {"retest-l1-load": "205", "retest-l1-reps": "1", "retest-l1-date": "18.1."}
CHOICES = Choices(
    ON, Paper.A5, edition=Edition.LOG, whole=False, keep=Keep.ALL, buyer="Vela Ferrum", order="LL-20417"
)  # fmt: skip
PASSWORD = "correct horse"


@once_a_run
def _sold(lock: bool = False) -> bytes:
    """A copy as it is sold, with the coach's rules left out."""
    with tempfile.TemporaryDirectory() as name:
        client, block = Path(name, "client.yaml"), Path(name, "block.yaml")
        client.write_text(CLIENT, "utf-8")
        block.write_text(BLOCK, "utf-8")
        done = publish(load([client, block]), replace(CHOICES, locked=lock))
    assert done.pressed is not None
    return done.pressed.pdf


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "client.yaml").write_text(CLIENT, "utf-8")
    (tmp_path / "block.yaml").write_text(BLOCK, "utf-8")
    return tmp_path


def follow(folder: Path, command: str, filled: bytes, *options: object) -> CompletedProcess[str]:
    (folder / "filled.pdf").write_bytes(filled)
    where = ("-o", folder / "next.pdf", "--edition", "log", "--paper", "A5", "--date", "2027-01-20")
    named = ("--form" if command == "retest" else "--log", folder / "filled.pdf")
    return loadleaf(command, folder / "client.yaml", folder / "block.yaml", *named, *where, *options)


@contextmanager
def watched(secret: str) -> Iterator[dict[str, bool]]:
    """Whether each process that begins meanwhile has the secret in its command line or its environment."""
    before, seen, ended = set(os.listdir("/proc")), dict[str, bool](), Event()

    def look() -> None:
        while not ended.wait(0.005):
            for number in filter(str.isdigit, set(os.listdir("/proc")) - before):
                for what in ("cmdline", "environ"):
                    with suppress(OSError):
                        told = Path("/proc", number, what).read_bytes()
                        seen[number] = seen.get(number, False) or secret.encode() in told

    watcher = Thread(target=look)
    watcher.start()
    yield seen
    ended.set()
    watcher.join()


def carried_by(path: Path) -> tuple[set[str], carried.Protection, str]:
    with pikepdf.open(path) as pdf:
        manifest = carried.from_bytes(pdf.attachments["booklet.json"].get_file().read_bytes())
        return set(pdf.attachments), manifest.protection, str(pdf.docinfo.get("/Buyer", ""))


@pytest.mark.slow
@pytest.mark.parametrize("command", ["retest", "build"])
def test_rules_buyer_and_order_of_a_sold_copy_stay_with_its_successor(command: str, folder: Path) -> None:
    done = follow(folder, command, with_pikepdf(_sold(), FORM if command == "retest" else {}, folder))
    assert done.returncode == 0, done.stderr
    assert "no sources, buyer Vela Ferrum, order LL-20417" in done.stderr
    names, protection, buyer = carried_by(folder / "next.pdf")
    assert names == {"booklet.json"}
    assert (protection.whole, protection.buyer, protection.order) == (False, "Vela Ferrum", "LL-20417")
    assert buyer == "Vela Ferrum"


@pytest.mark.slow
def test_who_says_so_gets_a_successor_without_protections(folder: Path) -> None:
    done = follow(folder, "retest", with_pikepdf(_sold(), FORM, folder), "--unprotected")
    assert done.returncode == 0, done.stderr
    names, protection, buyer = carried_by(folder / "next.pdf")
    assert {"plan.json", "01-client.yaml", "02-block.yaml"} <= names
    assert protection == carried.Protection() and buyer == ""


@pytest.mark.slow
def test_a_locked_copy_gets_no_open_successor(folder: Path) -> None:
    """Neither where the lock is still there nor where a program that filled the form has dropped it."""
    filled = with_pikepdf(_sold(lock=True), FORM, folder)
    for data in (filled, locked(filled, PASSWORD)):
        done = follow(folder, "retest", data)
        assert done.returncode == 1 and "[copy-locked]" in done.stderr, done.stderr
        assert (folder / "client.yaml").read_text("utf-8") == CLIENT
    (folder / "password.txt").write_text(PASSWORD + "\n", "utf-8")
    with watched(PASSWORD) as seen:
        done = follow(folder, "retest", filled, "--jobs", 2, "--owner-password-file", folder / "password.txt")
    assert done.returncode == 0, done.stderr
    assert len(seen) >= 3 and not any(seen.values()), "the command and its workers, none of which shows the password"
    with pikepdf.open(folder / "next.pdf") as pdf:
        assert pdf.is_encrypted and not pdf.allow.modify_other


@pytest.mark.slow
def test_a_typed_retest_keeps_the_protections_of_the_copy_that_is_named(folder: Path) -> None:
    (folder / "sold.pdf").write_bytes(_sold())
    files = (folder / "client.yaml", folder / "block.yaml", "--like", folder / "sold.pdf", "-o", folder / "next.pdf")
    done = loadleaf("retest", *files, "--result", "back squat: 205 x 1", "--edition", "log", "--date", "2027-01-20")
    assert done.returncode == 0, done.stderr
    names, protection, _ = carried_by(folder / "next.pdf")
    assert names == {"booklet.json"} and protection.order == "LL-20417"


@pytest.mark.slow
def test_an_older_copy_is_known_by_what_its_file_shows(folder: Path) -> None:
    """A manifest that says nothing of protections, as they were written before: no plan inside, a buyer in the data."""
    (folder / "sold.pdf").write_bytes(_sold())
    with pikepdf.open(folder / "sold.pdf") as pdf:
        told = carried.from_bytes(pdf.attachments["booklet.json"].get_file().read_bytes())
        plain = told.model_dump_json(exclude={"protection"})
        pdf.attachments["booklet.json"] = plain.encode()
        pdf.save(folder / "old.pdf")
    done = follow(folder, "build", (folder / "old.pdf").read_bytes())
    assert done.returncode == 0, done.stderr
    names, protection, _ = carried_by(folder / "next.pdf")
    assert names == {"booklet.json"} and protection.buyer == "Vela Ferrum"
