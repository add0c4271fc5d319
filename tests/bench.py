"""Times the plan, the booklet and --help, and Chromium printing the same pages. Run: python tests/bench.py

No test asserts these figures; they depend on the machine. Each line says what was measured and the aim.
"""

from __future__ import annotations

import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from datetime import date
from pathlib import Path

from builder.intake import load
from builder.pages.model import Paper
from builder.pdf import shipped
from builder.pdf.fonts import face_rules
from builder.pdf.html import Look, render, style_sheets
from builder.pdf.sheets.impose import Folding, impose
from builder.plan import make_plan
from builder.work.publish import Choices, publish

SAMPLES = Path(__file__).parents[1] / "samples"
ADVANCED = [SAMPLES / "advanced", SAMPLES / "brand"]
ONCE = "from builder.cli import main; main()"
CHROMIUM = (
    "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--disable-quic", "--no-pdf-header-footer",
)  # fmt: skip


def best_of(times: int, call: object) -> float:
    """The shortest wall time in seconds of `times` calls."""
    best = float("inf")
    for _ in range(times):
        begun = time.perf_counter()
        call()  # type: ignore[operator]
        best = min(best, time.perf_counter() - begun)
    return best


def child(arguments: list[str]) -> tuple[float, float, float]:
    """Wall seconds, CPU seconds and the largest resident size (MB) of a process and its children."""
    script = (
        "import resource,subprocess,sys,time\n"
        "b=time.perf_counter(); subprocess.run(sys.argv[1:],check=True,stdout=-3,stderr=-3)\n"
        "u=resource.getrusage(resource.RUSAGE_CHILDREN)\n"
        "print(time.perf_counter()-b,u.ru_utime+u.ru_stime,u.ru_maxrss/1024)"
    )
    done = subprocess.run([sys.executable, "-c", script, *arguments], capture_output=True, text=True, check=True)
    wall, cpu, size = map(float, done.stdout.split())
    return wall, cpu, size


def plan() -> None:
    """The plan of the advanced sample, after import."""
    loaded = load(ADVANCED)
    assert loaded.sources is not None
    sources = loaded.sources
    made = make_plan(sources)
    slots = sum(len(s.slots) for s in made.sessions())
    seconds = best_of(5, lambda: make_plan(sources))
    print(f"plan: {seconds * 1000:.0f} ms for {len(made.sessions())} sessions with {slots} slots (aim: 50 ms)")


def booklet(folder: Path) -> None:
    """The advanced sample as A5, by us and by Chromium in turn."""
    target = folder / "ours.pdf"
    files = [str(path) for path in ADVANCED]
    ours = min(
        child([sys.executable, "-c", ONCE, "build", *files, "--paper", "A5", "--replace", "-o", str(target)])
        for _ in range(3)
    )
    done = publish(load(ADVANCED), Choices(date(2027, 1, 4), Paper.A5))
    assert done.pressed is not None and done.booklet is not None
    facts = f"{done.pressed.pages} pages, {done.pressed.field_count} fields, {len(done.pressed.pdf) // 1024} KiB"
    print(f"booklet: {ours[0]:.1f} s wall, {ours[1]:.1f} s CPU, {ours[2]:.0f} MB; {facts} (aim: 300 MB)")
    data = done.pressed.pdf
    seconds = best_of(3, lambda: impose(data, Folding(creep=0.1)))
    print(f"impose: {seconds:.2f} s for {done.pressed.pages} pages (aim: 1 s for 100)")
    browser = shutil.which("chromium")
    if browser is None:
        print("Chromium: not installed")
        return
    page = folder / "page.html"
    sheets = "\n".join((face_rules(shipped()), *style_sheets(done.booklet, Look())))
    page.write_text(render(done.booklet).replace("</head>", f"<style>{sheets}</style></head>"), encoding="utf-8")
    where = [f"--user-data-dir={folder / 'profile'}", f"--print-to-pdf={folder / 'chromium.pdf'}"]
    print_it = [browser, *CHROMIUM, *where]
    theirs = min(child([*print_it, page.as_uri()]) for _ in range(3))
    ratio = ours[0] / theirs[0]
    print(f"Chromium: {theirs[0]:.1f} s wall, {theirs[1]:.1f} s CPU; ours takes {ratio:.2f} times that (aim: 1.5)")


def answer() -> None:
    """How long --help takes to answer."""
    seconds = min(child([sys.executable, "-c", ONCE, "--help"])[0] for _ in range(5))
    print(f"--help: {seconds * 1000:.0f} ms (aim: 250 ms)")


if __name__ == "__main__":
    os.environ.setdefault("SOURCE_DATE_EPOCH", "1799020800")
    answer()
    plan()
    with tempfile.TemporaryDirectory() as name:
        booklet(Path(name))
    print(f"this process: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024} MB")
