"""Every command that writes, with what lies there before, run in children that can be killed or led astray.

The press is left out: what is pressed is a booklet that was made before.
"""

from __future__ import annotations

import io
import os
import shlex
import sys
import traceback
from collections.abc import Callable, Iterator, Sequence
from contextlib import chdir, redirect_stdout
from functools import lru_cache
from importlib import import_module
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from cli.test_commands import BLOCK, CLIENT
from enrol.test_enrol import ADA, filled, form
from log import small
from log.small import booklet
from roster.test_roster_command import HEAD, ROWS, SHARED

from builder.cli import loadleaf
from builder.cli.outcome import Stopped
from builder.intake import Loaded
from builder.pages.model import Booklet, Edition, Paper
from builder.pdf import Pressed
from builder.plan import make_plan
from builder.work.publish import Published
from builder.work.roster.due import Due
from builder.work.roster.press import Printed

State = dict[str, bytes]
PART = (".part", ".whole")


def _sources(path: Path, client: str = CLIENT, block: str = BLOCK) -> None:
    (path / "client.yaml").write_text(client)
    (path / "block.yaml").write_text(block)


def _filled(path: Path) -> None:
    (path / "filled.pdf").write_bytes(booklet())


def _with_log(path: Path) -> None:
    _filled(path)
    (path / "log.yaml").write_text("format: 1\nbooklet:\n  code: old\n")


def _with_sheets(path: Path) -> None:
    _filled(path)
    (path / "s.pdf").write_bytes(b"%PDF-1.7 old sheets")


def _with_folder(path: Path) -> None:
    _filled(path)
    (path / "out").mkdir()


def _tested(path: Path) -> None:
    _sources(path, small.CLIENT, small.BLOCK)
    (path / "o.pdf").write_bytes(b"%PDF-1.7 the old booklet")


@lru_cache
def _form(name: str) -> bytes:
    with TemporaryDirectory() as folder:
        return filled(ADA | {"intake-name": name, "screening-name": name}, Path(folder)).read_bytes()


def _forms(path: Path) -> None:
    (path / "out").mkdir()
    for name in ("Ada Quill", "Bo Li"):
        (path / f"{name[:2]}.pdf").write_bytes(_form(name))


def _buyers(path: Path) -> None:
    (path / "shared.yaml").write_text(SHARED)
    (path / "block.yaml").write_text(BLOCK)
    (path / "roster.csv").write_text("\n".join((HEAD, *ROWS[:2])), encoding="utf-8-sig")


SQUATTED = "--on 2027-01-18 --date 2027-01-20 --result 'back squat: 205 x 1'"
COMMANDS: dict[str, tuple[Callable[[Path], None], str]] = {
    "start": (lambda path: None, "start out"),
    "build": (_sources, "build client.yaml block.yaml -o o.pdf"),
    "preview": (_sources, "preview client.yaml block.yaml -o o.pdf"),
    "read": (_filled, "read filled.pdf -o log.yaml"),
    "read-over": (_with_log, "read filled.pdf -o log.yaml"),
    "report": (_filled, "report filled.pdf -o o.pdf --date 2027-01-20"),
    "retest": (_tested, f"retest client.yaml block.yaml -o o.pdf --replace {SQUATTED}"),
    "intake": (lambda path: None, "intake -o o.pdf"),
    "enrol": (_forms, "enrol Ad.pdf Bo.pdf -o out --date 2027-01-04"),
    "roster": (_buyers, "roster roster.csv shared.yaml block.yaml -o out --date 2027-01-04"),
    "unpack": (_filled, "unpack filled.pdf out"),
    "unpack-over": (_with_folder, "unpack filled.pdf out"),
    "strip": (_filled, "strip filled.pdf -o o.pdf"),
    "impose": (_filled, "impose filled.pdf -o s.pdf"),
    "impose-over": (_with_sheets, "impose filled.pdf -o s.pdf --replace"),
    "manual": (lambda path: None, "manual -o o.pdf"),
}
"""What lies there before, and the command."""


def quick() -> None:
    """A booklet at once, in place of the typesetter's, whatever is to be pressed."""
    form()  # pressed while there is a press
    pressed = Pressed(booklet(), 1, 0, (), ())
    empty = Booklet("", "", "", "", "en", Paper.A4, Edition.LOG, "", False, 1.0, "", (), ())

    def published(loaded: Loaded, *_: object) -> Published:
        assert loaded.sources is not None
        return Published(pressed, empty, (), make_plan(loaded.sources))

    def of_roster(todo: Sequence[Due], **_: object) -> Iterator[tuple[Due, Printed]]:
        for one in todo:
            yield one, Printed(pressed.pdf, 1, (), ())

    stand_ins: dict[str, tuple[Any, tuple[str, ...]]] = {
        "publish": (published, ("publish", "build", "retest.run")),
        "printed": (lambda *_: Published(pressed, empty, ()), ("publish.trial", "report", "intake", "manual")),
        "_pressed": (of_roster, ("roster.run",)),
    }
    for name, (stand_in, modules) in stand_ins.items():
        for module in modules:
            setattr(import_module(f"builder.work.{module}"), name, stand_in)


def run(path: Path, command: str, first: Callable[[], None] = lambda: None) -> tuple[int, str]:
    """How the command ends in a child, and what it says; `first` is done in the child before."""
    said = path.parent / "said"
    child = os.fork()
    if child == 0:
        try:
            os.chdir(path)
            os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
            told = os.open(said, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | os.O_APPEND)
            for stream in (1, 2):
                os.dup2(told, stream)
            first()
            loadleaf(shlex.split(command), standalone_mode=False)
            code = 0
        except Stopped as stopped:
            code = stopped.code
        except BaseException:
            traceback.print_exc()
            code = 99
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), said.read_text("utf-8", "replace")


def warm(prepare: Callable[[Path], None], command: str) -> None:
    """Runs the command here once, so that no child has to read modules."""
    with TemporaryDirectory() as folder, chdir(folder), redirect_stdout(io.StringIO()):
        prepare(Path(folder))
        loadleaf(shlex.split(command), standalone_mode=False)


def state(path: Path) -> tuple[State, list[str]]:
    """What lies there, and the names of what is unfinished."""
    every = {str(p.relative_to(path)): p.read_bytes() if p.is_file() else b"folder" for p in path.rglob("*")}
    parts = [name for name in every if any(part.endswith(PART) for part in Path(name).parts)]
    return {name: data for name, data in every.items() if name not in parts}, parts
