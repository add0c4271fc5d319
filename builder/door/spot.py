"""Where a file is to be written: as it was named, where it really lies, and what lay there when it was looked at."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from builder.door.opened import Seen, is_plain, opened, said
from builder.door.unfinished import clear
from builder.values.problem import Problem, Severity

_STREAMS = ("/dev/std", "/dev/fd/", "/proc/")
"""Names of what is open already, which may be a plain file today and is none tomorrow."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A place for a file. `was` is what must still lie there when it is written, None for nothing.

    With `over` it does not matter what lies there by then.
    """

    named: Path
    real: Path
    was: Seen | None
    over: bool = False

    @property
    def taken(self) -> bool:
        """Whether a file lies there."""
        return self.was is not None


def spot(path: Path, *, chosen: bool, over: bool = False) -> tuple[Spot | None, tuple[Problem, ...]]:
    """The place that `path` names, or why nothing may be written there.

    A link that somebody typed (`chosen`) is followed, and told; any other is refused, since it may be planted. Only a
    plain file is ever replaced. What ended runs left unfinished beside it is taken away.
    """
    try:
        return _spot(path, chosen, over)
    except OSError as error:
        fact = f"{str(path)[:200]} cannot be written: {said(error)}"
        return None, _problem("output", fact, "Check the rights of the folder, or name another file.")


def _spot(path: Path, chosen: bool, over: bool) -> tuple[Spot | None, tuple[Problem, ...]]:
    if str(path).startswith(_STREAMS) or (path.exists() and not (path.is_file() or path.is_dir())):
        fact = f"{path} is no plain file, but a device, a pipe or a socket"
        return None, _problem("output-kind", fact, "Name a file, new or of your own.")
    real, told = path, tuple[Problem, ...]()
    if path.is_symlink():
        real = Path(os.path.realpath(path))
        # A folder that others may write to could have it under the very name of the booklet, and lead to any file of
        # this user.
        if not chosen:
            help_ = f"It would be followed to {real}. Take it away, or name that file yourself."
            return None, _problem("output-link", f"{path} is a link, and nobody named it", help_)
        told = _problem("link-followed", f"{path} is a link", f"The file it leads to is written: {real}.", mild=True)
    if real.is_dir():
        help_ = "Name a file to write, such as -o booklet.pdf."
        return None, (*told, *_problem("output-folder", f"{path} is a folder", help_))
    if not real.parent.is_dir():
        help_ = "Make it first, or name another."
        return None, (*told, *_problem("output-folder", f"there is no folder {real.parent}", help_))
    # From here on the folder is the real one, and held open; what takes the name itself after this is refused.
    real = Path(os.path.realpath(real.parent)) / real.name
    with opened(real.parent) as folder:
        clear(folder)
        state = folder.state(real.name)
        # Looked at again through the open folder: the looks above went by the path, and it may lead elsewhere by now.
        if state is not None and not is_plain(state):
            fact = f"{path} has just become a link or a device"
            return None, (*told, *_problem("output-kind", fact, "Name a file, new or of your own."))
        return Spot(path, real, folder.seen(real.name), over), told


def _problem(code: str, fact: str, help_: str, *, mild: bool = False) -> tuple[Problem, ...]:
    return (Problem(code, None, fact, help_, Severity.WARNING if mild else Severity.ERROR),)
