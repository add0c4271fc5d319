"""Rows become orders: the file's own words for a client, one column a tested lift, every problem at its cell."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from builder.intake import understood
from builder.pages.model import Edition, Paper
from builder.work.publish import Choices
from builder.work.roster import Orders, Wishes, orders_of
from builder.work.roster.table import table_of

SHARED = b"""format: 1
client: {units: kg}
training: {status: novice, months: 3, days: [mon], session_minutes: 60}
gym: {bars: {bar: 20}, pairs: {20: 2, 10: 1, 5: 1, 2.5: 1, 1.25: 1}, safeties: true, spotter: always}
"""
BLOCK = b"""format: 1
block: {title: Short, weeks: 1, suits: [novice]}
days:
  - title: Squat
    slots:
      - {movement: back squat, progression: {kind: single, sets: 3, reps: 5, add: 2.5 kg}}
"""
TEXTS = (("shared.yaml", SHARED), ("block.yaml", BLOCK))
HEAD = "name;starts;tested;back squat;order"
GOOD = "Ada Quill;2027-01-11;2027-01-02;60 x 5 rir 2;A-1"


def read(*rows: str, head: str = HEAD, pattern: str = "{name}-{block}", folder: Path = Path()) -> Orders:
    """The orders of a roster in CSV."""
    table, problems = table_of("roster.csv", "\n".join((head, *rows)).encode())
    assert not problems
    wishes = Wishes(Choices(date(2027, 1, 4), Paper.A5, whole=False), pattern)
    return orders_of(table, TEXTS, folder, wishes)


def told(orders: Orders) -> list[str]:
    """The first line of each problem."""
    return [problem.as_text().split("\n")[0] for problem in orders.problems]


def test_a_row_is_the_same_client_as_a_profile_that_says_the_same() -> None:
    """Field by field; the roster adds no meaning of its own."""
    profile = SHARED.replace(b"units: kg", b"name: Ada Quill, units: kg, bodyweight: 62.5").replace(
        b"session_minutes: 60", b"session_minutes: 60, starts: 2027-01-11"
    ) + b"lifts: {back squat: {tests: [{date: 2027-01-02, load: 60, reps: 5, rir: 2}]}}\n"
    orders = read(GOOD + ";62,5", head=HEAD + ";bodyweight")
    assert not orders.problems
    ours = understood((*TEXTS, *orders.good[0].texts)).sources
    theirs = understood((("client.yaml", profile), TEXTS[1])).sources
    assert ours is not None and theirs is not None
    assert ours.client == theirs.client
    assert ours.block == theirs.block


@pytest.mark.parametrize("cell", ["60 x 5", "60 × 5", "60x5", "60 kg x 5 rir 0", '"60,0" x 5'.replace('"', "")])
def test_a_set_is_read_as_people_write_it(cell: str) -> None:
    orders = read(f"Ada;2027-01-11;2027-01-02;{cell};1")
    sources = understood((*TEXTS, *orders.good[0].texts)).sources
    assert sources is not None and sources.client is not None
    (test,) = sources.client.lifts["back squat"].tests
    assert (test.load.number, test.reps, test.rir) == (60, 5, 0)


def test_a_day_with_points_is_the_day_that_a_spreadsheet_made_of_ours() -> None:
    """One with strokes is not guessed at, nor is a year of two digits."""
    (order,) = read("Ada Quill;11.1.2027;02.01.2027;60 x 5;A-1").good
    assert order.starts == "2027-01-11" and b"date: 2027-01-02" in order.texts[-1][1]
    for cell in ("11/1/2027", "11.1.27"):
        assert not read(f"Ada Quill;{cell};02.01.2027;60 x 5;A-1").good


def test_a_cell_that_is_no_address_for_mail_is_told_before_anything_is_sent() -> None:
    (problem,) = told(read(GOOD + ";ada.example.org", head=HEAD + ";mail"))
    assert 'row 1, mail: "ada.example.org" is no address for mail' in problem
    assert read(GOOD + ";ada@example.org", head=HEAD + ";mail").good[0].mail == "ada@example.org"


def test_another_name_of_a_lift_is_that_lift() -> None:
    orders = read(GOOD, head=HEAD.replace("back squat", "Squat"))
    assert not orders.problems
    assert b"back squat:" in orders.good[0].texts[-1][1]


def test_a_row_says_how_it_wants_its_booklet() -> None:
    head = HEAD + ";paper;edition;language;theme;buyer"
    (order,) = read(GOOD + ";letter;LOG;de;ink-saver;Ada Q.", head=head).good
    wish = order.choices
    assert (wish.paper, wish.edition, wish.language, wish.theme) == (Paper.LETTER, Edition.LOG, "de", "ink-saver")
    assert (wish.buyer, wish.order, wish.whole) == ("Ada Q.", "A-1", False)


ROWS = [
    (GOOD.replace("60 x 5", "60 by 5"), 'roster.csv:2:33: error: row 1, back squat: "60 by 5 rir 2" is no tested set'),
    (GOOD.replace("2027-01-11", "11/01/2027"), 'roster.csv:2:11: error: row 1, starts: "11/01/2027" is not a date'),
    (GOOD.replace("2027-01-02", ""), "roster.csv:2:23: error: row 1, back squat: the day of the tests is missing"),
    (GOOD.replace("rir 2", "rir two"), 'roster.csv:2:33: error: row 1, back squat: "two"'),
    (GOOD.replace("x 5", "x 50"), 'roster.csv:2:33: error: row 1, back squat: "50" is out of range'),
    (GOOD.replace("Ada Quill", ""), 'shared.yaml:2:1: error: row 1: "name" is missing'),
    (GOOD.replace("A-1", "A" * 41), "roster.csv:2:46: error: row 1, order: the text has 41 signs"),
]


@pytest.mark.parametrize(("row", "wanted"), ROWS, ids=[wanted.split("error: ")[1] for _, wanted in ROWS])
def test_a_bad_cell_is_told_with_row_and_column(row: str, wanted: str) -> None:
    """One problem a fault, in the words of a profile's own problems."""
    orders = read(row)
    assert orders.bad == 1 and not orders.good
    assert len(orders.problems) == 1, told(orders)
    assert told(orders)[0].startswith(wanted)


