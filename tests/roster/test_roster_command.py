"""`loadleaf roster` as a coach meets it: a folder of booklets, made anew only where something changed."""

from __future__ import annotations

import csv
import hashlib
import io
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pikepdf
import pytest
from cli.test_commands import BLOCK, loadleaf
from click.testing import CliRunner

from builder.cli.roster import roster as command
from builder.work.roster import run as running
from builder.work.roster.state import STATE, recall

pytestmark = pytest.mark.slow

SHARED = """format: 1
client: {units: kg}
training: {status: novice, months: 3, days: [mon], session_minutes: 60, starts: 2027-01-11}
gym: {bars: {bar: 20}, pairs: {20: 2, 10: 1, 5: 1, 2.5: 1, 1.25: 1}, safeties: true, spotter: always}
screening: {answered: 2027-01-02}
"""
HEAD = "name;tested;back squat;order;mail"
ROWS = (
    "Ada Quill;2027-01-02;60 x 5 rir 2;A-1;ada@example.org",
    "Zoë Ünal;2027-01-02;82,5 x 5;=A-2;",
    "Юлия Орлова;2027-01-02;70 x 3;A-3;",
)


class Shop:
    """A folder with a roster and what its rows share, and the folder that is made of them."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.out = folder, folder / "out"
        (folder / "shared.yaml").write_text(SHARED)
        (folder / "block.yaml").write_text(BLOCK)

    def arguments(self, *more: str) -> list[str]:
        files = [str(self.folder / name) for name in ("roster.csv", "shared.yaml", "block.yaml")]
        return ["roster", *files, "-o", str(self.out), "--edition", "log", "--date", "2027-01-04", *more]

    def write(self, *rows: str) -> None:
        (self.folder / "roster.csv").write_text("\n".join((HEAD, *rows)), encoding="utf-8-sig")

    def run(self, *more: str) -> subprocess.CompletedProcess[str]:
        return loadleaf(*self.arguments(*more))

    def pdfs(self) -> dict[str, str]:
        """Each booklet with the digest of its bytes."""
        return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in self.out.glob("*.pdf")}

    def delivery(self) -> list[dict[str, str]]:
        return list(csv.DictReader(io.StringIO((self.out / "delivery.csv").read_text("utf-8-sig"))))


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    made = Shop(tmp_path)
    made.write(*ROWS)
    return made


def test_a_second_run_makes_only_what_changed(shop: Shop) -> None:
    """One row in three is changed, one is taken out, one is added; then nothing is."""
    first = shop.run()
    assert first.returncode == 0, first.stderr
    before = shop.pdfs()
    assert len(before) == 3
    assert {row["file"]: row["sha256"] for row in shop.delivery()} == before
    assert [row["order"] for row in shop.delivery()] == ["A-1", "'=A-2", "A-3"]
    assert [row["mail"] for row in shop.delivery()] == ["ada@example.org", "", ""]
    shop.write(ROWS[0], ROWS[1].replace("82,5", "85"), "Bo Li;2027-01-02;50 x 5;A-4;")
    dry = shop.run("--dry-run")
    assert dry.stdout.splitlines() == [
        "ada-quill-short.pdf: unchanged",
        "zoë-ünal-short.pdf: changed",
        "bo-li-short.pdf: new",
    ]
    assert shop.pdfs() == before
    second = shop.run()
    assert "2 made, 1 unchanged" in second.stdout
    assert "юлия-орлова-short.pdf is in the folder, but no row asks for it" in second.stderr
    after = shop.pdfs()
    assert after["ada-quill-short.pdf"] == before["ada-quill-short.pdf"]
    assert after["юлия-орлова-short.pdf"] == before["юлия-орлова-short.pdf"]
    assert after["zoë-ünal-short.pdf"] != before["zoë-ünal-short.pdf"]
    third = loadleaf(*[a for a in shop.arguments() if a not in ("--date", "2027-01-04")])
    assert "0 made, 3 unchanged" in third.stdout, "the day of the roster stays the day of its first run"


def test_a_filled_booklet_is_never_overwritten(shop: Shop) -> None:
    """Neither when its row changed nor when others are made."""
    shop.write(*ROWS[:2])
    assert shop.run().returncode == 0
    path = shop.out / "ada-quill-short.pdf"
    with pikepdf.open(path, allow_overwriting_input=True) as pdf:
        for field in pdf.Root.AcroForm.Fields:
            if "load" in str(field.T):
                field.V = pikepdf.String("62.5")
                break
        pdf.save(path)
    filled = path.read_bytes()
    shop.write(ROWS[0].replace("60 x", "65 x"), ROWS[1].replace("82,5", "85"))
    done = shop.run()
    assert done.returncode == 1
    assert path.read_bytes() == filled
    assert "holds" in done.stderr and "1 made" in done.stdout


def test_bad_rows_stop_the_run_unless_they_are_skipped(shop: Shop) -> None:
    shop.write(ROWS[0], ROWS[1].replace("82,5 x 5", "82,5 by 5"))
    done = shop.run()
    assert (done.returncode, shop.out.exists()) == (1, False)
    assert "row 2, back squat" in done.stderr
    done = shop.run("--skip-bad")
    assert done.returncode == 1
    assert list(shop.pdfs()) == ["ada-quill-short.pdf"]


def of_session(leader: int) -> list[int]:
    """The processes that a command started and that are still there; zombies are none (proc(5), stat)."""
    found = []
    for path in Path("/proc").glob("[0-9]*/stat"):
        try:
            state, _, _, session = path.read_text().rpartition(")")[2].split()[:4]
        except OSError:
            continue
        if int(session) == leader and state != "Z":
            found.append(int(path.parent.name))
    return found


@pytest.mark.parametrize("sign", [signal.SIGKILL, signal.SIGTERM, signal.SIGINT])
def test_a_stopped_run_goes_on_where_it_was(shop: Shop, sign: signal.Signals) -> None:
    """Whole files and a true state at any time; the next run makes the rest, and no worker is left behind."""
    command = [sys.executable, "-m", "builder", *shop.arguments("--jobs", "1")]
    run = subprocess.Popen(command, stderr=subprocess.DEVNULL, start_new_session=True)
    while run.poll() is None and not list(shop.out.glob("*.pdf")):
        time.sleep(0.02)
    run.send_signal(sign)
    run.wait(timeout=60)
    until = time.monotonic() + 60
    while left := of_session(run.pid):
        assert time.monotonic() < until, f"{left} outlived the run"
        time.sleep(0.1)
    kept = shop.pdfs()
    for file, made in recall(shop.out).made.items():
        assert kept[file] == made.sha256
    assert all((shop.out / file).read_bytes().rstrip().endswith(b"%%EOF") for file in kept)
    done = shop.run()
    assert done.returncode == 0, done.stderr
    assert len(shop.pdfs()) == 3
    assert {row["file"] for row in shop.delivery()} == set(shop.pdfs())


def test_a_state_that_is_none_is_told_and_nothing_is_touched(shop: Shop) -> None:
    shop.out.mkdir()
    (shop.out / STATE).write_text("not ours\nat all\n")
    done = shop.run()
    assert done.returncode == 1
    assert "does not tell what the folder was made from" in done.stderr
    assert [path.name for path in shop.out.iterdir()] == [STATE]


def test_workers_that_begin_anew_make_the_same(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    """As on Windows and on a Mac, where none is forked."""
    shop.write(ROWS[0])
    assert shop.run().returncode == 0
    made = shop.pdfs()
    shutil.rmtree(shop.out)
    monkeypatch.setattr(running, "BEGIN", "spawn")
    assert CliRunner().invoke(command, shop.arguments()[1:], obj=False).exit_code == 0
    assert shop.pdfs() == made


@pytest.mark.parametrize("jobs", ["1", "2"])
def test_a_roster_longer_than_its_workers_live_is_made_whole(
    shop: Shop, monkeypatch: pytest.MonkeyPatch, jobs: str
) -> None:
    """Five buyers, and workers that begin anew after two; they would wait for each other with a pool's own renewal."""
    shop.write(*ROWS, *(f"Bo Li {letter};2027-01-02;50 x 5;B-{letter};" for letter in "ab"))
    monkeypatch.setattr(running, "TASKS_A_WORKER", 2)
    done = CliRunner().invoke(command, shop.arguments("--jobs", jobs)[1:], obj=False)
    assert (done.exit_code, len(shop.pdfs())) == (0, 5), done.output


def test_the_booklets_are_those_that_build_makes(shop: Shop) -> None:
    """The same bytes, in a worker or alone; a copy that becomes more open on the way is told."""
    shop.write(ROWS[0])
    assert "[copy-open]" not in shop.run().stderr
    open_ = shop.run("--with-sources")
    assert open_.returncode == 0
    assert "ada-quill-short.pdf carried no sources, and the new one" in open_.stderr and "[copy-open]" in open_.stderr
    again = loadleaf(*[*shop.arguments("--with-sources", "--jobs", "2"), "-o", str(shop.folder / "other")])
    assert again.returncode == 0
    first, second = shop.out / "ada-quill-short.pdf", shop.folder / "other" / "ada-quill-short.pdf"
    assert first.read_bytes() == second.read_bytes()
