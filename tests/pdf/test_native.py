"""The typesetter's libraries are found without other programs, and one that is missing is still told."""

from __future__ import annotations

import subprocess
import sys

import pytest

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="other systems look for libraries in their own ways")
WATCHED = """
import sys
sys.addaudithook(lambda event, _: event == "subprocess.Popen" and (_ for _ in ()).throw(RuntimeError("a program")))
"""


def told(code: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)


def test_no_program_is_started_to_find_them() -> None:
    done = told(f"{WATCHED}from builder.pdf.native import load_typesetter as l; l(); print('there')")
    assert (done.stdout, done.returncode) == ("there\n", 0), done.stderr


def test_a_library_that_is_missing_is_told_once() -> None:
    code = (
        "import cffi; usual = cffi.FFI.dlopen\n"
        "def dlopen(ffi, name, *rest):\n"
        "    if 'pangoft2' in name: raise OSError(f'cannot load library {name!r}')\n"
        "    return usual(ffi, name, *rest)\n"
        "cffi.FFI.dlopen = dlopen\n"
        "from builder.pdf.native import load_typesetter; load_typesetter()"
    )
    done = told(code)
    assert "OSError: cannot load library 'libpangoft2-1.0-0'" in done.stderr
    assert done.stdout.count("could not import some external libraries") == 1
