"""The reference by topic, by heading and by the words of its tables."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from builder import places

_TOPIC = re.compile(r"^<!-- topic: (.+) -->$", re.MULTILINE)
_HEADING = re.compile(r"^(#+) (.+)$")
_CODE = re.compile(r"`([^`]+)`")


@dataclass(frozen=True, slots=True)
class HelpSection:
    """A heading with the lines below it, up to the next one of its level or above."""

    title: str
    level: int
    lines: tuple[str, ...]

    @property
    def names(self) -> frozenset[str]:
        """The words that it is asked for by: its title, a key without the colon, a command without its arguments."""
        plain = self.title.replace("`", "").lower()
        words = plain.split()
        return frozenset({plain, plain.rstrip(":"), words[1] if words[0] == "loadleaf" and len(words) > 1 else plain})


@lru_cache(maxsize=1)
def reference() -> str:
    """The whole reference in Markdown."""
    return places.reference().read_text(encoding="utf-8")


@lru_cache(maxsize=1)
def topics() -> dict[str, str]:
    """Each topic with its text."""
    _, *parts = _TOPIC.split(reference())
    return {name: text.strip("\n") + "\n" for name, text in zip(parts[::2], parts[1::2], strict=True)}


def overview() -> str:
    """What stands before the first topic: which there are."""
    return _TOPIC.split(reference())[0]


def found(word: str) -> str:
    """What the reference says under a word: a topic, else sections and rows of tables; "" where there is nothing."""
    word = " ".join(word.lower().strip("`").split())
    if word in topics():
        return topics()[word]
    sections = [section for section in _sections() if word.rstrip(":") in section.names]
    told = "\n\n".join([*("\n".join(section.lines) for section in sections), *_rows(word, sections)])
    near = next((text for name, text in topics().items() if word.rstrip("s") == name.rstrip("s")), "")
    return told or near


def words() -> tuple[str, ...]:
    """Every word that something is found under."""
    named = (name for section in _sections() for name in section.names)
    return tuple(dict.fromkeys([*topics(), *named, *(code for _, code, _, _ in _table_rows())]))


def _sections() -> Iterator[HelpSection]:
    lines = [line for text in topics().values() for line in (*text.split("\n"), "")]
    heads = [(place, found) for place, line in enumerate(lines) if (found := _HEADING.match(line))]
    for number, (place, head) in enumerate(heads):
        end = next((other for other, next_ in heads[number + 1 :] if len(next_[1]) <= len(head[1])), len(lines))
        yield HelpSection(head[2], len(head[1]), tuple(lines[place:end]))


def _rows(word: str, told: list[HelpSection]) -> Iterator[str]:
    """The rows of tables about a word as tables of their own, under their headings; not what was told already."""
    below = {line for section in told for line in section.lines}
    for title, code, head, row in _table_rows():
        if code.lower() == word and row not in below:
            yield "\n".join((f"### {title}", "", *head, row))


def _table_rows() -> Iterator[tuple[str, str, tuple[str, str], str]]:
    """The heading above, each word in code type of the first cell, the head, and the row, of each row of a table."""
    for name, text in topics().items():
        title, head = "", ("", "")
        for before, line in zip(["", *text.split("\n")], text.split("\n"), strict=False):
            if heading := _HEADING.match(line):
                title = heading[2]
            elif line.startswith("|---"):
                head = (before, line)
            elif line.startswith("|") and before.startswith("|") and name != "keys":
                yield from ((title, code, head, line) for code in _CODE.findall(line.split("|")[1]))
