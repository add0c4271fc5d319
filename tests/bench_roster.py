"""Times a roster of many buyers of the intermediate sample's block. Run: python tests/bench_roster.py [BUYERS [ROWS]]

BUYERS (300) are printed, as A5; ROWS (10000) are only read and checked. No test asserts these figures; they depend on
the machine. Each line says what was measured and the aim.
"""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

from bench import ONCE, SAMPLES, child

HEAD = "name;tested;back squat;bench press;deadlift;bodyweight;order;mail"
FIRST = ("Ada", "Zoë", "Jürgen", "Łucja", "Юлия", "Богдан", "Фёдор", "Ελένη", "Γιώργος", "Σοφία")
ON = ("--paper", "A5", "--date", "2027-02-22")


def row(number: int) -> str:
    """A buyer with loads of her own; nobody is called as another."""
    loads = (f"{90 + number % 80} x 4 rir 1", f"{60 + number % 50},5 x 5 rir 1", f"{120 + number % 90} x 3 rir 1")
    name = f"{FIRST[number % len(FIRST)]} Quill {number}"
    return ";".join((name, "2027-02-20", *loads, f"{60 + number % 50},5", f"A-{number}", f"b{number}@shop.example"))


def shop(folder: Path, buyers: int) -> list[str]:
    """The files of a roster with so many rows, as arguments."""
    text = (SAMPLES / "intermediate" / "client.yaml").read_text("utf-8")
    own = "  name: Casimir Oyelaran-Voss\n"
    assert own in text
    (folder / "shared.yaml").write_text(text.replace(own, ""), "utf-8")
    (folder / "buyers.csv").write_text("\n".join((HEAD, *map(row, range(buyers)))), "utf-8")
    files = (folder / "buyers.csv", folder / "shared.yaml", SAMPLES / "intermediate" / "block.yaml", SAMPLES / "brand")
    return [str(path) for path in files]


def timed(*arguments: str) -> tuple[float, float, float]:
    """Wall and CPU seconds of a command, and the largest resident size (MB) of a process of it."""
    return child([sys.executable, "-c", ONCE, *arguments])


def told(what: str, seconds: tuple[float, float, float], more: str, workers: bool = False) -> None:
    """One line; what `workers` of a roster take is not the command's own, and so is not counted."""
    wall, cpu, size = seconds
    own = "" if workers else f", {cpu:.1f} s CPU, {size:.0f} MB in the largest process"
    print(f"{what}: {wall:.1f} s wall{own}; {more}", flush=True)


def printed(folder: Path, buyers: int) -> None:
    """The lone build, the roster on one core and on two, and again after five rows were changed."""
    files, out = shop(folder, buyers), folder / "two"
    client, block = SAMPLES / "intermediate" / "client.yaml", SAMPLES / "intermediate" / "block.yaml"
    lone = ("build", str(client), str(block), str(SAMPLES / "brand"), "--replace", "-o", str(folder / "lone.pdf"), *ON)
    timed(*lone)
    alone = min(timed(*lone, "--jobs", "1", "--no-sources") for _ in range(3))
    told("a lone build by one process", alone, "the usual pages kept, as in a roster")
    told("a lone build by all cores", min(timed(*lone, "--no-sources") for _ in range(3)), "the same")
    one = timed("roster", *files, "-o", str(folder / "one"), "--jobs", "1", *ON)
    per = one[0] / buyers
    told(f"{buyers} buyers, --jobs 1", one, f"{per:.2f} s each, {per / alone[0]:.2f} of a lone build (aim: below 0.5)",
         workers=True)  # fmt: skip
    two = timed("roster", *files, "-o", str(out), "--jobs", "2", *ON)
    told(f"{buyers} buyers, --jobs 2", two, f"{one[0] / two[0]:.2f} × the rate of one (aim: 1.8)", workers=True)
    same = all(path.read_bytes() == (folder / "one" / path.name).read_bytes() for path in out.glob("*.pdf"))
    print(f"the same bytes by one and by two: {'yes' if same else 'NO'}")
    table = folder / "buyers.csv"
    lines = table.read_text("utf-8").split("\n")
    changed = [line.replace(" x 3 ", " x 2 ") if 0 < at <= 5 else line for at, line in enumerate(lines)]
    table.write_text("\n".join(changed), "utf-8")
    before = {path.name: path.stat().st_mtime_ns for path in out.glob("*.pdf")}
    again = timed("roster", *files, "-o", str(out), "--jobs", "2", *ON)
    made = sum(path.stat().st_mtime_ns != before.get(path.name) for path in out.glob("*.pdf"))
    told("again with 5 rows changed", again, f"{made} made (aim: 5)", workers=True)
    told("again with none", timed("roster", *files, "-o", str(out), "--jobs", "2", *ON), "0 made")


def checked(folder: Path, rows: int) -> None:
    """Rows that are read and checked, and nothing is made of them."""
    told(f"{rows} rows, --dry-run", timed("roster", *shop(folder, rows), "-o", str(folder / "out"), "--dry-run", *ON),
         "aim for 10000: 30 s")  # fmt: skip


if __name__ == "__main__":
    buyers, rows = (*map(int, sys.argv[1:]), *(300, 10_000)[len(sys.argv) - 1 :])
    print(f"load of the machine {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores", flush=True)
    with tempfile.TemporaryDirectory() as name:
        checked(Path(name), rows)
    with tempfile.TemporaryDirectory() as name:
        printed(Path(name), buyers)
