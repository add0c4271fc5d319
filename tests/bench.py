"""Times the plan, the booklet and --help, and Chromium printing the same pages beside them. Run: python tests/bench.py

No test asserts these figures; they depend on the machine. Each line says what was measured and the aim.
"""

from __future__ import annotations

import functools
import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import suppress
from datetime import date
from pathlib import Path
from types import FunctionType

from builder.intake import load
from builder.pages.model import Paper
from builder.pdf import shipped
from builder.pdf.fonts import face_rules
from builder.pdf.html import Look, render, style_sheets
from builder.pdf.sheets.impose import Folding, impose
from builder.plan import make_plan
from builder.training import expected
from builder.work.publish import Choices, Published, publish

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
    print(f"plan: {seconds * 1000:.0f} ms for {len(made.sessions())} sessions with {slots} slots (aim: 45 ms)")


def expecting() -> None:
    """What of the plan the expected max takes: everything asked of it from outside, recorded and asked again."""
    loaded = load(ADVANCED)
    assert loaded.sources is not None
    asked: list[tuple[Callable[..., object], tuple[object, ...], dict[str, object]]] = []
    inside = [0]

    def noted(call: Callable[..., object]) -> Callable[..., object]:
        @functools.wraps(call)
        def asking(*args: object, **more: object) -> object:
            if not inside[0]:
                asked.append((call, args, more))
            inside[0] += 1
            try:
                return call(*args, **more)
            finally:
                inside[0] -= 1

        return asking

    public = [one for one in vars(expected).values() if isinstance(one, FunctionType) and one.__name__[0] != "_"]
    listening = {one: noted(one) for one in public if one.__module__ == expected.__name__}
    ours = [module for name, module in sys.modules.items() if name.startswith("builder.")]
    kept = [(module, name, one) for module in ours for name, one in vars(module).items()
            if isinstance(one, FunctionType) and one in listening]  # fmt: skip
    for module, name, one in kept:
        setattr(module, name, listening[one])
    make_plan(loaded.sources)
    for module, name, one in kept:
        setattr(module, name, one)
    best = float("inf")
    for _ in range(100):
        begun = time.process_time()
        for call, args, more in asked:
            call(*args, **more)
        best = min(best, time.process_time() - begun)
    print(f"expected max: {best * 1000:.1f} ms of processor time in the plan, {len(asked)} questions (aim: 2 ms)")


def proportional(parent: int) -> float:
    """The memory (MB) of a process and all below it, shared parts counted once (PSS, proc_pid_smaps_rollup(5))."""
    total, todo = 0.0, [parent]
    while todo:
        process = todo.pop()
        with suppress(OSError):
            told = Path(f"/proc/{process}/smaps_rollup").read_text()
            total += int(told.partition("\nPss:")[2].split()[0]) / 1024
            todo += map(int, Path(f"/proc/{process}/task/{process}/children").read_text().split())
    return total


def built(files: list[str], target: Path, *options: str) -> tuple[float, float, float]:
    """Wall and CPU seconds of a build, and the largest sum of memory (MB) of all its processes."""
    command = [sys.executable, "-c", ONCE, "build", *files, "--paper", "A5", "--replace", "-o", str(target), *options]
    before, begun, most = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter(), 0.0
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as run:
        while run.poll() is None:
            most = max(most, proportional(run.pid))
            time.sleep(0.1)
    wall, after = time.perf_counter() - begun, resource.getrusage(resource.RUSAGE_CHILDREN)
    if run.returncode:
        raise SystemExit(f"the build ended with {run.returncode}")
    return wall, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, most


def chromium(folder: Path, done: Published) -> float:
    """Wall seconds in which Chromium prints the same pages; 0 where there is none."""
    browser = shutil.which("chromium")
    if browser is None or done.booklet is None:
        print("Chromium: not installed")
        return 0.0
    page = folder / "page.html"
    sheets = "\n".join((face_rules(shipped()), *style_sheets(done.booklet, Look())))
    page.write_text(render(done.booklet).replace("</head>", f"<style>{sheets}</style></head>"), encoding="utf-8")
    where = [f"--user-data-dir={folder / 'profile'}", f"--print-to-pdf={folder / 'chromium.pdf'}"]
    wall, cpu, _ = min(child([browser, *CHROMIUM, *where, page.as_uri()]) for _ in range(3))
    print(f"Chromium: {wall:.1f} s wall, {cpu:.1f} s CPU")
    return wall


def booklet(folder: Path) -> None:
    """The advanced sample as A5: by Chromium, by us in several processes and in one, and from kept pages."""
    target, files = folder / "ours.pdf", [str(path) for path in ADVANCED]
    os.environ["XDG_CACHE_HOME"] = str(folder / "cache")
    done = publish(load(ADVANCED), Choices(date(2027, 1, 4), Paper.A5))
    assert done.pressed is not None
    facts = f"{done.pressed.pages} pages, {done.pressed.field_count} fields, {len(done.pressed.pdf) // 1024} KiB"
    print(f"booklet: {facts}; load of the machine {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")
    theirs = chromium(folder, done)
    told = functools.partial(_told, theirs)
    told("all cores", min(built(files, target, "--cache", "none") for _ in range(3)), "1.5")
    told("one process", min(built(files, target, "--cache", "none", "--jobs", "1") for _ in range(3)), "2.5")
    built(files, target, "--cache", "all")
    retested, other = _changed(folder / "retested", 167.5, 170), _changed(folder / "other", "Achterhuis", "Vries")
    told("rebuilt as it was, pages kept", min(built(files, target, "--cache", "all") for _ in range(3)), "0.2")
    told("another buyer, pages kept", built(other, target, "--cache", "all"), "0.2")
    told("after one lift's retest, pages kept", built(retested, target, "--cache", "all"), "0.8")
    look = ["--paper", "A5", "--week", "3", "--day", "1", "--replace", "-o", str(folder / "preview.pdf")]
    seconds = min(child([sys.executable, "-c", ONCE, "preview", *each, *look])[0] for each in (files, retested, other))
    print(f"preview of a changed session: {seconds:.2f} s wall (aim: 1.5 s)")
    data = done.pressed.pdf
    seconds = best_of(3, lambda: impose(data, Folding(creep=0.1)))
    print(f"impose: {seconds:.2f} s for {done.pressed.pages} pages (aim: 1 s for 100)")


def _told(theirs: float, what: str, ours: tuple[float, float, float], aim: str) -> None:
    ratio = f"{ours[0] / theirs:.2f} of Chromium's time (aim: {aim})" if theirs else "no Chromium to compare"
    print(f"{what}: {ours[0]:.1f} s wall, {ours[1]:.1f} s CPU, {ours[2]:.0f} MB in all; {ratio}")


def _changed(folder: Path, old: object, new: object) -> list[str]:
    """The sources with one thing otherwise."""
    shutil.copytree(ADVANCED[0], folder)
    client = folder / "client.yaml"
    text = client.read_text(encoding="utf-8")
    assert str(old) in text
    client.write_text(text.replace(str(old), str(new), 1), encoding="utf-8")
    return [str(folder), str(ADVANCED[1])]


def answer() -> None:
    """How long --help takes to answer."""
    seconds = min(child([sys.executable, "-c", ONCE, "--help"])[0] for _ in range(5))
    print(f"--help: {seconds * 1000:.0f} ms (aim: 120 ms)")


if __name__ == "__main__":
    os.environ.setdefault("SOURCE_DATE_EPOCH", "1799020800")
    answer()
    plan()
    expecting()
    with tempfile.TemporaryDirectory() as name:
        booklet(Path(name))
    print(f"this process: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024} MB")
