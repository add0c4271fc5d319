"""Finished files reach their place whole or not at all, no more open than what they were made from."""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from builder.door.opened import BarredError, Folder, opened
from builder.door.spot import Spot
from builder.door.unfinished import new_file

OWNER = 0o600
_NO_RIGHTS = (errno.EPERM, errno.ENOTSUP, errno.EOPNOTSUPP)
_NO_LINKS = (*_NO_RIGHTS, errno.EMLINK, errno.ENOSYS, errno.EXDEV)


@dataclass(frozen=True, slots=True)
class Writing:
    """A file to be put in place. It keeps the permissions of the file it replaces.

    Where there is none yet, it gets the usual ones, cut down to what every file in `like` allows.
    """

    spot: Spot
    data: bytes
    like: tuple[Path, ...] = ()


def put(files: Sequence[Writing]) -> None:
    """Several files, put in place in this order once all of them lie beside their places: each old or new, and whole.

    On OSError while they are being written no file has changed, nor where another file lies at a place by now than
    the one that was looked at (`BarredError`). A crash between two leaves each of them whole.
    """
    with ExitStack() as held:
        ready = []
        for one in files:
            with _named(one.spot):
                ready.append((one.spot, *_staged(held, one)))
        # All of them before the first is put: a profile must not change for a booklet that then may not be written.
        for spot, folder, _ in ready:
            _unchanged(spot, folder)
        for spot, folder, part in ready:
            with _named(spot):
                _in_place(spot, folder, part)


@contextmanager
def _named(spot: Spot) -> Iterator[None]:
    """Lets a fault speak of the file by the name that it was given."""
    try:
        yield
    except OSError as error:
        error.filename, error.filename2 = str(spot.named), None
        raise


def _staged(held: ExitStack, one: Writing) -> tuple[Folder, str]:
    """An unfinished file beside its place that holds the data, gone again if what follows fails."""
    folder = held.enter_context(opened(one.spot.real.parent))
    name = one.spot.real.name
    part, file = held.enter_context(new_file(folder, name))
    file.write(one.data)
    file.flush()
    # Only now: until its contents are there it was for its owner alone.
    _permit(file.fileno(), folder.state(name), one.like)
    # On the disk before it is renamed, or a power cut may leave the new name with nothing in it.
    os.fsync(file.fileno())
    if folder.handle is None:  # as on Windows, which renames no open file
        file.close()
    return folder, part


def _unchanged(spot: Spot, folder: Folder) -> None:
    if not spot.over and folder.seen(spot.real.name) != spot.was:
        raise BarredError(spot.named, "it was changed while this run worked")


def _in_place(spot: Spot, folder: Folder, part: str) -> None:
    name = spot.real.name
    # A new name by a link, since a rename would put itself over what came meanwhile.
    if spot.was is None and not spot.over and _linked(spot, folder, part):
        folder.remove(part)
    else:
        # Once more, since others were put in place after the first look. A moment is left between this look and the
        # rename: the system has no call for both.
        _unchanged(spot, folder)
        folder.replace(part, name)
    folder.settle()


def _linked(spot: Spot, folder: Folder, part: str) -> bool:
    """A second name for the new file, which the system refuses where one lies there by now; False where it cannot."""
    try:
        os.link(
            folder.name(part), folder.name(spot.real.name), src_dir_fd=folder.handle, dst_dir_fd=folder.handle,
            follow_symlinks=False,
        )  # fmt: skip
    except FileExistsError:
        raise BarredError(spot.named, "it was made by another while this run worked") from None
    except NotImplementedError:
        return False
    except OSError as error:
        if folder.handle is not None and error.errno not in _NO_LINKS:
            raise
        return False
    return True


def _permit(handle: int, old: os.stat_result | None, like: Sequence[Path]) -> None:
    """Owner and permissions of the new file; on a system of files without any, those it gives to all."""
    if not hasattr(os, "fchown"):
        return
    if old is not None:
        with suppress(OSError):
            # Only root may give a file away. Where it fails, the mode below allows for it.
            os.fchown(handle, old.st_uid, old.st_gid)
    new = os.fstat(handle)
    if old is None:
        mode = no_more_open(usual(), new.st_gid, like)
    elif old.st_gid == new.st_gid:
        # Without the bits that lend a program its owner's rights.
        mode = old.st_mode & 0o777
    else:
        # The group is another now, and may do no more than everybody might.
        mode = old.st_mode & (0o707 | (old.st_mode & 0o007) << 3)
    try:
        os.fchmod(handle, mode)
    except OSError as error:
        if error.errno not in _NO_RIGHTS:
            raise


def usual() -> int:
    """The permissions that a new file gets."""
    # The mask can be read by setting it alone; the strictest stands meanwhile, should a thread make a file just then.
    mask = os.umask(0o077)
    os.umask(mask)
    return 0o666 & ~mask


def no_more_open(mode: int, group: int, like: Sequence[Path]) -> int:
    """The permissions `mode` without what one of the files does not allow; the owner may always read and write.

    Another group than the file's counts as everybody. What was no file of the system says nothing.
    """
    for path in like:
        try:
            state = path.stat()
        except FileNotFoundError:
            continue
        allowed = state.st_mode
        if state.st_gid != group:
            allowed = allowed & ~0o070 | (allowed & 0o007) << 3
        mode &= allowed
    return mode | OWNER
