"""Lays the forms of one booklet, filled in on several devices, over each other; where they differ it says so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from builder.log.filled import Form
from builder.log.manifest import Manifest
from builder.values.problem import Cell, Problem

SHOWN = 60


@dataclass(frozen=True, slots=True)
class Answers:
    """The one text of each field that holds something, and where it stands; `torn` fields have several texts."""

    manifest: Manifest
    texts: dict[str, str]
    cells: dict[str, Cell]
    torn: frozenset[str]


def merge(forms: Sequence[Form]) -> tuple[Answers | None, tuple[Problem, ...]]:
    """All forms as one, with a problem for each field that was filled in differently.

    None when the forms belong to different booklets: they are told apart by the code that their pages print.
    """
    first = forms[0]
    if strangers := [form for form in forms if form.manifest.digest != first.manifest.digest]:
        return None, tuple(_other(first, form) for form in strangers)
    texts: dict[str, str] = {}
    cells: dict[str, Cell] = {}
    torn: set[str] = set()
    problems = []
    for form in forms:
        for name, page in form.pages.items():
            cells.setdefault(name, Cell(form.file, page, name))
        for value in form.values:
            cell = Cell(form.file, value.page, value.name)
            if value.name not in texts:
                texts[value.name], cells[value.name] = value.text, cell
            elif texts[value.name] != value.text:
                torn.add(value.name)
                problems.append(_conflict(texts[value.name], cells[value.name], value.text, cell))
    known = max(forms, key=lambda form: len(form.manifest.fields)).manifest
    return Answers(known, texts, cells, frozenset(torn)), tuple(problems)


def _other(first: Form, form: Form) -> Problem:
    mine, other = first.manifest, form.manifest
    fact = (
        f"{form.file} belongs to another booklet than {first.file}: {other.code} ({other.title}, {other.client}) "
        f"and {mine.code} ({mine.title}, {mine.client})"
    )
    return Problem("log-other", None, fact, "Read the logs of one booklet together, those of another by themselves.")


def _conflict(known: str, known_at: Cell, text: str, at: Cell) -> Problem:
    fact = f'"{shortened(text)}" stands here, and "{shortened(known)}" in {known_at.as_text()}'
    return Problem("log-conflict", at, fact, "Neither is taken. Keep the right one and clear the other.")


def shortened(text: str) -> str:
    """A text on one line, cut to a length that fits a message."""
    line = " ".join(text.split())
    shown = "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in line)
    return shown if len(shown) <= SHOWN else shown[: SHOWN - 1] + "…"
