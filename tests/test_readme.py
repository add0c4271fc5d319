"""The README: short, with pictures of what is made now, and two small files that make a booklet."""

from __future__ import annotations

import importlib.util
import re
from datetime import date
from pathlib import Path
from types import ModuleType

import pytest

from builder.intake.load import library
from builder.manual.commands import COMMANDS
from builder.plan import make_plan
from builder.review import review
from builder.work.roster.table import table_of
from builder.work.roster.written import strange_headings

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
MOST_BYTES = 25_000


@pytest.fixture(scope="module")
def pictures() -> ModuleType:
    """The script that draws the pictures."""
    spec = importlib.util.spec_from_file_location("pictures", ROOT / ".ci" / "pictures.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_readme_is_short() -> None:
    assert len(README.encode()) <= MOST_BYTES


def test_the_pictures_show_what_the_pages_say_now(pictures: ModuleType) -> None:
    """By their text, since no two programs draw the same dots."""
    texts = pictures.texts()
    assert set(re.findall(r"samples/pictures/([\w-]+\.png)", README)) == set(texts)
    assert {path.name for path in pictures.PICTURES.glob("*.png")} == set(texts)
    for name, text in texts.items():
        kept = (pictures.PICTURES / name).with_suffix(".txt").read_text(encoding="utf-8")
        assert text == kept, f"{name} is of other pages: say .venv/bin/python .ci/pictures.py"


def test_the_two_files_of_the_readme_are_twelve_and_fifteen_lines_and_need_no_remark(
    pictures: ModuleType, tmp_path: Path
) -> None:
    loaded = pictures.files(tmp_path)["twelve lines"]
    assert loaded.problems == ()
    assert [len((tmp_path / f"{kind}.yaml").read_text().splitlines()) for kind in ("client", "block")] == [12, 15]
    assert review(make_plan(loaded.sources), date(2027, 1, 4)) == ()


def test_the_roster_of_the_readme_is_one() -> None:
    (text,) = re.findall(r"```csv buyers\n(.*?)```", README, re.DOTALL)
    table, problems = table_of("buyers.csv", re.sub(r"^ +", "", text, flags=re.MULTILINE).encode())
    assert not problems and not [*strange_headings(table.headings, library())]
    assert list(table.rows[0].cells) == ["profile", "starts", "order", "mail"]


def test_every_command_that_the_readme_shows_is_one_of_ours() -> None:
    shown = set(re.findall(r"`loadleaf ([a-z]+)", README))
    assert len(shown) > 10 and shown <= set(COMMANDS)
