"""Whatever fails around a run: a clear message, the documented exit code, the old file intact, nothing left behind."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import warm
from trust.hostile import BLOCK, CLIENT

OLD = b"%PDF-1.4 what was there before\n"


LIMITED = """
import resource, signal
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (1_000_000, 1_000_000))
"""
"""No file may become larger than a megabyte."""


def run(*arguments: object, cwd: Path, first: str = "", **environment: Any) -> subprocess.CompletedProcess[bytes]:
    """`loadleaf` in a process of its own; `first` is Python that runs before."""
    return warm.run_bytes(tuple(map(str, arguments)), cwd, environment, first)


def run_anew(*arguments: object, cwd: Path, first: str = "", **environment: Any) -> subprocess.CompletedProcess[bytes]:
    """The same where modules are read after `first`, or Python itself starts otherwise."""
    code = f"import sys\n{first}\nfrom builder.cli import main\nmain()"
    return subprocess.run(
        [sys.executable, "-B", "-c", code, *map(str, arguments)],
        cwd=cwd, env={**os.environ, **environment}, capture_output=True, timeout=240, check=False,
    )  # fmt: skip


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    here = tmp_path / "here"
    here.mkdir()
    (here / "c.yaml").write_bytes(CLIENT)
    (here / "b.yaml").write_bytes(BLOCK)
    return here


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


# Building a real booklet takes seconds; what comes after it is tried with one that is made at once.
QUICK = """
import builder.work.build, builder.work.publish
from builder.pdf import Pressed
from builder.plan import make_plan
class Done:
    problems = ()
    booklet = type("Booklet", (), {"fields": ()})
    pressed = Pressed(b"%PDF-1.7 new " + b"x" * 3_000_000, 1, 0, (), ())
def published(loaded, *_):
    Done.plan = make_plan(loaded.sources)
    return Done
builder.work.publish.publish = builder.work.build.publish = published
"""


def test_a_full_disk_leaves_the_old_file_and_nothing_else(folder: Path) -> None:
    (folder / "o.pdf").write_bytes(OLD)
    done = run("build", "c.yaml", "b.yaml", "-o", "o.pdf", "--replace", cwd=folder, first=QUICK + LIMITED)
    assert done.returncode == 1
    assert b"o.pdf cannot be written: file too large" in done.stderr and b"Traceback" not in done.stderr
    assert (folder / "o.pdf").read_bytes() == OLD
    assert names(folder) == ["b.yaml", "c.yaml", "o.pdf"]


@pytest.mark.parametrize("call", ["os.fsync", "os.replace", "os.fchmod", "Folder.open"])
def test_no_space_at_any_step_leaves_the_old_file_and_nothing_else(folder: Path, call: str) -> None:
    (folder / "o.pdf").write_bytes(OLD)
    where = "import os" if call.startswith("os.") else "from builder.door.opened import Folder"
    full = f"{where}\ndef full(*_, **__): raise OSError(28, 'No space left on device')\n{call} = full\n"
    done = run("build", "c.yaml", "b.yaml", "-o", "o.pdf", "--replace", cwd=folder, first=QUICK + full)
    assert done.returncode == 1
    assert b"no space left on device" in done.stderr and b"what was there is intact" in done.stderr
    assert (folder / "o.pdf").read_bytes() == OLD
    assert names(folder) == ["b.yaml", "c.yaml", "o.pdf"]


@pytest.mark.skipif(os.geteuid() == 0 and not Path("/proc/self/ns/user").exists(), reason="root may write anywhere")
def test_a_read_only_folder_is_a_problem(folder: Path) -> None:
    """Root may write anywhere, so the refusal is made by hand there."""
    (folder / "o.pdf").write_bytes(OLD)
    folder.chmod(0o555)
    refuse = """
