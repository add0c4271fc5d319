"""A whole folder of new files, put in place in one step."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path, PurePosixPath

from builder.door.opened import Folder, hold, opened
from builder.door.put import no_more_open, usual
from builder.door.unfinished import clear, finish, part_name
from builder.values.problem import Problem, Severity


def folder_spot(path: Path) -> tuple[Path | None, tuple[Problem, ...]]:
    """The real place of a folder to be made, which must be new or empty; a link to one is followed, and told."""
    told, real = followed(path), Path(os.path.realpath(path))
    if os.path.lexists(real) and not real.is_dir():
        return None, (*told, Problem("folder-taken", None, f"{path} is no folder", "Name a new or empty folder."))
    if real.is_dir():
        with opened(real) as folder:
            # What a killed run left in it would count as contents.
            clear(folder)
        if any(real.iterdir()):
            fact = f"{path} exists and is not empty"
            return None, (*told, Problem("folder-taken", None, fact, "Name a new or empty folder."))
    return real, told


def followed(path: Path) -> tuple[Problem, ...]:
    """The remark that a folder which somebody named is reached by a link, where it is."""
    if not path.is_symlink():
        return ()
    help_ = f"The folder it leads to is filled: {os.path.realpath(path)}."
    return (Problem("link-followed", None, f"{path} is a link", help_, Severity.WARNING),)


def put_folder(real: Path, files: Sequence[tuple[str, bytes]], like: Sequence[Path] = ()) -> None:
    """Makes the folder with these files in it, whole or not at all; OSError where that cannot be.

    Names may have parts that become folders, and must not lead out. An empty folder that stands there is replaced,
    except the one that the run stands in: that one is filled, by a later run where this one is killed meanwhile.
    """
    # A folder that is replaced under somebody's feet looks empty to who stands in it, so that one is filled.
    here = real.is_dir() and os.path.samefile(real, os.curdir)
    # Beside its place, since to give another name is one step only within one file system.
    above = real if here else real.parent
    above.mkdir(parents=True, exist_ok=True)
    with opened(above) as folder:
        clear(folder)
        part = part_name(real.name or "folder")
        # For its owner alone until it is whole: `_fill` gives the permissions when all lies in it.
        os.mkdir(folder.name(part), 0o700, dir_fd=folder.handle)
        try:
            with _held(folder, part):
                _fill(above / part, files, like, real.stat().st_mode if real.is_dir() and not here else None)
                if here:
                    finish(folder, part)
                else:
                    if folder.handle is None and real.is_dir():  # as on Windows, which replaces no folder
                        real.rmdir()
                    # The system puts a folder in the place of another only if that is empty, so nothing that came
                    # meanwhile is lost.
                    folder.replace(part, real.name)
        except BaseException:
            with suppress(OSError):
                shutil.rmtree(folder.name(part), dir_fd=folder.handle)
            raise
        folder.settle()


@contextmanager
def _held(above: Folder, part: str) -> Iterator[None]:
    """Holds an unfinished folder until it is in its place, so that nobody clears it, and makes it last.

    On Windows, which opens no folder, it is not held.
    """
    if above.handle is None:
        yield
        return
    handle = above.open(part, os.O_RDONLY)
    try:
        # One that can be held by nobody is taken for one that is at work, and left alone.
        with suppress(OSError):  # a system without locks: then nothing is cleared either
            hold(handle)
        yield
        os.fsync(handle)
    finally:
        os.close(handle)


def _fill(top: Path, files: Sequence[tuple[str, bytes]], like: Sequence[Path], old: int | None) -> None:
    """Writes the files below the unfinished folder, and gives all of it its permissions."""
    plain = no_more_open(usual(), top.stat().st_gid, like)
    for name, data in files:
        _one(top, PurePosixPath(name), data, plain)
    for path in sorted((p for p in top.rglob("*") if p.is_dir()), reverse=True):
        path.chmod(_passable(plain))
    top.chmod(_passable(plain) if old is None else old & 0o7777)


def _one(top: Path, name: PurePosixPath, data: bytes, mode: int) -> None:
    target = top / name
    target.parent.mkdir(parents=True, exist_ok=True)
    # Without O_BINARY line ends would be written anew on Windows.
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
    with os.fdopen(os.open(target, flags, 0o600), "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    target.chmod(mode)


def _passable(mode: int) -> int:
    """The permissions of a folder whose files have `mode`: who may read may enter."""
    return mode | (mode & 0o444) >> 2
