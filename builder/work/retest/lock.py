"""One retest at a time: a lock beside each profile, which the system itself lets go when a run ends or is killed."""

from __future__ import annotations

import os
import socket
import sys
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path


class LockedError(Exception):
    """Another run works on the file; `holder` says who, as far as that is known."""

    def __init__(self, path: Path, holder: str) -> None:
        super().__init__(f"{path} is locked by {holder}")
        self.path, self.holder = path, holder


@contextmanager
def locked(paths: Sequence[Path]) -> Iterator[None]:
    """Holds every path for this run alone. LockedError at once where another run holds one; OSError where no lock
    can be laid down.
    """
    with ExitStack() as held:
        for real in sorted({Path(os.path.realpath(path)) for path in paths}):
            held.enter_context(_one(real))
        yield


def lock_path(path: Path) -> Path:
    """Where the lock of a file lies: hidden, in the same folder."""
    return path.with_name(f".{path.name}.lock")


@contextmanager
def _one(path: Path) -> Iterator[None]:
    lock = lock_path(path)
    handle = _taken(path, lock)
    try:
        os.ftruncate(handle, 0)
        os.write(handle, f"process {os.getpid()} on {socket.gethostname()}\n".encode())
        yield
    finally:
        # Taken away while it is still held, so that no one can be waiting for this very file.
        with suppress(OSError):
            os.unlink(lock)
        os.close(handle)


def _taken(path: Path, lock: Path) -> int:
    """The open lock file, held. A file that a killed run left behind is held by no one, and so is taken over."""
    while True:
        handle = os.open(lock, os.O_RDWR | os.O_CREAT, 0o666)
        try:
            if not _hold(handle):
                raise LockedError(path, os.read(handle, 200).decode(errors="replace").strip() or "another run")
            if _still_there(handle, lock):
                return handle
        except BaseException:
            os.close(handle)
            raise
        os.close(handle)


def _still_there(handle: int, lock: Path) -> bool:
    """Whether the file that is held is the one that others would open: its last holder may have taken it away."""
    try:
        return os.path.samestat(os.fstat(handle), os.stat(lock))
    except FileNotFoundError:
        return False


if sys.platform == "win32":
    import msvcrt

    def _hold(handle: int) -> bool:
        """Holds one byte far behind the text, which others may then still read."""
        os.lseek(handle, 1 << 20, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        finally:
            os.lseek(handle, 0, os.SEEK_SET)
        return True

else:
    import fcntl

    def _hold(handle: int) -> bool:
        """Holds the whole file."""
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
