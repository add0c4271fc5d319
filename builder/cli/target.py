"""What a command writes: refused before any work where it would destroy something, then put in place whole."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from builder.cli.outcome import PROBLEMS, Stopped, stop_at
from builder.values.problem import Problem

if TYPE_CHECKING:
    from builder.door import Spot
    from builder.log.manifest import Protection
    from builder.work.publish.target import Kind


def guard(
    output: Path | None,
    usual: str,
    sources: Sequence[Path],
    *,
    kind: Kind,
    replace: bool,
    made: Protection | None = None,
) -> Spot:
    """The place for an output, `usual` in the present folder where none was named.

    Stops before any work where it cannot, or must not, be written.
    """
    from builder.work.publish import output_spot

    if output == Path("-"):
        help_ = "Name a file after -o; only what is text can be written to the screen."
        stop_at([Problem("output-kind", None, "a PDF is no text for the screen", help_)])
    target = Path(usual) if output is None else output
    found, problems = output_spot(
        target, sources, kind=kind, replace=replace, chosen=output is not None, made=made
    )
    stop_at(problems)
    assert found is not None
    return found


def guard_text(output: Path | None, sources: Sequence[Path], *, replace: bool) -> Spot | None:
    """The place for a log, None for the screen, which "-" is too."""
    return None if output in (None, Path("-")) else guard(output, "", sources, kind="log", replace=replace)


def write(spot: Spot, data: bytes, like: Sequence[Path]) -> None:
    """The file, whole or not at all and no more open than `like`; a problem is shown when it cannot be written."""
    from builder.door import Writing, put, said

    try:
        put([Writing(spot, data, tuple(like))])
    except OSError as error:
        fact = f"{spot.named} cannot be written: {said(error)}"
        help_ = "Check the folder's rights and the free space; what was there is intact."
        stop_at([Problem("output", None, fact, help_)])
        raise Stopped(PROBLEMS) from error


def folder_guard(folder: Path) -> Path:
    """The real place of a folder to be made; stops where it is taken."""
    from builder.door import folder_spot, said

    try:
        real, problems = folder_spot(folder)
    except OSError as error:
        fact = f"{str(folder)[:200]} cannot be written: {said(error)}"
        real, problems = None, (Problem("output", None, fact, "Name another folder."),)
    stop_at(problems)
    assert real is not None
    return real


def folder_for(outputs: Path) -> None:
    """Makes the folder that outputs are put into, where it is not there yet."""
    from builder.door import followed, said

    stop_at(followed(outputs))
    try:
        outputs.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        fact = f"{str(outputs)[:200]} cannot be a folder for the output: {said(error)}"
        stop_at([Problem("output-folder", None, fact, "Name another folder after -o.")])
        raise Stopped(PROBLEMS) from error


def write_folder(folder: Path, real: Path, files: Sequence[tuple[str, bytes]], like: Sequence[Path] = ()) -> None:
    """The folder with all files in it, or nothing and a problem."""
    from builder.door import put_folder, said

    try:
        put_folder(real, files, like)
    except OSError as error:
        fact = f"{folder} cannot be written: {said(error)}"
        stop_at([Problem("output", None, fact, "Check the rights of the folder above it, and the free space.")])
        raise Stopped(PROBLEMS) from error
