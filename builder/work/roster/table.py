"""A roster as rows of cells, each with its place: CSV from any spreadsheet, or YAML."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from builder.intake.load import tree_of
from builder.intake.reader import decoded
from builder.values.nodes import Mapping, Scalar
from builder.values.nodes import Sequence as Listing
from builder.values.problem import Problem, Span

MOST_BYTES = 16 * 1024 * 1024
MOST_ROWS = 20_000
MOST_COLUMNS = 100
SEPARATORS = ";\t,"
"""What may stand between the cells of a CSV file, the likeliest first where several stand in the head."""


@dataclass(frozen=True, slots=True)
class TableCell:
    """What stands under one heading in one row; never blank."""

    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Row:
    """One buyer. `number` counts buyers from 1; `cells` has what the row says, by heading in lower case."""

    number: int
    cells: dict[str, TableCell]
    span: Span
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class BuyerTable:
    """The buyers in the order of the file, and the headings with their places."""

    headings: dict[str, Span]
    rows: tuple[Row, ...]


def table_of(name: str, data: bytes) -> tuple[BuyerTable, tuple[Problem, ...]]:
    """The table of a roster file, and what is wrong with it as a file."""
    if name.lower().endswith((".yaml", ".yml")):
        return _from_yaml(name, data)
    text, problems = decoded(data, name, MOST_BYTES)
    if problems:
        more = " A spreadsheet asks for the character set when it saves CSV: choose UTF-8."
        return BuyerTable({}, ()), tuple(
            replace(problem, help=problem.help + more) if problem.code == "encoding" else problem
            for problem in problems
        )
    return _from_csv(name, text)


def _from_csv(name: str, text: str) -> tuple[BuyerTable, tuple[Problem, ...]]:
    lines = text.split("\n")
    first = next((number for number, line in enumerate(lines) if line.strip()), None)
    if first is None:
        return BuyerTable({}, ()), (_empty(Span(name, 1, 1)),)
    head = lines[first]
    separator = max(SEPARATORS, key=head.count)
    records = list(_records(lines[first:], first, separator, name))
    headings, problems = _headings(records[0])
    if len(headings) > MOST_COLUMNS or len(records) - 1 > MOST_ROWS:
        fact = f"the roster has more than {MOST_ROWS} rows or {MOST_COLUMNS} columns"
        return BuyerTable({}, ()), (Problem("too-large", Span(name, 1, 1), fact, "Split it into several files."),)
    rows: list[Row] = []
    for cells in records[1:]:
        row = _row(len(rows) + 1, headings, cells)
        rows += [row] if row else []
    if not rows and not problems:
        problems.append(_empty(Span(name, first + 1, 1, 1, head)))
    return BuyerTable(dict(headings), tuple(rows)), tuple(problems)


def _records(lines: Sequence[str], first: int, separator: str, name: str) -> Iterator[list[TableCell]]:
    """The cells of each record; `first` lines stand above the given ones."""
    # It knows quotes and line ends within them, but tells no places: these are found again in the raw text.
    reader = csv.reader(io.StringIO("\n".join(lines)), delimiter=separator)
    before = 0
    for record in reader:
        raw = "\n".join(lines[before : reader.line_num])
        starts = _starts(raw, separator)
        yield [
            TableCell(text.strip(), _place(name, raw, first + before, start, text))
            for text, start in zip(record, starts, strict=False)
        ]
        before = reader.line_num


def _starts(raw: str, separator: str) -> list[int]:
    """Where each cell of a record begins; a separator between quotes is none."""
    starts, quoted = [0], False
    for at, sign in enumerate(raw):
        if sign == '"':
            quoted = not quoted
        elif sign == separator and not quoted:
            starts.append(at + 1)
    return starts


def _place(name: str, raw: str, above: int, start: int, text: str) -> Span:
    before = raw[:start]
    line = before.count("\n")
    source = raw.split("\n")[line] if raw else ""
    return Span(name, above + line + 1, start - (before.rfind("\n") + 1) + 1, max(1, len(text.strip())), source)


def _headings(cells: Sequence[TableCell]) -> tuple[list[tuple[str, Span]], list[Problem]]:
    """The headings in lower case; one that stands twice is a problem."""
    found: list[tuple[str, Span]] = []
    problems = []
    for cell in cells:
        word = " ".join(cell.text.lower().split())
        if word and word in dict(found):
            fact = f'the heading "{word}" stands twice'
            problems.append(Problem("duplicate-key", cell.span, fact, "Keep one of the two columns."))
        found.append((word, cell.span))
    return found, problems


def _row(number: int, headings: Sequence[tuple[str, Span]], cells: Sequence[TableCell]) -> Row | None:
    """The row, None where all of it is blank; more cells than headings are a problem."""
    written = [cell for cell in cells if cell.text]
    if not written:
        return None
    strange = [
        Problem("roster-column", cell.span, f'"{cell.text}" stands under no heading', "Give the column a heading.")
        for at, cell in enumerate(cells)
        if cell.text and (at >= len(headings) or not headings[at][0])
    ]
    named = {word: cell for (word, _), cell in zip(headings, cells, strict=False) if cell.text and word}
    # One is enough: who has a column without a heading has it in each row.
    return Row(number, named, cells[0].span, tuple(strange[:1]))


def _from_yaml(name: str, data: bytes) -> tuple[BuyerTable, tuple[Problem, ...]]:
    tree, problems = tree_of(name, data)
    if tree is None or problems:
        return BuyerTable({}, ()), problems
    listed = tree.value("roster")
    strange = [key for key, _ in tree.items if key.text not in ("format", "roster")]
    told = [
        Problem("unknown-key", key.span, f'"{key.text}" is no key of a roster', 'Write "roster:" and a list of buyers.')
        for key in strange
    ]
    if not isinstance(listed, Listing) or not listed.items:
        return BuyerTable({}, ()), (*told, _empty(tree.span))
    headings: dict[str, Span] = {}
    rows = []
    for number, item in enumerate(listed.items, 1):
        if not isinstance(item, Mapping):
            told.append(Problem("wrong-type", item.span, "a buyer is a mapping", 'Write "- {name: Ada, order: 7}".'))
            continue
        cells, strange_cells = {}, []
        for key, value in item.items:
            word = " ".join(key.text.lower().split())
            headings.setdefault(word, key.span)
            if isinstance(value, Listing) and all(isinstance(part, Scalar) for part in value.items):
                text = ", ".join(part.text for part in value.items if isinstance(part, Scalar))
                cells[word] = TableCell(text, value.span)
            elif not isinstance(value, Scalar):
                fact = f'"{word}" takes one value here'
                strange_cells.append(Problem("wrong-type", value.span, fact, "Write it in one line."))
            elif value.text and not value.blank:
                cells[word] = TableCell(value.text, value.span)
        rows.append(Row(number, cells, item.span, tuple(strange_cells)))
    return BuyerTable(headings, tuple(rows)), tuple(told)


def _empty(span: Span) -> Problem:
    help_ = 'The first line names the columns, such as "name;starts;back squat"; each further line is a buyer.'
    return Problem("empty-file", span, "the roster names no buyer", help_)