from builder.door.opened import Folder
def no(*_, **__): raise PermissionError(13, 'Permission denied')
Folder.open = no
"""
    done = run("build", "c.yaml", "b.yaml", "-o", "o.pdf", "--replace", cwd=folder, first=QUICK + refuse)
    folder.chmod(0o755)
    assert done.returncode == 1
    assert b"o.pdf cannot be written: permission denied" in done.stderr
    assert (folder / "o.pdf").read_bytes() == OLD


@pytest.mark.parametrize("step", ["os.fsync", "os.replace", "os.fchmod"])
@pytest.mark.parametrize("signal_", [signal.SIGKILL, signal.SIGTERM, signal.SIGINT])
def test_a_run_that_is_ended_while_it_writes_leaves_the_old_file(
    folder: Path, step: str, signal_: signal.Signals
) -> None:
    """The new file stands beside the old one until it is whole. Only a kill that cannot be heard leaves it there."""
    (folder / "o.pdf").write_bytes(OLD)
    kill = f"os.kill(os.getpid(), {int(signal_)}); time.sleep(9)"
    stop = f"import os, time\ndef stop(*_, **__):\n    {kill}\n{step} = stop\n"
    done = run("build", "c.yaml", "b.yaml", "-o", "o.pdf", "--replace", cwd=folder, first=QUICK + stop)
    assert done.returncode != 0
    assert b"Traceback" not in done.stderr
    assert (folder / "o.pdf").read_bytes() == OLD
    left = [name for name in names(folder) if name not in ("b.yaml", "c.yaml", "o.pdf")]
    assert len(left) <= 1 if signal_ == signal.SIGKILL else left == []


def test_what_a_killed_run_left_is_taken_away_by_the_next(folder: Path) -> None:
    stop = "import os\nos.link = lambda *_, **__: os.kill(os.getpid(), 9)\n"
    run("build", "c.yaml", "b.yaml", "-o", "o.pdf", cwd=folder, first=QUICK + stop)
    (part,) = (name for name in names(folder) if name.endswith(".part"))
    done = run("build", "c.yaml", "b.yaml", "-o", "o.pdf", cwd=folder, first=QUICK)
    assert done.returncode == 0
    assert part not in names(folder)
    assert names(folder) == ["b.yaml", "c.yaml", "o.pdf"]


def test_two_runs_at_once_leave_one_whole_file(folder: Path) -> None:
    def started(sign: str) -> subprocess.Popen[bytes]:
        code = "import sys\n" + QUICK.replace('"x"', f'"{sign}"') + "\nfrom builder.cli import main\nmain()"
        arguments = [sys.executable, "-c", code, "build", "c.yaml", "b.yaml", "-o", "o.pdf", "--replace"]
        return subprocess.Popen(arguments, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE)

    runs = [started(sign) for sign in "abcd"]
    ends = [process.wait(60) for process in runs]
    assert 0 in ends and set(ends) <= {0, 1}, "who finds another's file in its place leaves it"
    data = (folder / "o.pdf").read_bytes()
    assert len(data) == 3_000_013 and len(set(data[13:])) == 1
    assert names(folder) == ["b.yaml", "c.yaml", "o.pdf"]


@pytest.mark.parametrize("command", ["build", "doctor"])
def test_a_missing_native_library_is_told_with_what_to_install(folder: Path, command: str) -> None:
    """As cffi says it where Pango is not installed."""
    gone = """
import cffi
def gone(self, name, *_): raise OSError(f"cannot load library '{name}': no such file")
cffi.FFI.dlopen = gone
"""
    arguments = ("c.yaml", "b.yaml", "-o", "o.pdf") if command == "build" else ()
    done = run_anew(command, *arguments, cwd=folder, first=gone)
    assert done.returncode == 1
    assert b"apt-get install" in done.stderr + done.stdout and b"Traceback" not in done.stderr
    assert names(folder) == ["b.yaml", "c.yaml"]


@pytest.mark.parametrize("command", ["check", "explain"])
def test_check_and_explain_need_no_native_library(folder: Path, command: str) -> None:
    gone = "import cffi\ndef gone(*_): raise OSError('none')\ncffi.FFI.dlopen = gone\n"
    assert run_anew(command, "c.yaml", "b.yaml", cwd=folder, first=gone).returncode == 0


def test_a_missing_font_file_is_a_problem(folder: Path) -> None:
    gone = """
