"""A roster as a coach has it: forty buyers of three scripts from a spreadsheet, ten rows wrong in ten ways."""

from __future__ import annotations

import csv
import io
from datetime import date
from pathlib import Path

import pytest
from roster.test_orders import TEXTS

from builder.pages.model import Paper
from builder.pdf import text_signs
from builder.work.publish import Choices
from builder.work.roster import Orders, Wishes, orders_of
from builder.work.roster.table import table_of

FIRST = ("Ada", "Zoë", "Jürgen", "Łucja", "Юлия", "Богдан", "Фёдор", "Ελένη", "Γιώργος", "Σοφία")
LAST = ("Quill", "Ünal", "Орлова", "Παπαδάκη")
HEAD = ("name", "starts", "tested", "back squat", "bodyweight", "order", "mail")
BUYERS = tuple(f"{first} {last}" for last in LAST for first in FIRST)
ROWS = tuple(
    (name, "2027-01-11", "2027-01-02", f"{60 + number},5 x 5 rir 2", f"{55 + number},3", f"A-{number}",
     f"buyer{number}@shop.example")
    for number, name in enumerate(BUYERS)
)  # fmt: skip


class German(csv.excel):
    """What a spreadsheet in a country of decimal commas writes."""

    delimiter = ";"


DIALECTS: dict[str, tuple[type[csv.Dialect], str]] = {
    "comma": (csv.excel, "utf-8"),
    "comma with a mark": (csv.excel, "utf-8-sig"),
    "semicolon with a mark": (German, "utf-8-sig"),
    "tab": (csv.excel_tab, "utf-8"),
    "every cell in quotes": (csv.unix_dialect, "utf-8"),
}
"""Python's own writer in the dialects of spreadsheets."""
SPREADSHEETS = Path(__file__).parent / "spreadsheets"
"""What LibreOffice Calc wrote; `make.py` there says how."""


def orders(data: bytes) -> Orders:
    table, problems = table_of("buyers.csv", data)
    assert not problems
    return orders_of(table, TEXTS, Path(), Wishes(Choices(date(2027, 1, 4), Paper.A5)))


def written(dialect: type[csv.Dialect], encoding: str, rows: tuple[tuple[str, ...], ...] = ROWS) -> bytes:
    out = io.StringIO(newline="")
    csv.writer(out, dialect).writerows((HEAD, *rows))
    return out.getvalue().encode(encoding)


@pytest.mark.parametrize("name", DIALECTS)
def test_forty_buyers_are_understood_whatever_wrote_the_table(name: str) -> None:
    """No problem, a file for each, named in its own script with the accents composed; every letter has a font."""
    made = orders(written(*DIALECTS[name]))
    assert not made.problems
    assert [one.name for one in made.good] == list(BUYERS) and len({one.file for one in made.good}) == 40
    assert made.good[19].file == "σοφία-ünal-short.pdf" and made.good[24].file == "юлия-орлова-short.pdf"
    assert {ord(letter) for buyer in BUYERS for letter in buyer} <= set(text_signs())
    assert all(b"load: 60.5" in one.texts[-1][1] for one in made.good[:1])


@pytest.mark.parametrize("name", ["comma", "tab", "semicolon", "quoted"])
def test_forty_buyers_are_understood_as_a_spreadsheet_program_wrote_them(name: str) -> None:
    """Whatever it made of days and numbers on the way, each row says what was typed."""
    made = orders((SPREADSHEETS / f"{name}.csv").read_bytes())
    assert not made.problems
    assert [one.texts for one in made.good] == [one.texts for one in orders(written(*DIALECTS["comma"])).good]


def test_what_a_spreadsheet_leaves_open_is_told_with_both_ways_out() -> None:
    made = orders((SPREADSHEETS / "american.csv").read_bytes())
    assert (made.bad, made.good) == (40, ())
    assert made.problems[0].help == "Write 2027-11-01 if the day stands first, 2027-01-11 if the month does."


@pytest.mark.parametrize(("name", "line"), [("code-page", 3), ("unicode", 1)])
def test_another_code_than_utf_8_is_one_problem_that_says_where_to_choose(name: str, line: int) -> None:
    _, (problem,) = table_of("buyers.csv", (SPREADSHEETS / f"{name}.csv").read_bytes())
    assert problem.code == "encoding" and getattr(problem.span, "line", 0) == line
    assert "choose UTF-8" in problem.help


WRONG = (
    ("starts", "11/01/2027", "starts"),
    ("tested", "2027-02-30", "tested"),
    ("back squat", "heavy", "back squat"),
    ("back squat", "60 x 25", "back squat"),
    ("bodyweight", "fifty", "bodyweight"),
    ("name", "A" * 300, "name"),
    ("order", "A" * 41, "order"),
    ("bodyweight", "-3", "bodyweight"),
    ("starts", "9999-99-99", "starts"),
    ("tested", "", "back squat"),
)
"""A column, what stands in it, and the column that is told."""


def test_ten_rows_wrong_in_ten_ways_are_ten_problems_at_their_cells_and_thirty_are_good() -> None:
    bad = [list(row) for row in ROWS]
    for number, (column, text, _) in enumerate(WRONG):
        bad[number * 4][HEAD.index(column)] = text
    made = orders(written(German, "utf-8", tuple(map(tuple, bad))))
    assert (len(made.good), made.bad) == (30, 10)
    told = [(problem.fact.split(":")[0], problem.span) for problem in made.problems]
    assert [where for where, _ in told] == [f"row {n * 4 + 1}, {column}" for n, (*_, column) in enumerate(WRONG)]
    for number, (_, span) in enumerate(told):
        assert span is not None and getattr(span, "line", 0) == number * 4 + 2
    assert all(problem.help for problem in made.problems)
