"""A folder of things that can be made again: each whole or not there, the oldest thrown away when they are too many."""

from __future__ import annotations

import hashlib
import os
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from builder.door.opened import BarredError, Folder, is_plain, opened

_ENDING, _PART = ".leaf", ".part"
_DIGEST = 32


def caches(environment: Mapping[str, str], system: str = sys.platform, home: Path | None = None) -> Path:
    """Where this system wants programs to keep what can be made again.

    XDG Base Directory Specification 0.8 (a relative path in XDG_CACHE_HOME is to be ignored); Apple, File System
    Programming Guide (Library/Caches); Microsoft, Known Folders (Local AppData).
    """
    home = home or Path.home()
    if system == "win32":
        return Path(environment.get("LOCALAPPDATA") or home / "AppData" / "Local")
    if system == "darwin":
        return home / "Library" / "Caches"
    told = environment.get("XDG_CACHE_HOME", "")
    return Path(told) if os.path.isabs(told) else home / ".cache"


@dataclass(frozen=True, slots=True)
class Shelf:
    """Things by their keys, in a folder that nobody else may look into; `most` bytes of them are kept.

    Several runs may use it at once. Whatever goes wrong with it, a thing is then not there; nor is one that somebody
    else could have laid there.
    """

    folder: Path
    most: int

    def get(self, key: str) -> bytes | None:
        """The thing as it was put there; None for one that is not there or that was damaged."""
        path = self._path(key)
        try:
            with self._own() as folder, os.fdopen(folder.open(path.name, os.O_RDONLY), "rb") as file:
                # A pipe would keep the run waiting, a device fill its memory.
                data = file.read() if is_plain(os.fstat(file.fileno())) else b""
            # The time of the last use, by which `tidy` chooses.
            os.utime(path)
        except OSError:
            return None
        whole = hashlib.sha256(data[_DIGEST:]).digest() == data[:_DIGEST]
        return data[_DIGEST:] if whole else None

    def put(self, key: str, data: bytes) -> None:
        """Lay a thing there, if that can be done."""
        # With the number of the process, by which `tidy` knows whether it is still being written.
        part = self._path(key).with_suffix(f".{os.getpid()}{_PART}")
        with suppress(OSError):
            self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            with self._own() as folder:
                handle = folder.open(part.name, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0))
                try:
                    with os.fdopen(handle, "wb") as file:
                        # Nothing is synced: what a power cut leaves half written is known by its digest, and made
                        # again.
                        file.write(hashlib.sha256(data).digest() + data)
                    folder.replace(part.name, self._path(key).name)
                except BaseException:
                    with suppress(OSError):
                        folder.remove(part.name)
                    raise

    def tidy(self) -> None:
        """Throw away what was used longest ago until the rest is small enough, and what killed runs left."""
        entries = sorted(self._entries(), key=lambda entry: -entry[1])
        size = 0
        for path, _, taken in entries:
            size += taken
            if size > self.most or (path.suffix == _PART and not _lives(path)):
                with suppress(OSError):
                    path.unlink()

    def clear(self) -> int:
        """Throw everything away; how many things there were."""
        gone = 0
        for path, _, _ in self._entries():
            with suppress(OSError):
                path.unlink()
                gone += 1
        return gone

    def size(self) -> tuple[int, int]:
        """How many things there are, and their bytes."""
        entries = self._entries()
        return len(entries), sum(taken for _, _, taken in entries)

    @contextmanager
    def _own(self) -> Iterator[Folder]:
        """The folder, open; BarredError where it is not this user's alone to write into."""
        with opened(self.folder) as folder:
            if folder.handle is not None:
                state = os.fstat(folder.handle)
                # Who may write there could lay anything under the key of a page, for `marshal` to read.
                if state.st_uid != os.geteuid() or state.st_mode & 0o022:
                    raise BarredError(self.folder, "others may write there")
            yield folder

    def _path(self, key: str) -> Path:
        return self.folder / f"{key}{_ENDING}"

    def _entries(self) -> list[tuple[Path, float, int]]:
        """Each file of ours with the time of its last use and its size."""
        found = []
        with suppress(OSError), self._own():
            for entry in os.scandir(self.folder):
                if entry.name.endswith((_ENDING, _PART)):
                    with suppress(OSError):
                        state = entry.stat(follow_symlinks=False)
                        found.append((Path(entry.path), state.st_mtime, state.st_size))
        return found


def _lives(part: Path) -> bool:
    """Whether the run that writes an unfinished thing is still there."""
    number = part.suffixes[-2].removeprefix(".")
    try:
        os.kill(int(number), 0)
    except ProcessLookupError:
        return False
    # Another user's process, or a name that we did not give: what cannot be judged is not thrown away.
    except (OSError, ValueError):
        return True
    return True
