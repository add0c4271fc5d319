"""One run at a time: an empty file beside each profile, which the system lets go when a run ends or is killed.

A file beside it, not the profile itself: a profile that is written is another file by the same name, and a lock on
the one before would guard nothing.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from builder.door.opened import BarredError, Folder, hold, is_plain, opened


class LockedError(Exception):
    """Another run works on the file."""

    def __init__(self, path: Path) -> None:
        super().__init__(f"{path} is locked by another run")
        self.path = path


@contextmanager
def locked(paths: Sequence[Path]) -> Iterator[None]:
    """Holds every path for this run alone. LockedError at once where another run holds one; OSError where no lock
    can be laid down.
    """
    with ExitStack() as held:
        # In one order: of two runs that want the same files one then gets them all, where each could turn the other
        # away. And each once, since a file that is named by two ways would be locked against this very run.
        for real in sorted({Path(os.path.realpath(path)) for path in paths}):
            held.enter_context(_one(real))
        yield


def lock_path(path: Path) -> Path:
    """Where the lock of a file lies: hidden, in the same folder."""
    return path.with_name(f".{path.name}.lock")


@contextmanager
def _one(path: Path) -> Iterator[None]:
    lock = lock_path(path)
    with opened(lock.parent) as folder:
        handle = _taken(path, folder, lock)
        try:
            yield
        finally:
            # Taken away while it is still held, so that no one can be waiting for this very file.
            with suppress(OSError):
                folder.remove(lock.name)
            os.close(handle)


def _taken(path: Path, folder: Folder, lock: Path) -> int:
    """The lock, open and held. One that a killed run left behind is held by no one, and so is taken over.

    Nothing is ever written into it: whatever lies under its name keeps its contents.
    """
    while True:
        state = folder.state(lock.name)
        # Before it is opened, since a device may act on that alone; and again below, on what was opened in fact.
        if state is not None and not is_plain(state):
            raise BarredError(lock, "it is a link or no plain file, so no lock of ours; take it away")
        handle = folder.open(lock.name, os.O_RDWR | os.O_CREAT, 0o666)
        try:
            if not is_plain(os.fstat(handle)):
                raise BarredError(lock, "it is no plain file, so no lock of ours; take it away")
            if not hold(handle):
                raise LockedError(path)
            # Another run may have taken the file away between our opening and our holding it. What we hold then guards
            # nothing, and the next turn makes a new one.
            now = folder.state(lock.name)
            if now is not None and os.path.samestat(os.fstat(handle), now):
                return handle
        except BaseException:
            os.close(handle)
            raise
        os.close(handle)
