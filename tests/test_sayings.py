"""The sheet of what coaches say: every writing in it is taken as it stands."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from sources_for_tests import CLIENT, block, client, problems_of, squat

README = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
ROW = re.compile(r"^\| (.+?) \| (`progression:`|slot|`block:`|client) \| `([^`]+)` \|$", re.MULTILINE)
SAID = ROW.findall(README.split("<!-- table: as it is said -->")[1].split("\n\n")[0])
FIVES = squat("kind: single, reps: 5, add: 2.5 kg")


def test_there_are_thirty_of_them() -> None:
    """And no row that the check below would pass over."""
    table = README.split("<!-- table: as it is said -->")[1].split("\n\n")[0]
    assert len(SAID) == table.count("\n| ") - 1 >= 30


@pytest.mark.parametrize(("said", "where", "written"), SAID, ids=[said for said, _, _ in SAID])
def test_it_is_taken_as_it_is_written(said: str, where: str, written: str) -> None:
    """Without a problem, in the place that the sheet names."""
    texts = {
        "`progression:`": (CLIENT, block(squat(written))),
        "slot": (CLIENT, block(written)),
        "`block:`": (CLIENT, block(FIVES, head=written)),
        "client": (client(screening=written + "\n"), block(FIVES)),
    }[where]
    assert [problem.as_text() for problem in problems_of(*texts)] == []
