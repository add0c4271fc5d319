"""The PDF that a command writes: refused before any work where it would destroy something, then written whole."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from builder.cli.outcome import PROBLEMS, Stopped, stop_at
from builder.problem import Problem


def guard(target: Path, sources: Sequence[Path], *, replace: bool) -> None:
    """Stops before any work where the output cannot, or must not, be written."""
    try:
        _guard(target, sources, replace=replace)
    except OSError as error:
        fact = f"{str(target)[:200]} cannot be written: {(error.strerror or 'unknown reason').lower()}"
        stop_at([_problem("output", fact, "Name another file after -o.")])


def _guard(target: Path, sources: Sequence[Path], *, replace: bool) -> None:
    from builder.press import UnreadablePdfError, filled_fields

    if target.is_dir():
        stop_at([_problem("output-folder", f"{target} is a folder", "Name a file to write, such as -o booklet.pdf.")])
    if not target.parent.is_dir():
        stop_at([_problem("output-folder", f"there is no folder {target.parent}", "Make it first, or name another.")])
    if target.resolve() in [source.resolve() for source in sources]:
        stop_at([_problem("output-source", f"{target} is one of the sources", "Name another file after -o.")])
    if replace or not target.exists():
        return
    try:
        filled = filled_fields(target)
    except UnreadablePdfError:
        help_ = "Name another file after -o, or say --replace."
        stop_at([_problem("output-other", f"{target} exists and is not a PDF of ours", help_)])
        return
    if filled:
        shown = ", ".join(f"{name} = {value}" for name, value in filled[:5])
        more = " …" if len(filled) > 5 else ""
        fact = f"{target} holds {len(filled)} filled fields, which would be lost ({shown}{more})"
        stop_at([_problem("output-filled", fact, "Name another file after -o, or say --replace.")])


def write(target: Path, pdf: bytes) -> None:
    """The file, whole or not at all; a problem is shown when it cannot be written."""
    from builder.press import write_whole

    try:
        write_whole(target, pdf)
    except OSError as error:
        fact = f"{target} cannot be written: {(error.strerror or 'unknown reason').lower()}"
        stop_at([_problem("output", fact, "Check the folder's rights and the free space; the old file is intact.")])
        raise Stopped(PROBLEMS) from error


def _problem(code: str, fact: str, help_: str) -> Problem:
    return Problem(code, None, fact, help_)
