"""What strangers wrote can be looked at in every format, and reads back as what it was where a format promises that."""

from __future__ import annotations

import ast
import csv
import io
import json
import re
from pathlib import Path

import pytest
import yaml
from hypothesis import example, given
from hypothesis import strategies as st

from builder.values.mouth import as_json, as_quoted_yaml, csv_cell, visible

PACKAGE = Path(__file__).parents[2] / "builder"
HOSTILE = "\x1b[2J\x9b31m\x07\u202egnp\u2066\u200f\U000e0041\u00ad\x7f\u2028\ud800"
UNSEEN = re.compile(
    "[\x00-\x1f\x7f-\x9f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\U000e0000-\U000e007f\ud800-\udfff]"
)
"""Controls (C0, C1), and what turns or hides text: Unicode 15, tables of the categories Cc, Cf, Zl, Zp and Cs."""


def undone(cell: str) -> str:
    """The README's rule, written a second time: one apostrophe less before each sign that could begin a formula."""
    return re.sub(r"(^|[;\t|\n\r])([\s\"']*)'(?=[=+\-@＝＋－＠])", r"\1\2", cell)


def test_on_a_terminal_unseen_signs_are_spelled_out() -> None:
    assert visible("\x1b[2J \x9b \u202e \U000e0041 \u00ad") == r"\x1b[2J \x9b \u202e \U000e0041 \xad"
    assert not UNSEEN.search(visible(HOSTILE))
    assert visible("Zoë Ødegård · 102,5 kg × 5 → 木 💪") == "Zoë Ødegård · 102,5 kg × 5 → 木 💪"
    assert visible("a\nb\tc", "\n") == "a\nb\\x09c"


@given(st.text())
@example(HOSTILE)
def test_json_shows_no_unseen_sign_and_reads_back(text: str) -> None:
    told = as_json({"note": [text], text: 1})
    assert not UNSEEN.search(told.replace("\n", ""))
    assert json.loads(told) == {"note": [text], text: 1}


@given(st.text(st.characters(exclude_categories=["Cs"])))
@example(HOSTILE[:-1])
def test_yaml_between_quotes_reads_back(text: str) -> None:
    """As the log writes it: a text with unseen signs stands between double quotes."""
    told = as_quoted_yaml(yaml.safe_dump([text], allow_unicode=True, default_style='"'))
    assert not UNSEEN.search(told.replace("\n", ""))
    assert yaml.safe_load(told) == [text]


FORMULAS = [
    "=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", " =1", "x;=cmd|' /C calc'!A0", 'x;"=1', "x\n=1", "x\r=1", "x|@a",
    "'=1", "''+1", "a;;=1", "＝1",
]  # fmt: skip


@pytest.mark.parametrize("text", FORMULAS)
@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
def test_no_cell_begins_a_formula_wherever_a_spreadsheet_splits(text: str, separator: str) -> None:
    """The file is parted by commas; whoever splits it elsewhere, as many do at ";", still finds no formula.

    A cell is a formula by the sign it begins with: OWASP, "CSV Injection" (from memory).
    """
    line = io.StringIO()
    csv.writer(line, quoting=csv.QUOTE_ALL, lineterminator="\n").writerow(["1", csv_cell(text), "2"])
    for quoting in (csv.QUOTE_MINIMAL, csv.QUOTE_NONE):
        rows = csv.reader(io.StringIO(line.getvalue()), delimiter=separator, quoting=quoting)
        for cell in [cell for row in rows for cell in row]:
            assert not re.match(r"[\s\"]*[=+\-@＝＋－＠]", cell), cell


@given(st.text(st.sampled_from("=+-@'\" ;\n\tab1|,＝")))
def test_the_apostrophes_of_a_cell_can_be_taken_away_again(text: str) -> None:
    assert undone(csv_cell(text)) == text


def test_what_is_plain_stays_plain() -> None:
    for text in ("felt good, 3 - 2 left", "knee ok; slept 8 h", "5 x 5 @ 80", "a=b", "12.5"):
        assert csv_cell(text) == text


def test_only_the_mouth_speaks_to_the_terminal() -> None:
    """No other module writes to the streams, so nothing of strangers gets past it."""
    for path in PACKAGE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call):
                called = ast.unparse(node.func)
                spoken = called in {"print", "click.echo", "click.secho", "traceback.print_exc"}
                assert path.name == "outcome.py" or not (spoken or called.endswith(("stdout.write", "stderr.write")))
