"""Whether a PDF can be written where it is wanted, without destroying something."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from builder.pdf import UnreadablePdfError, filled_fields
from builder.values.problem import Problem


def output_problems(target: Path, sources: Sequence[Path], *, replace: bool) -> tuple[Problem, ...]:
    """What speaks against writing a PDF at `target`; `replace` lets it overwrite what it must not otherwise."""
    try:
        return _output_problems(target, sources, replace=replace)
    except OSError as error:
        fact = f"{str(target)[:200]} cannot be written: {(error.strerror or 'unknown reason').lower()}"
        return _problem("output", fact, "Name another file after -o.")


def _output_problems(target: Path, sources: Sequence[Path], *, replace: bool) -> tuple[Problem, ...]:
    if target.is_dir():
        return _problem("output-folder", f"{target} is a folder", "Name a file to write, such as -o booklet.pdf.")
    if not target.parent.is_dir():
        return _problem("output-folder", f"there is no folder {target.parent}", "Make it first, or name another.")
    if target.resolve() in [source.resolve() for source in sources]:
        return _problem("output-source", f"{target} is one of the sources", "Name another file after -o.")
    if replace or not target.exists():
        return ()
    try:
        filled = filled_fields(target)
    except UnreadablePdfError:
        help_ = "Name another file after -o, or say --replace."
        return _problem("output-other", f"{target} exists and is not a PDF of ours", help_)
    if filled:
        shown = ", ".join(f"{name} = {value}" for name, value in filled[:5])
        more = " …" if len(filled) > 5 else ""
        fact = f"{target} holds {len(filled)} filled fields, which would be lost ({shown}{more})"
        return _problem("output-filled", fact, "Name another file after -o, or say --replace.")
    return ()


def _problem(code: str, fact: str, help_: str) -> tuple[Problem, ...]:
    return (Problem(code, None, fact, help_),)
