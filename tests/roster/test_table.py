"""Rosters are read as spreadsheets write them, and every cell keeps its place."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.work.roster.table import MOST_ROWS, TableCell, table_of


def texts(data: str | bytes, name: str = "roster.csv") -> list[dict[str, str]]:
    """What each row says by heading."""
    table, problems = table_of(name, data if isinstance(data, bytes) else data.encode())
    assert not problems, [problem.as_text() for problem in problems]
    return [{heading: cell.text for heading, cell in row.cells.items()} for row in table.rows]


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig"])
@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_any_spreadsheet_s_csv_reads_alike(separator: str, encoding: str, ends: str) -> None:
    """Separators, the mark in front that some programs write, and line ends."""
    lines = [separator.join(("Name", "Back  Squat")), separator.join(("Zoë", "82.5 x 5")), separator * 1]
    assert texts(ends.join(lines).encode(encoding)) == [{"name": "Zoë", "back squat": "82.5 x 5"}]


def test_a_blank_line_is_no_buyer_and_a_blank_cell_says_nothing() -> None:
    assert texts("\nname;order\n\nAda;\n;\n ; \nBo;7\n") == [{"name": "Ada"}, {"name": "Bo", "order": "7"}]


signs = st.text(st.characters(exclude_categories=("C", "Z")) | st.sampled_from(' ,;"\n'), max_size=12)


@given(st.lists(st.tuples(signs, signs), min_size=1, max_size=6), st.sampled_from(",;\t"))
def test_what_the_csv_library_writes_is_read_back_with_its_place(rows: list[tuple[str, str]], separator: str) -> None:
    """RFC 4180 by Python's own writer; the place of a cell is where its text, or its quote, stands in the file."""
    out = io.StringIO()
    csv.writer(out, delimiter=separator, lineterminator="\n").writerows([("name", "order"), *rows])
    written = out.getvalue()
    table, problems = table_of("roster.csv", written.encode())
    wanted = [{k: v.strip() for k, v in zip(("name", "order"), row, strict=True) if v.strip()} for row in rows]
    wanted = [row for row in wanted if row]
    assert [{k: c.text for k, c in row.cells.items()} for row in table.rows] == wanted
    assert bool(problems) == (not wanted)
    for cell in (cell for row in table.rows for cell in row.cells.values()):
        assert stands_at(written, cell, separator), (written, cell)


def stands_at(written: str, cell: TableCell, separator: str) -> bool:
    """Whether a cell begins where its place says: at the start of the line or behind a separator."""
    line = written.split("\n")[cell.span.line - 1]
    before, after = line[: cell.span.column - 1], line[cell.span.column - 1 :]
    begins = before == "" or before[-1] == separator
    return begins and after.lstrip(' "').startswith(cell.text.split("\n")[0][:1].replace('"', ""))


def test_yaml_says_the_same_as_csv() -> None:
    """A list is written as its parts."""
    rows = "format: 1\nroster:\n  - {name: Ada, days: [mon, fri], order: 7}\n  - {name: Bo, order: ''}\n"
    assert texts(rows, "roster.yaml") == [{"name": "Ada", "days": "mon, fri", "order": "7"}, {"name": "Bo"}]


@pytest.mark.parametrize(
    ("data", "code", "line", "column"),
    [
        (b"", "empty-file", 1, 1),
        (b"name;order\n", "empty-file", 1, 1),
        (b"name;Name\nAda;Bo\n", "duplicate-key", 1, 6),
        (b"\xff\xfen\x00", "encoding", 1, 1),
        (b"name\nZo\xeb\n", "encoding", 2, 3),
        (b"name\nA\x1bda\n", "control-sign", 2, 2),
        (b"name\n" + b"Ada\n" * (MOST_ROWS + 1), "too-large", 1, 1),
    ],
)
def test_a_file_that_is_no_roster_is_one_problem_with_its_place(data: bytes, code: str, line: int, column: int) -> None:
    _, (problem,) = table_of("roster.csv", data)
    assert problem.code == code
    assert problem.span is not None
    assert problem.as_text().startswith(f"roster.csv:{line}:{column}: error:")


def test_a_cell_without_a_heading_is_a_problem_of_its_row_alone() -> None:
    table, problems = table_of("roster.csv", b"name;order\nAda;7;stray\nBo;8\n")
    assert not problems
    assert [[problem.code for problem in row.problems] for row in table.rows] == [["roster-column"], []]
