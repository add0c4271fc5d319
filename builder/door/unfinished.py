"""What is not whole yet has a name of its own and is held by its run; a later run clears what is held no more."""

from __future__ import annotations

import atexit
import os
import re
import shutil
import stat
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from functools import partial
from pathlib import Path
from typing import BinaryIO

from builder.door.opened import Folder, hold, is_plain, opened

MOST_PREFIX = 50
"""Signs of the file's name in that of the unfinished one: at four bytes each it still fits any file system."""
# So long and odd a name that no file of a user has it by chance: whatever has it may go, once it is held by nobody.
_PART = re.compile(r"\..+\.[0-9a-f]{16}\.loadleaf\.(part|whole)", re.DOTALL)
_OURS = "loadleaf-"


def part_name(name: str) -> str:
    """A name for the unfinished file or folder that is to be called `name`; no two are alike."""
    return f".{name[:MOST_PREFIX]}.{os.urandom(8).hex()}.loadleaf.part"


@contextmanager
def new_file(folder: Folder, name: str) -> Iterator[tuple[str, BinaryIO]]:
    """An empty file beside the one called `name`, for its owner alone, by its own name; gone after a fault."""
    while True:
        part = part_name(name)
        file = os.fdopen(folder.open(part, os.O_RDWR | os.O_CREAT | os.O_EXCL), "wb")
        try:
            # Between the making of the file and the holding of it, another run may take it for one that was left.
            if _kept(file.fileno(), partial(folder.state, part)):
                break
        except BaseException:
            file.close()
            raise
        file.close()
    try:
        yield part, file
    except BaseException:
        with suppress(OSError):
            file.close()
        with suppress(OSError):
            folder.remove(part)
        raise
    finally:
        with suppress(OSError):
            file.close()


def _kept(handle: int, state: Callable[[], os.stat_result | None]) -> bool:
    """Whether what was just made is held; a run that clears up may have come between and taken it away."""
    with suppress(OSError):  # a system without locks: then nothing is cleared either
        if not hold(handle):
            return False
    found = state()
    return found is not None and os.path.samestat(found, os.fstat(handle))


def clear(folder: Folder) -> None:
    """Takes away what ended runs left unfinished in a folder, or ends it where only its place was wanting."""
    with suppress(OSError):
        for name in os.listdir(folder.path if folder.handle is None else folder.handle):
            if _PART.fullmatch(name):
                with suppress(OSError):
                    _clear_one(folder, name)


def _clear_one(folder: Folder, name: str) -> None:
    state = folder.state(name)
    # In a folder that all may write to, others can lay down what looks like ours.
    if state is None or not _mine(state) or not (is_plain(state) or stat.S_ISDIR(state.st_mode)):
        return
    handle = folder.open(name, os.O_RDONLY)
    try:
        if not hold(handle):
            return
        if not stat.S_ISDIR(state.st_mode):
            folder.remove(name)
        # All its files are written: the run was killed while it moved them, so the rest is moved, not thrown away.
        elif name.endswith("whole"):
            finish(folder, name)
        else:
            shutil.rmtree(folder.name(name), dir_fd=folder.handle)
    finally:
        os.close(handle)


def finish(folder: Folder, name: str) -> None:
    """Moves all that an unfinished folder holds into the one that it lies in, over nothing that is there."""
    whole = f"{name.rpartition('.')[0]}.whole"
    # From here on a later run goes on where this one is killed.
    folder.replace(name, whole)
    for one in sorted(os.listdir(folder.path / whole)):
        if not os.path.lexists(folder.path / one):
            os.rename(folder.path / whole / one, folder.path / one)
    shutil.rmtree(folder.name(whole), dir_fd=folder.handle)


def _mine(state: os.stat_result) -> bool:
    return not hasattr(os, "geteuid") or state.st_uid == os.geteuid()


def own_folder(purpose: str) -> Path:
    """A folder for this run's own files, among the system's temporary ones, gone when the run ends.

    A run that is killed leaves its folder; the next one of the same purpose takes it away.
    """
    # The handle stays open to the end of the process: by it a later run knows that this one lives.
    made, _ = _claimed(purpose)
    atexit.register(_gone, made, os.getpid())
    return made


@contextmanager
def passing_folder(purpose: str) -> Iterator[Path]:
    """The same for as long as this lasts."""
    made, handle = _claimed(purpose)
    try:
        yield made
    finally:
        shutil.rmtree(made, ignore_errors=True)
        if handle is not None:
            os.close(handle)


def _claimed(purpose: str) -> tuple[Path, int | None]:
    """A new folder, and the handle that holds it as long as the process and its children live."""
    prefix = f"{_OURS}{purpose}-"
    with suppress(OSError), opened(Path(tempfile.gettempdir())) as above:
        for name in os.listdir(above.path):
            if name.startswith(prefix):
                with suppress(OSError):
                    _clear_one(above, name)
    while True:
        made = Path(tempfile.mkdtemp(prefix=prefix))
        handle = None
        with suppress(OSError):
            handle = os.open(made, os.O_RDONLY)
        # As in `new_file`, another run may have taken it for one that was left.
        if handle is None and made.is_dir():
            return made, None
        if handle is not None:
            if _kept(handle, partial(_state, made)):
                return made, handle
            os.close(handle)


def _state(folder: Path) -> os.stat_result | None:
    with suppress(OSError):
        return folder.lstat()
    return None


def _gone(folder: Path, owner: int) -> None:
    """At the end of the run that made it; a child that was forked off leaves it alone."""
    if os.getpid() == owner:
        shutil.rmtree(folder, ignore_errors=True)
