"""Whether something can be written where it is wanted, without destroying anything."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from builder.door import Spot, said, spot
from builder.pdf import UnreadablePdfError, inside
from builder.values.problem import Problem

Kind = Literal["booklet", "intake", "report", "manual", "sheets", "log"]
"""What is to be written; it replaces its own kind only."""
_NAMES = {
    "booklet": "a booklet", "intake": "an intake form", "report": "a report", "manual": "a manual",
    "sheets": "print sheets", "log": "a log",
}  # fmt: skip
LOG_STARTS = (
    b"format: 1\nbooklet:\n", b'{\n  "format": 1,\n  "booklet": {', b"week,day,date,slot,set,", b'"week","day","date",',
)  # fmt: skip
"""How logs begin as YAML, JSON and CSV."""


def output_spot(
    target: Path, sources: Sequence[Path], *, kind: Kind, replace: bool, chosen: bool = True
) -> tuple[Spot | None, tuple[Problem, ...]]:
    """The place for an output at `target`, or what speaks against it.

    `replace` lets it overwrite what it must not otherwise; `chosen` says that somebody typed the name.
    """
    try:
        found, told = spot(target, chosen=chosen, over=replace)
        if found is None:
            return None, told
        against = _against(found, sources, kind, replace=replace)
    except OSError as error:
        fact = f"{str(target)[:200]} cannot be written: {said(error)}"
        return None, _problem("output", fact, "Name another file after -o.")
    return (None if against else found), (*told, *against)


def _against(found: Spot, sources: Sequence[Path], kind: Kind, *, replace: bool) -> tuple[Problem, ...]:
    if any(_same(found.real, source) for source in sources):
        return _problem("output-source", f"{found.named} is one of the sources", "Name another file after -o.")
    if not found.taken or (replace and kind != "log"):
        return ()
    return _log_against(found, replace=replace) if kind == "log" else _pdf_against(found, kind)


def _pdf_against(found: Spot, kind: Kind) -> tuple[Problem, ...]:
    help_ = "Name another file after -o, or say --replace."
    try:
        there = inside(found.real)
    except UnreadablePdfError:
        return _problem("output-other", f"{found.named} exists and is not a PDF of ours", help_)
    if there.filled:
        shown = ", ".join(f"{name} = {value}" for name, value in there.filled[:5])
        more = " …" if len(there.filled) > 5 else ""
        fact = f"{found.named} holds {len(there.filled)} filled fields, which would be lost ({shown}{more})"
        return _problem("output-filled", fact, help_)
    if there.kind != kind:
        what = f"is {_NAMES[there.kind]}" if there.kind else "exists and is not a PDF of ours"
        fact = f"{found.named} {what}" + (f", and {_NAMES[kind]} would take its place" if there.kind else "")
        return _problem("output-other", fact, help_)
    return ()


def _log_against(found: Spot, *, replace: bool) -> tuple[Problem, ...]:
    with found.real.open("rb") as file:
        start = file.read(64)
    if start.startswith(b"%PDF"):
        fact = f"{found.named} is a PDF, and a log would take its place"
        return _problem("output-other", fact, "Name another file after -o.")
    if replace or start.startswith(LOG_STARTS):
        return ()
    fact = f"{found.named} exists and is no log that was read here"
    return _problem("output-other", fact, "Name another file after -o, or say --replace.")


def _same(real: Path, source: Path) -> bool:
    return real == source.resolve() or (real.exists() and source.exists() and real.samefile(source))


def _problem(code: str, fact: str, help_: str) -> tuple[Problem, ...]:
    return (Problem(code, None, fact, help_),)
