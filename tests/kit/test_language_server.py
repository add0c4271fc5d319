"""An editor with a language server completes, explains and checks the files of a new folder, by the schemas in it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from click.testing import CliRunner
from kit.server import ABSENT, Editor

from builder.cli.start import start
from builder.given.progressions import PROGRESSIONS

pytestmark = pytest.mark.skipif(bool(ABSENT), reason=ABSENT)
BLOCK = """# yaml-language-server: $schema=schemas/block.json
format: 1
block: {title: A, weeks: 4, suits: [novice]}
days:
  - title: A
    slots:
      - movement: back squat
        progression:
          kind: single
          reps: 5
          add: 2.5 kg
        %s
"""


@pytest.fixture(scope="module")
def editor(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Editor]:
    folder = tmp_path_factory.mktemp("kit") / "mine"
    assert CliRunner().invoke(start, [str(folder)]).exit_code == 0
    with Editor(folder) as opened:
        yield opened


def test_the_files_of_a_new_folder_have_nothing_against_them(editor: Editor) -> None:
    for name in ("client.yaml", "block.yaml", "brand.yaml"):
        assert editor.opened(name, (editor.folder / name).read_text("utf-8")) == []


def test_keys_are_offered_where_they_may_stand(editor: Editor) -> None:
    assert editor.opened("a.yaml", BLOCK % "re")
    offered = editor.offered("a.yaml", 11, 10)
    assert {"rest", "ratio", "cues"} <= offered
    assert not {"movement", "progression", "days", "reps"} & offered


def test_movements_and_kinds_are_offered_by_name(editor: Editor) -> None:
    empty = BLOCK.split("back squat")[0] + "\n        progression:\n          kind: \n"
    assert editor.opened("b.yaml", empty)
    assert {"back squat", "deadlift", "pull-up"} <= editor.offered("b.yaml", 6, 18)
    assert editor.offered("b.yaml", 8, 16) == {*PROGRESSIONS}


def test_each_kind_is_offered_its_own_keys(editor: Editor) -> None:
    text = (BLOCK % "rest: 3 min").replace("          add: 2.5 kg", "          add: 2.5 kg\n          m")
    assert editor.opened("c.yaml", text)
    offered = editor.offered("c.yaml", 11, 11)
    assert "misses" in offered and "backoff" not in offered


def test_a_word_is_explained_with_an_example_and_what_holds_without_it(editor: Editor) -> None:
    assert editor.opened("d.yaml", BLOCK % "rest: 3 min") == []
    shown = editor.hover("d.yaml", 11, 9)
    for part in ("The rest between the working sets.", "90 s or 3 min", "Without it: by the load.", "Example"):
        assert part in shown


def test_a_number_without_its_sign_is_underlined(editor: Editor) -> None:
    assert editor.opened("e.yaml", BLOCK % "rest: 180") == ['Incorrect type. Expected "string".']
    assert editor.opened("f.yaml", BLOCK % "resst: 3 min") == ["Property resst is not allowed."]
