"""Lays the forms of one booklet, filled in on several devices, over each other; where they differ it says so.

Why not the newest entry: forms carry no time of each field, and a lifter may have filled in two copies on one day. What
differs is shown with all its texts and counts for nothing, since either may be the true one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from builder.log.filled import Form, Value
from builder.log.manifest import Manifest
from builder.values import fields
from builder.values.fields import SessionField, SetField, SlotNote, WeekField
from builder.values.problem import Cell, Problem, Severity

SHOWN = 60
MOST_NAMED = 6


@dataclass(frozen=True, slots=True)
class Stranger:
    """A filled field that means nothing in the booklet."""

    at: Cell
    text: str


@dataclass(frozen=True, slots=True)
class Answers:
    """The one text of each field that holds something; `cells` has the place of each field that a file has.

    `torn` fields have several texts. `strangers` are filled, and mean nothing in this booklet.
    """

    manifest: Manifest
    texts: dict[str, str]
    cells: dict[str, Cell]
    torn: Mapping[str, tuple[str, ...]]
    strangers: tuple[Stranger, ...] = ()


def merge(forms: Sequence[Form]) -> tuple[Answers | None, tuple[Problem, ...]]:
    """All forms as one, with a problem for each field that was filled in differently, is missing or has no meaning.

    Copies may have other pages, and so other fields: the manifest of the answers has those of all of them.

    None when the forms belong to different booklets: they are told apart by the code that their pages print.
    """
    first = forms[0]
    # By the digest of the plan: editions, languages and layouts of one plan are copies of one booklet.
    if strangers := [form for form in forms if form.manifest.digest != first.manifest.digest]:
        return None, tuple(_other(first, form) for form in strangers)
    texts: dict[str, str] = {}
    cells: dict[str, Cell] = {}
    torn: dict[str, tuple[str, ...]] = {}
    problems = []
    for form in forms:
        for name, page in form.pages.items():
            # Of copies that lack pages the first that shows the field is where a reader can look.
            if not cells.get(name, Cell("", 0, name)).page:
                cells[name] = Cell(form.file, page, name)
        for value in form.values:
            cell = Cell(form.file, value.page, value.name)
            if value.name not in texts:
                texts[value.name], cells[value.name] = value.text, cell
            elif texts[value.name] != value.text:
                # `texts` keeps the first one: whoever reads it asks `torn` before.
                told = torn.get(value.name, (texts[value.name],))
                torn[value.name] = tuple(dict.fromkeys((*told, value.text)))
                problems.append(_conflict(texts[value.name], cells[value.name], value.text, cell))
    # A copy to hand over has nothing of what was lifted before; the copy that knows most lends it to the others.
    known = max(forms, key=lambda form: (len(form.manifest.lifts), len(form.manifest.fields))).manifest
    every = tuple(dict.fromkeys(name for form in (known, *(form.manifest for form in forms)) for name in form.fields))
    known = known.model_copy(update={"fields": every})
    odd = tuple(dict.fromkeys(_stranger(form, value) for form in forms for value in form.strangers))
    problems += [*_missing(forms, cells), *map(_meaningless, odd)]
    return Answers(known, texts, cells, torn, odd), tuple(problems)


def _other(first: Form, form: Form) -> Problem:
    mine, other = first.manifest, form.manifest
    fact = (
        f"{form.file} belongs to another booklet than {first.file}: {other.code} ({other.title}, {other.client}) "
        f"and {mine.code} ({mine.title}, {mine.client})"
    )
    if form.file == first.file:
        fact = f"{form.file} holds two booklets: {mine.code} ({mine.title}) and {other.code} ({other.title})"
    help_ = "Read the logs of one booklet together, those of another by themselves; --from says which."
    return Problem("log-other", None, fact, help_)


def _conflict(known: str, known_at: Cell, text: str, at: Cell) -> Problem:
    fact = f'"{shortened(text)}" stands here, and "{shortened(known)}" in {known_at.as_text()}'
    return Problem("log-conflict", at, fact, "Neither is taken. Keep the right one and clear the other.")


def _stranger(form: Form, value: Value) -> Stranger:
    return Stranger(Cell(form.file, value.page, value.name), value.text)


def _meaningless(one: Stranger) -> Problem:
    fact = f'"{shortened(one.text)}" stands in a field that this booklet does not have'
    help_ = "It counts for nothing. Was it added, or does it come from another file?"
    return Problem("log-stranger", one.at, fact, help_, Severity.WARNING)


def _missing(forms: Sequence[Form], cells: Mapping[str, Cell]) -> Iterator[Problem]:
    """One warning when fields are missing in each copy that should have them, or stand on no page."""
    every = dict.fromkeys(name for form in forms for name in form.manifest.fields)
    gone = [name for name in every if name not in cells or not cells[name].page]
    if not gone:
        return
    files = ", ".join(dict.fromkeys(form.file for form in forms))
    places = list(dict.fromkeys(map(_place, gone)))
    shown = ", ".join(places[:MOST_NAMED]) + (" …" if len(places) > MOST_NAMED else "")
    fact = f"{files}: {len(gone)} of {len(every)} form fields on no page: {shown}"
    help_ = "Pages or fields were taken out. The rest is read; for all of it take the copy where it was filled in."
    yield Problem("pdf-part", None, fact, help_, Severity.WARNING)


def _place(name: str) -> str:
    field = fields.parse(name)
    if isinstance(field, SetField | SlotNote | SessionField):
        return f"week {field.week}, day {field.day}"
    return f"week {field.week}" if isinstance(field, WeekField) else fields.part_of(name)


def shortened(text: str) -> str:
    """A text on one line, cut to a length that fits a message."""
    line = " ".join(text.split())
    # A stranger's signs may move the cursor of a terminal.
    shown = "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in line)
    return shown if len(shown) <= SHOWN else shown[: SHOWN - 1] + "…"
