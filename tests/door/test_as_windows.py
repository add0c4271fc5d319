"""What is written on a system like Windows, played on this one: no permissions, no open folders, no open file renamed.

Such a system gives no handles of folders (Python, `os.supports_dir_fd`) and no `os.fchown`; a file that is open can
neither be renamed nor deleted (Microsoft, CreateFileW: FILE_SHARE_DELETE, which the C library leaves out), and
MoveFileExW replaces no folder. What happens on a real one nobody has tried.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from builder.door import Writing, locked, put, put_folder, spot


def _is_open(path: str) -> bool:
    """Whether this process has the file open (proc(5), fd)."""
    real = os.path.realpath(path)
    return any(os.path.realpath(link) == real for link in Path("/proc/self/fd").iterdir())


@pytest.fixture(autouse=True)
def windows(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("fchown", "fchmod", "geteuid", "fork", "O_DIRECTORY", "O_NOFOLLOW", "O_NONBLOCK", "O_CLOEXEC"):
        monkeypatch.delattr(os, name)
    monkeypatch.setattr(os, "supports_dir_fd", frozenset())
    names = ("unlink", "replace", "rename")
    really: dict[str, Callable[..., Any]] = {name: getattr(os, name) for name in ("open", *names)}

    def opened(path: str, *more: Any, **named: Any) -> int:
        if os.path.isdir(path):
            raise PermissionError(13, "Permission denied", path)
        handle: int = really["open"](path, *more, **named)
        return handle

    def barred(name: str) -> Callable[..., None]:
        def call(path: str, *more: Any, **named: Any) -> None:
            assert all(value is None for value in named.values())
            taken = [one for one in (path, *more[:1]) if os.path.isfile(one) and _is_open(one)]
            if taken or (more and os.path.isdir(more[0])):
                raise PermissionError(13, "Permission denied", path)
            really[name](path, *more)

        return call

    monkeypatch.setattr(os, "open", opened)
    for name in names:
        monkeypatch.setattr(os, name, barred(name))


def test_files_are_put_in_place_and_replaced(tmp_path: Path) -> None:
    for data in (b"new", b"newer"):
        found = [spot(tmp_path / name, chosen=True)[0] for name in ("a.pdf", "client.yaml")]
        with locked([tmp_path / "client.yaml"]):
            put([Writing(one, data) for one in found if one is not None])
        assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "client.yaml").read_bytes() == data
    assert not list(tmp_path.glob("*.part")) and not list(tmp_path.glob(".*.part"))


def test_a_fault_leaves_the_old_file_and_nothing_else(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "a.pdf").write_bytes(b"old")

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    found, _ = spot(tmp_path / "a.pdf", chosen=True)
    assert found is not None
    with pytest.raises(OSError, match="No space"):
        put([Writing(found, b"new")])
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("a.pdf", b"old")]


@pytest.mark.parametrize("there", [False, True])
def test_a_folder_is_made_or_filled(tmp_path: Path, there: bool) -> None:
    if there:
        (tmp_path / "mine").mkdir()
    put_folder(tmp_path / "mine", [("client.yaml", b"1"), ("pages/welcome.md", b"2")])
    assert (tmp_path / "mine" / "pages" / "welcome.md").read_bytes() == b"2"
    assert os.listdir(tmp_path) == ["mine"]
