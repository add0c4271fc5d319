"""A folder held open, so that what is looked at and what is written are in the same one, whatever is renamed.

A path is looked up anew by each call of the system: between a look and a write, a folder in it may be exchanged for a
link. A name within an open folder leads nowhere else.
"""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

Seen = tuple[int, int, int, int]
"""What tells a file from any other, and from itself after a change: device, number, size, time."""


class BarredError(OSError):
    """The door does not open, for a reason of its own: `strerror` says it."""

    def __init__(self, path: Path, reason: str) -> None:
        super().__init__(0, reason, str(path))


def said(error: OSError) -> str:
    """The reason of a fault, to stand behind "cannot be written: "."""
    return (error.strerror or "unknown reason").lower()


@dataclass(frozen=True, slots=True)
class Folder:
    """An open folder; `handle` is None where the system names files by their whole paths only."""

    path: Path
    handle: int | None

    def name(self, name: str) -> str:
        """What calls of the system take for a file of the folder, beside the handle."""
        return name if self.handle is not None else os.path.join(self.path, name)

    def state(self, name: str) -> os.stat_result | None:
        """What lies under a name itself, a link not followed; None for nothing."""
        try:
            return os.stat(self.name(name), dir_fd=self.handle, follow_symlinks=False)
        except FileNotFoundError:
            return None

    def seen(self, name: str) -> Seen | None:
        """What lies under a name, told from anything else; None for nothing."""
        state = self.state(name)
        return None if state is None else (state.st_dev, state.st_ino, state.st_size, state.st_mtime_ns)

    def open(self, name: str, flags: int, mode: int = 0o600) -> int:
        """An open file of the folder. A link is never followed, and a pipe never waited for."""
        safe = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_CLOEXEC", 0)
        return os.open(self.name(name), flags | safe, mode, dir_fd=self.handle)

    def remove(self, name: str) -> None:
        """Takes a file away."""
        os.unlink(self.name(name), dir_fd=self.handle)

    def replace(self, old: str, new: str) -> None:
        """Gives a file another name in one step, over what had it."""
        os.replace(self.name(old), self.name(new), src_dir_fd=self.handle, dst_dir_fd=self.handle)

    def settle(self) -> None:
        """Makes new names last through a power cut, where the system can."""
        if self.handle is not None:
            # Some file systems refuse it for a folder. The files in it are on the disk by then.
            with suppress(OSError):
                os.fsync(self.handle)


@contextmanager
def opened(path: Path) -> Iterator[Folder]:
    """A folder, held open as long as this lasts."""
    if os.open not in os.supports_dir_fd:
        yield Folder(path, None)
        return
    handle = os.open(path, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
    try:
        yield Folder(path, handle)
    finally:
        os.close(handle)


def is_plain(state: os.stat_result) -> bool:
    """Whether it is a file with contents: no folder, link, device, pipe or socket."""
    return stat.S_ISREG(state.st_mode)


if sys.platform == "win32":
    import msvcrt

    def hold(handle: int) -> bool:
        """Holds one byte far behind the contents for this process alone; False where another one does."""
        # What is held cannot be read by others on Windows, so it must be none of the contents.
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

    def hold(handle: int) -> bool:
        """Holds a file or folder for this process alone, until it ends however it ends; False where another does."""
        try:
            # Not the locks of fcntl: those go as soon as the process closes the file in any place, and a child does not
            # have them.
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