import builder.pdf.fonts as fonts, builder.pdf, builder.work.publish.booklet as booklet
from dataclasses import replace
usual = fonts.shipped
gone = lambda: tuple(replace(face, file=face.file.with_name("gone.ttf")) for face in usual())
fonts.shipped = builder.pdf.shipped = booklet.shipped = gone
"""
    done = run_anew("build", "c.yaml", "b.yaml", "-o", "o.pdf", cwd=folder, first=gone)
    assert done.returncode == 1
    assert b"[font-file]" in done.stderr and b"is missing" in done.stderr
    assert names(folder) == ["b.yaml", "c.yaml"]


@pytest.mark.parametrize("missing", ["fonts", "styles", "templates"])
def test_an_installation_without_its_files_says_so(folder: Path, missing: str) -> None:
    gone = f"""
from builder import places
def gone(): raise FileNotFoundError("the folder of {missing} is missing: install loadleaf again")
places.{missing} = gone
"""
    done = run_anew("build", "c.yaml", "b.yaml", "-o", "o.pdf", cwd=folder, first=gone)
    assert done.returncode == 3
    assert b"install loadleaf again" in done.stderr and b"Traceback" not in done.stderr
    assert names(folder) == ["b.yaml", "c.yaml"]


@pytest.mark.parametrize("epoch", ["0", "4102444800", "-1", "253402300799"])
def test_a_wrong_clock_changes_no_load(folder: Path, epoch: str) -> None:
    """1970, 2100, 1969 and 9999: the day stands in remarks only."""
    done = run("check", "c.yaml", "b.yaml", cwd=folder, SOURCE_DATE_EPOCH=epoch)
    assert done.returncode == 0, done.stderr
    plans = [
        run("explain", "c.yaml", "b.yaml", cwd=folder, SOURCE_DATE_EPOCH=day).stdout for day in (epoch, "1799020800")
    ]
    assert plans[0] == plans[1]


@pytest.mark.slow
@pytest.mark.parametrize("day", ["1970-01-01", "2100-01-01", "0001-01-01", "9999-12-31"])
def test_a_booklet_can_be_made_on_any_day(folder: Path, day: str) -> None:
    done = run("build", "c.yaml", "b.yaml", "-o", "o.pdf", "--date", day, "--edition", "log", cwd=folder)
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize("value", ["later", "1e99", "99999999999999999999", "１"])
def test_a_clock_that_is_no_number_is_wrong_usage(folder: Path, value: str) -> None:
    done = run("check", "c.yaml", cwd=folder, SOURCE_DATE_EPOCH=value)
    assert done.returncode in (0, 2) and b"Traceback" not in done.stderr
    assert done.returncode == 0 if value == "１" else b"SOURCE_DATE_EPOCH" in done.stderr


def test_a_locale_with_decimal_commas_changes_nothing(folder: Path) -> None:
    """Where the locale is not installed, `locale.setlocale` is refused; the writing of numbers is replaced too."""
    comma = """
import locale
for name in ("de_DE.UTF-8", "de_DE.utf8"):
    try: locale.setlocale(locale.LC_ALL, name)
    except locale.Error: pass
