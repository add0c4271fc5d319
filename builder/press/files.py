"""Finished files reach their place whole or not at all, and a filled one is recognised first."""

import os
import tempfile
import time
from collections.abc import Iterator
from contextlib import suppress
from io import BytesIO
from pathlib import Path
from typing import Any

from builder.press.lock import unlocked

MOST_PREFIX = 50
"""Signs of the file's name in that of the unfinished one: at four bytes each it still fits any file system."""
A_DAY = 24 * 3600


class UnreadablePdfError(Exception):
    """The file is not a PDF that can be read."""


def write_whole(path: Path, data: bytes) -> None:
    """Put `data` at `path` in one step: a reader, or a crash, finds the old file or the new one, whole.

    Keeps the old file's permissions and follows a symbolic link. On OSError the old file is as it was.
    """
    path = Path(os.path.realpath(path))
    prefix = f".{path.name[:MOST_PREFIX]}."
    _sweep(path.parent, prefix)
    handle, name = tempfile.mkstemp(prefix=prefix, suffix=".part", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fchmod(file.fileno(), _mode(path))
            os.fsync(file.fileno())
        os.replace(name, path)
    except BaseException:
        with suppress(OSError):
            os.unlink(name)
        raise
    _settle(path.parent)


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
