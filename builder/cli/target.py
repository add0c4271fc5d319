"""The PDF that a command writes: refused before any work where it would destroy something, then written whole."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from builder.cli.outcome import PROBLEMS, Stopped, stop_at
from builder.values.problem import Problem


def guard(target: Path, sources: Sequence[Path], *, replace: bool) -> None:
    """Stops before any work where the output cannot, or must not, be written."""
    from builder.work.publish import output_problems

    stop_at(output_problems(target, sources, replace=replace))


def write(target: Path, pdf: bytes) -> None:
    """The file, whole or not at all; a problem is shown when it cannot be written."""
    from builder.pdf import write_whole

    try:
        write_whole(target, pdf)
    except OSError as error:
        fact = f"{target} cannot be written: {(error.strerror or 'unknown reason').lower()}"
        help_ = "Check the folder's rights and the free space; the old file is intact."
        stop_at([Problem("output", None, fact, help_)])
        raise Stopped(PROBLEMS) from error


def write_text(target: Path, text: str, inputs: Sequence[Path]) -> None:
    """A text file, whole or not at all; a file that is there is replaced, but no input and no folder."""
    from builder.work.publish import output_problems

    stop_at(output_problems(target, inputs, replace=True))
    write(target, text.encode())