def test_all_problems_of_all_rows_are_told_and_good_rows_stay() -> None:
    orders = read(*(row for row, _ in ROWS), GOOD)
    assert (len(orders.good), orders.bad) == (1, len(ROWS))
    assert len(orders.problems) == len(ROWS)


def test_a_problem_of_the_shared_files_is_told_once() -> None:
    table, _ = table_of("roster.csv", "\n".join((HEAD, GOOD, GOOD.replace("Ada", "Bo"))).encode())
    texts = (("shared.yaml", SHARED.replace(b"months: 3", b"months: three")), TEXTS[1])
    orders = orders_of(table, texts, Path(), Wishes(Choices(date(2027, 1, 4))))
    assert orders.bad == 2
    assert len([line for line in told(orders) if "three" in line]) == 1


def test_two_rows_never_share_a_file() -> None:
    orders = read(GOOD, GOOD.replace("A-1", "A-2"))
    assert orders.bad == 2 and not orders.good
    assert told(orders) == ["roster.csv:3:1: error: rows 1, 2 would all be ada-quill-short.pdf [roster-name]"]
    assert [order.file for order in read(GOOD, GOOD.replace("A-1", "A-2"), pattern="{order}").good] == [
        "a-1.pdf",
        "a-2.pdf",
    ]


@pytest.mark.parametrize(
    ("name", "file"),
    [("Søren Ås", "søren-ås"), ("Юлия Орлова", "юлия-орлова"), ("../../etc", "etc"), ("…", ""), ("a/b\\c", "a-b-c")],
)
def test_files_are_named_by_buyers_of_any_script_and_never_lead_out(name: str, file: str) -> None:
    (order,) = read(GOOD.replace("Ada Quill", name)).good
    assert order.file == f"{file}-short.pdf".removeprefix("-")


def test_a_profile_of_its_own_stands_below_the_row(tmp_path: Path) -> None:
    (tmp_path / "ada.yaml").write_bytes(b"format: 1\nclient: {name: Ada Quill, born: 1990}\n")
    head = "profile;starts;tested;back squat"
    (order,) = read("ada.yaml;2027-01-11;2027-01-02;60 x 5", head=head, folder=tmp_path).good
    sources = understood((*TEXTS, *order.texts)).sources
    assert sources is not None and sources.client is not None
    assert (order.name, sources.client.client.born) == ("Ada Quill", 1990)
    bad = read("bo.yaml;2027-01-11;2027-01-02;60 x 5", head=head, folder=tmp_path)
    assert any("row 1, profile" in line and "cannot be read" in line for line in told(bad))


def test_what_a_profile_changes_in_the_shared_block_holds_for_its_row_alone(tmp_path: Path) -> None:
    """Ada squats in front, Bo as the block has it; a change that meets nothing is told at its row."""
    change = b"format: 1\nclient: {name: Ada Quill}\nchanges: [{swap: back squat, to: %s}]\n"
    (tmp_path / "ada.yaml").write_bytes(change % b"front squat")
    (tmp_path / "cay.yaml").write_bytes(change % b"frunt squat")
    rows = ("ada.yaml;;2027-01-11;2027-01-02;60 x 5", ";Bo Reed;2027-01-11;2027-01-02;60 x 5")
    orders = read(*rows, head="profile;name;starts;tested;back squat", folder=tmp_path)
    assert not orders.problems
    trained = [understood((*TEXTS, *order.texts)).sources for order in orders.good]
    assert [s and s.block and s.block.days[0].slots[0].movement for s in trained] == ["front squat", "back squat"]
    bad = read(rows[0].replace("ada", "cay"), head="profile;name;starts;tested;back squat", folder=tmp_path)
    assert ["frunt squat" in line for line in told(bad)] == [True]


def test_an_unknown_column_is_told_with_what_is_near() -> None:
    orders = read(GOOD, head=HEAD.replace("starts", "start"))
    assert ['"start" is no column' in line for line in told(orders)] == [True]
    assert 'Did you mean "starts"?' in orders.problems[0].help
