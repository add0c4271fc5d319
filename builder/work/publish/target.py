"""Whether something can be written where it is wanted, without destroying anything."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from builder.door import Spot, said, spot
from builder.log.manifest import Protection
from builder.pdf import UnreadablePdfError, inside
from builder.pdf.raster import is_own_picture
from builder.values.problem import Problem, Severity, stops

Kind = Literal["booklet", "preview", "intake", "report", "manual", "sheets", "log"]
"""What is to be written; it replaces its own kind only."""
_NAMES = {
    "booklet": "a booklet", "preview": "a preview", "intake": "an intake form", "report": "a report",
    "manual": "a manual", "sheets": "print sheets", "log": "a log",
}  # fmt: skip
LOG_STARTS = (
    b"format: 1\nbooklet:\n", b'{\n  "format": 1,\n  "booklet": {', b"week,day,date,slot,set,", b'"week","day","date",',
)  # fmt: skip
"""How logs begin as YAML, JSON and CSV."""


def output_spot(
    target: Path,
    sources: Sequence[Path],
    *,
    kind: Kind,
    replace: bool,
    chosen: bool = True,
    made: Protection | None = None,
) -> tuple[Spot | None, tuple[Problem, ...]]:
    """The place for an output at `target`, or what speaks against it.

    `replace` lets it overwrite files of another kind, but never filled fields; `chosen` says that somebody typed the
    name. How the new copy is protected, `made`, is held against the one that it replaces.
    """
    try:
        found, told = spot(target, chosen=chosen)
        if found is None:
            return None, told
        against = _against(found, sources, kind, replace=replace, made=made)
    except OSError as error:
        fact = f"{str(target)[:200]} cannot be written: {said(error)}"
        return None, _problem("output", fact, "Name another file after -o.")
    return (None if stops(against) else found), (*told, *against)


def _against(
    found: Spot, sources: Sequence[Path], kind: Kind, *, replace: bool, made: Protection | None
) -> tuple[Problem, ...]:
    if any(_same(found.real, source) for source in sources):
        return _problem("output-source", f"{found.named} is one of the sources", "Name another file after -o.")
    if not found.taken:
        return ()
    if kind == "log":
        return _log_against(found, replace=replace)
    return _pdf_against(found, kind, replace=replace, made=made)


def _pdf_against(found: Spot, kind: Kind, *, replace: bool, made: Protection | None) -> tuple[Problem, ...]:
    help_ = "Name another file after -o, or say --replace."
    if kind == "preview" and _is_own_picture(found):
        return ()
    try:
        there = inside(found.real)
    except UnreadablePdfError:
        return () if replace else _problem("output-other", f"{found.named} exists and is not a PDF of ours", help_)
    # Before anything that --replace allows: what a lifter wrote cannot be made again.
    if there.filled:
        shown = ", ".join(f"{name} = {value}" for name, value in there.filled[:5])
        more = " …" if len(there.filled) > 5 else ""
        fact = f"{found.named} holds {len(there.filled)} filled fields, which would be lost ({shown}{more})"
        return _problem("output-filled", fact, "Name another file after -o, or move that one away.")
    if there.kind != kind and not replace:
        what = f"is {_NAMES[there.kind]}" if there.kind else "exists and is not a PDF of ours"
        fact = f"{found.named} {what}" + (f", and {_NAMES[kind]} would take its place" if there.kind else "")
        return _problem("output-other", fact, help_)
    return _opened(found, there.protection, made) if made and there.protection else ()


def _is_own_picture(found: Spot) -> bool:
    with found.real.open("rb") as file:
        return is_own_picture(file.read(80))


def _opened(found: Spot, before: Protection, made: Protection) -> tuple[Problem, ...]:
    """A remark where the copy that is replaced was protected in a way in which the new one is not."""
    lost = (
        ("carried no sources", "--no-sources", made.whole and not before.whole),
        (f"was that of the buyer {before.buyer}", "--buyer", before.buyer and not made.buyer),
        (f"had the order {before.order}", "--order", before.order and not made.order),
        ("was locked", "--owner-password-file", before.locked and not made.locked),
    )
    facts, options = [fact for fact, _, gone in lost if gone], [option for _, option, gone in lost if gone]
    if not facts:
        return ()
    help_ = f"Say {' and '.join(options)} if the new one is handed over too."
    fact = f"the copy at {found.named} {' and '.join(facts)}, and the new one is not protected so"
    return (Problem("copy-open", None, fact, help_, Severity.WARNING),)


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
    # A second name of a source leads to the same contents by another path.
    return real == source.resolve() or (real.exists() and source.exists() and real.samefile(source))


def _problem(code: str, fact: str, help_: str) -> tuple[Problem, ...]:
    return (Problem(code, None, fact, help_),)
