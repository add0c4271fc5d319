"""`loadleaf help`: the reference on the screen by topic, heading, key and code."""

from __future__ import annotations

import re

import pytest
from click.testing import CliRunner, Result

from builder.cli import loadleaf
from builder.cli.commands import COMMANDS
from builder.work import topics
from builder.work.plain import plain


def _help(*words: str) -> Result:
    return CliRunner().invoke(loadleaf, ["help", *words])


def test_without_a_topic_it_tells_which_there_are() -> None:
    said = _help()
    assert said.exit_code == 0
    assert all(f"\n  {name}\n" in said.output for name in topics.topics())


@pytest.mark.parametrize("topic", ["files", "problem", "keys", "kinds", "problems", "JSON", "forms", "trust"])
def test_the_topics_that_people_ask_for_are_there(topic: str) -> None:
    said = _help(topic)
    assert said.exit_code == 0 and len(said.output.splitlines()) > 20


@pytest.mark.parametrize(
    ("word", "told"),
    [
        ("deload", "before_test"),
        ("build", "--from-week"),
        ("top_set", "One set to a target effort"),
        ("share-without-sign", "a share without %"),
        ("deload-none", "more than eight training weeks without a deload"),
        ("spotter", "Whether someone can spot"),
    ],
)
def test_a_key_a_command_a_kind_and_a_code_are_found_by_their_word(word: str, told: str) -> None:
    said = _help(word)
    assert said.exit_code == 0
    assert told in " ".join(said.output.split())


def test_a_word_that_nothing_is_said_of_is_wrong_usage_with_one_near_it() -> None:
    said = _help("delaod")
    assert said.exit_code == 2
    assert 'Did you mean "deload"?' in said.output and "Topics: commands, files," in said.output


@pytest.mark.parametrize("width", [60, 100])
def test_no_line_is_longer_than_the_terminal_and_no_mark_of_the_text_is_left(width: int) -> None:
    for name, text in topics.topics().items():
        without_examples = re.sub(r"^```.*?^```$", "", text, flags=re.MULTILINE | re.DOTALL)
        lines = plain(without_examples, width).splitlines()
        assert [line for line in lines if len(line) > width and " " in line.strip()] == [], name
        assert [line for line in lines if "](#" in line or line.startswith(("|", "<!--", "#"))] == [], name


def test_every_command_is_found_with_its_heading() -> None:
    for name in COMMANDS:
        assert f"loadleaf {name}" in _help(name).output, name