locale.localeconv = lambda: {"decimal_point": ",", "thousands_sep": ".", "grouping": [3, 3, 0]}
"""
    german = run_anew("explain", "c.yaml", "b.yaml", cwd=folder, first=comma, LC_ALL="de_DE.UTF-8", LANG="de_DE.UTF-8")
    usual = run("explain", "c.yaml", "b.yaml", cwd=folder)
    assert german.returncode == 0 and german.stdout == usual.stdout


PLAIN, ASCII = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}, {"PYTHONIOENCODING": "ascii"}
WESTERN, POSIX = {"PYTHONIOENCODING": "latin-1"}, {"LC_ALL": "POSIX"}


@pytest.mark.parametrize(("environment", "command"), [
    (PLAIN, "check"), (PLAIN, "explain --json"), (ASCII, "explain"), (ASCII, "check --json"),
    (WESTERN, "check"), (WESTERN, "explain --json"), (POSIX, "explain"), (POSIX, "check --json"),
])  # fmt: skip
def test_a_terminal_without_our_signs_gets_what_it_can_show(
    folder: Path, environment: dict[str, Any], command: str
) -> None:
    (folder / "c.yaml").write_bytes(CLIENT.replace(b"Ada Quill", "Ąda Ñ Ж".encode()))
    done = run_anew(*command.split(), "c.yaml", "b.yaml", cwd=folder, **environment)
    assert done.returncode == 0, done.stderr
    (folder / "c.yaml").write_bytes(CLIENT.replace(b"[mon]", "[мон]".encode()))
    done = run_anew(*command.split(), "c.yaml", "b.yaml", cwd=folder, **environment)
    assert done.returncode == 1 and b"Traceback" not in done.stderr and b"not-a-weekday" in done.stderr + done.stdout


@pytest.mark.slow
def test_a_path_with_blanks_and_letters_of_all_kinds(folder: Path) -> None:
    odd = folder / "Zoë's plän 木 100% #1 ?"
    odd.mkdir()
    for name in ("c.yaml", "b.yaml"):
        (folder / name).rename(odd / f"é {name}")
    (odd / "brand.yaml").write_text("format: 1\nbrand: {name: B, logo: 'lo go #ä%41?.svg'}\n", encoding="utf-8")
    (odd / "lo go #ä%41?.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>')
    done = run("build", odd, "-o", odd / "ö ß.pdf", "--edition", "pocket", cwd=folder)
    assert done.returncode == 0, done.stderr
    assert (odd / "ö ß.pdf").read_bytes().startswith(b"%PDF")


def test_a_file_name_that_is_no_text_is_told(folder: Path) -> None:
    """Names are bytes to the system, and need not be UTF-8."""
    name = os.fsencode(folder) + b"/\xff\x1b[31m.yaml"
    with open(name, "wb") as file:
        file.write(b"format: 2\n")
    for command in (("check", "."), ("check", ".", "--json"), ("build", "."), ("explain", ".")):
        done = run(*command, cwd=folder)
        assert done.returncode == 1, done.stderr
        assert b"Traceback" not in done.stderr and b"\x1b" not in done.stderr


@pytest.mark.parametrize("name", ["x" * 250 + ".pdf", "x" * 300 + ".pdf", "a/" * 2100 + "o.pdf", "c.yaml/o.pdf"])
def test_an_output_name_that_cannot_be_is_a_problem(folder: Path, name: str) -> None:
    done = run("build", "c.yaml", "b.yaml", "-o", name, cwd=folder, first=QUICK)
    assert done.returncode in (0, 1), done.stderr
    assert b"Traceback" not in done.stderr
    assert done.returncode == 0 or names(folder) == ["b.yaml", "c.yaml"]


def test_windows_line_ends_are_read(folder: Path) -> None:
    usual = run("explain", "c.yaml", "b.yaml", cwd=folder).stdout
    for name in ("c.yaml", "b.yaml"):
        (folder / name).write_bytes((folder / name).read_bytes().replace(b"\n", b"\r\n"))
    assert run("explain", "c.yaml", "b.yaml", cwd=folder).stdout == usual


@pytest.mark.parametrize("command", ["explain c.yaml b.yaml", "check c.yaml b.yaml --json", "schema client", "-h"])
def test_a_reader_that_closes_the_pipe_ends_the_run_quietly(folder: Path, command: str) -> None:
    line = f"{sys.executable} -m builder {command} 2>err | true; echo ${{PIPESTATUS[0]}}"
    done = subprocess.run(["bash", "-c", line], cwd=folder, capture_output=True, text=True, check=False)
    assert done.stdout.strip() in ("0", "141")
    assert (folder / "err").read_text() == ""


def test_a_closed_output_is_no_fault(folder: Path) -> None:
    line = f"{sys.executable} -m builder explain c.yaml b.yaml >&- 2>err; echo $?"
    done = subprocess.run(["bash", "-c", line], cwd=folder, capture_output=True, text=True, check=False)
    assert "Traceback" not in (folder / "err").read_text()
    assert done.stdout.strip() in ("0", "1")


def test_an_output_on_a_full_disk_is_told(folder: Path) -> None:
    line = f"{sys.executable} -m builder explain c.yaml b.yaml >/dev/full 2>err; echo $?"
    done = subprocess.run(["bash", "-c", line], cwd=folder, capture_output=True, text=True, check=False)
    told = (folder / "err").read_text()
    assert done.stdout.strip() == "1"
    assert "no space left" in told.lower() and "Traceback" not in told and "fault of its own" not in told
