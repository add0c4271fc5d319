"""A row as the part of a client profile that it stands for, one cell a line, so that a problem finds its cell again."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from builder.given import Movements
from builder.values.formats import FIRST_LINE
from builder.values.problem import Problem, Span, did_you_mean, listing
from builder.work.lines import Written
from builder.work.retest.written import flow, scalar
from builder.work.roster.table import Row, TableCell
from builder.work.said_set import SaidSet, pointed, said_set

CLIENT = ("name", "units", "bodyweight", "born", "sex", "supervisor")
TRAINING = ("status", "months", "days", "session_minutes", "starts")
TESTED = "tested"
"""The day on which the sets of the row were lifted."""
ORDER = ("profile", "block", "buyer", "order", "mail", "paper", "language", "edition", "theme")
"""What does not go into the profile."""
HEADINGS = (*CLIENT, *TRAINING, TESTED, *ORDER)
NUMBERS = ("bodyweight", "born", "months", "session_minutes")
_DOTTED = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4})")


def written(row: Row, name: str, library: Movements) -> tuple[Written, tuple[Problem, ...]]:
    """The client part that a row stands for. Headings that are none of ours are movements."""
    start = TableCell("", row.span)
    lines = [(FIRST_LINE, start)]
    problems: list[Problem] = []
    for section, keys in (("client", CLIENT), ("training", TRAINING)):
        mine = [(key, row.cells[key]) for key in keys if key in row.cells]
        lines += [(f"{section}:", mine[0][1])] if mine else []
        lines += [(f"  {key}: {_value(key, cell)}", cell) for key, cell in mine]
    lifts = [(heading, cell) for heading, cell in row.cells.items() if heading not in HEADINGS]
    tested = row.cells.get(TESTED)
    sets: list[tuple[str, TableCell]] = []
    for heading, cell in lifts:
        found = said_set(cell.text)
        if found is None:
            fact = f'"{cell.text}" is no tested set'
            problems.append(Problem("result-form", cell.span, fact, 'Write "120 x 5" or "120 x 5 rir 1".'))
        elif tested is not None:
            sets.append((f"  {scalar(library.named(heading) or heading)}:", cell))
            # Set and day on lines of their own, so that what is wrong with either is told at its cell.
            sets.append((f"    tests: [{_set(found)[:-1]},", cell))
            sets.append((f"      date: {scalar(_day(tested.text))}}}]", tested))
    if lifts and tested is None:
        fact, help_ = "the day of the tests is missing", f'Add a column "{TESTED}" with a day such as 2027-01-11.'
        problems.append(Problem("missing-key", lifts[0][1].span, fact, help_))
    lines += [("lifts:", sets[0][1]), *sets] if sets else []
    text = "\n".join(line for line, _ in lines) + "\n"
    return Written(name, text, tuple(cell.span for _, cell in lines)), tuple(problems)


def strange_headings(headings: Mapping[str, Span], library: Movements) -> Iterator[Problem]:
    """Columns that are neither a key of ours nor a movement."""
    for heading, span in headings.items():
        if heading and heading not in HEADINGS and library.named(heading) is None:
            near = did_you_mean(heading, [*HEADINGS, *library.movements])
            help_ = near or f"Columns: {listing(HEADINGS, len(HEADINGS))}, and the name of each tested lift."
            yield Problem("unknown-key", span, f'"{heading}" is no column of a roster', help_)


def _set(found: SaidSet) -> str:
    return flow({"load": found.load, "reps": found.reps} | ({"rir": found.rir} if found.rir else {}))


def _value(key: str, cell: TableCell) -> str:
    if key == "days":
        return flow([day for day in re.split(r"[\s,;/+]+", cell.text) if day])
    if key == "starts":
        return scalar(_day(cell.text))
    # In numbers alone: in a name a comma between figures is meant.
    return scalar(pointed(cell.text) if key in NUMBERS else cell.text)


def _day(text: str) -> str:
    """A day with points, which spreadsheets make of ours, as we write it; one with strokes could be two days."""
    found = _DOTTED.fullmatch(text)
    return f"{found[3]}-{int(found[2]):02}-{int(found[1]):02}" if found else text
