"""Runs `loadleaf` in a process of its own that has read all modules already: reading them takes longer than most runs.

One server is started for each worker of the tests; it reads modules and templates, presses a line, and is copied for
each run.
"""

from __future__ import annotations

import atexit
import json
import os
import subprocess
import sys
import tempfile
import traceback
from collections.abc import Mapping
from datetime import UTC, datetime
from functools import cache
from importlib import import_module
from pathlib import Path
from pkgutil import walk_packages
from typing import NoReturn

OTHERS = ("pikepdf", "weasyprint")
"""Packages that our modules read when they are first used."""
NO_INPUT, OUT, ERR = range(3)


def run(words: tuple[str, ...], cwd: Path | None, environment: Mapping[str, str]) -> subprocess.CompletedProcess[str]:
    """How `loadleaf` ends with these words where these variables are set besides, and what it prints."""
    done = run_bytes(words, cwd, environment)
    texts = (data.decode("utf-8", "strict").replace("\r\n", "\n") for data in (done.stdout, done.stderr))
    return subprocess.CompletedProcess(words, done.returncode, *texts)


def run_bytes(
    words: tuple[str, ...], cwd: Path | None, environment: Mapping[str, str], first: str = ""
) -> subprocess.CompletedProcess[bytes]:
    """The same in bytes; `first` is Python that the process runs before."""
    with tempfile.TemporaryDirectory() as folder:
        out, err = Path(folder, "out"), Path(folder, "err")
        asked = {"words": words, "cwd": str(cwd or Path.cwd()), "out": str(out), "err": str(err), "first": first}
        code = _ask(json.dumps(asked | {"environment": {**os.environ, **environment}}))
        return subprocess.CompletedProcess(words, code, out.read_bytes(), err.read_bytes())


def _ask(asked: str) -> int:
    server = _server()
    assert server.stdin and server.stdout
    server.stdin.write(asked + "\n")
    server.stdin.flush()
    return int(server.stdout.readline())


@cache
def _server() -> subprocess.Popen[str]:
    server = subprocess.Popen(
        [sys.executable, __file__], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
        env={**os.environ, "PYTHONIOENCODING": "utf-8"},
    )  # fmt: skip
    atexit.register(server.communicate)
    return server


def _read() -> None:
    import builder

    found = (module.name for module in walk_packages(builder.__path__, "builder."))
    for name in (*OTHERS, *(name for name in found if not name.endswith("__main__"))):
        import_module(name)
    environment = import_module("builder.pdf.html").templates(import_module("builder.places").templates())
    for name in environment.list_templates(["j2"]):
        environment.get_template(name)
    _press_a_line()


def _press_a_line() -> None:
    """The typesetter finds out about its libraries when it is used for the first time."""
    from builder import places
    from builder.pdf import DocumentMeta, press

    meta = DocumentMeta("A line", "", "", "en", (), datetime(2027, 1, 4, tzinfo=UTC), "line")
    press("<p>A line</p>", ["p { font-family: 'Source Sans 3' }"], roots=[places.styles()], fields={}, meta=meta)


def _serve() -> None:
    _read()
    answers = os.fdopen(os.dup(OUT), "w")
    for line in iter(sys.stdin.readline, ""):
        child = os.fork()
        if child == 0:
            answers.close()
            _run(**json.loads(line))
        print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), file=answers, flush=True)


def _run(words: list[str], cwd: str, out: str, err: str, environment: dict[str, str], first: str) -> NoReturn:
    """What the interpreter does around a program: from its arguments to its code and its last words."""
    from builder.cli import main

    for descriptor, path in ((NO_INPUT, os.devnull), (OUT, out), (ERR, err)):
        os.dup2(os.open(path, os.O_RDWR | os.O_CREAT, 0o600), descriptor)
    os.chdir(cwd)
    os.environ.clear()
    os.environ.update(environment)
    sys.argv, code = ["loadleaf", *words], 0
    try:
        exec(first, {})
        main()
    except SystemExit as done:
        code = done.code if isinstance(done.code, int) else int(done.code is not None)
    except BaseException:
        traceback.print_exc()
        code = 1
    atexit._run_exitfuncs()
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(code)


if __name__ == "__main__":
    _serve()
