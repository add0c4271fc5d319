"""`loadleaf check` on a design with much to say: the gravest first, one screen at most, the rest when asked."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli.test_commands import CLIENT, loadleaf

BLOCK = """format: 1
block: {title: Too much, weeks: 14, suits: [advanced], test: {week: 14, lifts: [back squat]}}
days:
  - title: All of it
    slots:
      - {movement: face pull, progression: {kind: double, sets: 12, reps: 12-15, start: 20 kg, add: 10 kg}}
      - {movement: deadlift, rest: 10 s, progression: {kind: single, sets: 12, reps: 5, start: 60 kg, add: 10 kg}}
      - {movement: back squat, rest: 10 s, progression: {kind: single, sets: 12, reps: 5, start: 70 %, add: 12 %}}
"""
GRAVITIES = ("caution", "advice")


@pytest.fixture
def hard(tmp_path: Path) -> tuple[Path, Path]:
    client, block = tmp_path / "client.yaml", tmp_path / "block.yaml"
    client.write_text(CLIENT.replace("safeties: true", "safeties: false"), encoding="utf-8")
    block.write_text(BLOCK, encoding="utf-8")
    return client, block


def _remarks(text: str) -> list[str]:
    return [line.split(":")[0] for line in text.splitlines() if line.startswith(GRAVITIES)]


def test_remarks_fill_one_screen_and_the_last_line_tells_of_the_others(hard: tuple[Path, Path]) -> None:
    found = json.loads(loadleaf("check", *hard, "--json").stdout)["findings"]
    for lines in (24, 40):
        done = loadleaf("check", *hard, LINES=str(lines), COLUMNS="80")
        shown = _remarks(done.stdout)
        folded = sum(max(1, -(-len(line) // 80)) for line in done.stdout.splitlines())
        assert folded < lines
        assert 0 < len(shown) < len(found)
        last = done.stdout.splitlines()[-1]
        assert (
            last == f"No problem found; {len(found)} remarks on the design. {len(found) - len(shown)} more with --all."
        )


def test_all_remarks_are_printed_when_asked_for_the_gravest_first(hard: tuple[Path, Path]) -> None:
    found = json.loads(loadleaf("check", *hard, "--json").stdout)["findings"]
    done = loadleaf("check", *hard, "--all", LINES="24", COLUMNS="80")
    shown = _remarks(done.stdout)
    assert shown == [finding["gravity"] for finding in found]
    assert shown == sorted(shown, key=GRAVITIES.index) and len(set(shown)) > 1
    assert "--all" not in done.stdout


def test_no_caution_is_left_out_on_the_smallest_screen(hard: tuple[Path, Path]) -> None:
    found = json.loads(loadleaf("check", *hard, "--json").stdout)["findings"]
    cautions = [finding for finding in found if finding["gravity"] == "caution"]
    assert _remarks(loadleaf("check", *hard, LINES="3", COLUMNS="40").stdout) == ["caution"] * len(cautions)
    assert cautions
