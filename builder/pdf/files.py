"""Finished files reach their place whole or not at all, and a filled one is recognised first."""

import os
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any

from builder.pdf.lock import unlocked

MOST_PREFIX = 50
"""Signs of the file's name in that of the unfinished one: at four bytes each it still fits any file system."""
A_DAY = 24 * 3600


class UnreadablePdfError(Exception):
    """The file is not a PDF that can be read."""


@dataclass(frozen=True, slots=True)
class Writing:
    """A file to be put in place; where there is none yet, it gets the permissions of `like`, or the usual ones."""

    path: Path
    data: bytes
    like: Path | None = None


def write_whole(path: Path, data: bytes) -> None:
    """Put `data` at `path` in one step: a reader, or a crash, finds the old file or the new one, whole.

    Keeps the old file's permissions and follows a symbolic link. On OSError the old file is as it was.
    """
    write_together([Writing(path, data)])


def write_together(files: Sequence[Writing]) -> None:
    """Several files, each as `write_whole` does, put in place in this order once all of them lie beside their places.

    On OSError while they are being written no file has changed. A crash between two leaves each of them whole.
    """
    staged: list[tuple[str, Path]] = []
    try:
        for one in files:
            real = Path(os.path.realpath(one.path))
            staged.append((_staged(real, one.data, one.like), real))
        while staged:
            os.replace(*staged[0])
            _settle(staged.pop(0)[1].parent)
    except BaseException:
        for name, _ in staged:
            with suppress(OSError):
                os.unlink(name)
        raise


def _staged(path: Path, data: bytes, like: Path | None) -> str:
    """The name of a file beside `path` that holds `data` and has its permissions, or those of `like`."""
    prefix = f".{path.name[:MOST_PREFIX]}."
    _sweep(path.parent, prefix)
    handle, name = tempfile.mkstemp(prefix=prefix, suffix=".part", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fchmod(file.fileno(), _mode(path if path.exists() or like is None else like))
            os.fsync(file.fileno())
    except BaseException:
        with suppress(OSError):
            os.unlink(name)
        raise
    return name


def _sweep(folder: Path, prefix: str) -> None:
    """Take away what killed runs left here a day ago or longer; a younger one may still be written."""
    with suppress(OSError):
        for path in folder.iterdir():
            left = path.name.startswith(prefix) and path.suffix == ".part"
            if left and time.time() - path.stat().st_mtime > A_DAY:
                path.unlink()


def _mode(path: Path) -> int:
    """The permissions of the file that is there, or those a new file would get."""
    try:
        return path.stat().st_mode & 0o7777
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask


def _settle(folder: Path) -> None:
    """Make the new directory entry last through a power cut, where the system can."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def filled_fields(path: Path) -> tuple[tuple[str, str], ...]:
    """Name and value of each form field that holds something; a tick's value is its state.

    Raises OSError when the file cannot be opened and UnreadablePdfError when it cannot be understood.
    """
    from pypdf import PdfReader

    with path.open("rb") as file:
        try:
            root = PdfReader(BytesIO(unlocked(file.read())), strict=False).root_object
            form = root.get("/AcroForm")
            found = list(_leaves(form.get_object().get("/Fields", []), "", None, 0)) if form is not None else []
        except Exception as error:  # pypdf raises many kinds on broken files
            raise UnreadablePdfError(f"{path} cannot be read as a PDF ({type(error).__name__})") from error
    return tuple((name, value) for name, value in found if value)


def _leaves(fields: Any, above: str, inherited: Any, depth: int) -> Iterator[tuple[str, str]]:
    """Full name and value of the fields in one part of the form's tree."""
    if depth > 16:
        return
    for reference in fields:
        field = reference.get_object()
        part = field.get("/T")
        name = ".".join(filter(None, (above, str(part) if part is not None else "")))
        value = field.get("/V", inherited)
        kids = field.get("/Kids")
        if kids is not None:
            yield from _leaves(kids, name, value, depth + 1)
        else:
            yield name, _plain(value if value is not None else field.get("/AS"))


def _plain(value: Any) -> str:
    text = "" if value is None else str(value.get_object() if hasattr(value, "get_object") else value).strip()
    return "" if text == "/Off" else text
