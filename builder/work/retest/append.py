"""Adds sets of a lift to the text of a profile and proves that nothing else changed; pure, text to text.

The file is the coach's own. Read and written anew it would lose remarks, order and spelling, so text is put into its
text, and the result is read to prove that nothing else became of it.
"""

from __future__ import annotations

import codecs
from collections.abc import Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

from builder.intake.compose import compose
from builder.intake.merge import as_data
from builder.intake.reader import decode
from builder.values.nodes import Mapping as Tree
from builder.values.problem import Problem, Span
from builder.work.retest.places import TextPlace, column, line_break, line_end, line_start, placed
from builder.work.retest.written import Value, block, flow, scalar

STEP = 2
"""Spaces of a level where the file shows none."""


@dataclass(frozen=True, slots=True)
class Addition:
    """Something to write in at one place of a text."""

    at: int
    text: str


class NoPlaceError(Exception):
    """The text has no place where something can be added without changing what is there."""


@dataclass(frozen=True, slots=True)
class Growth:
    """What comes below a list of a lift: what the profile calls it, the list's key, and the new entries."""

    word: str
    key: str
    entries: tuple[Mapping[str, Value], ...]

    @property
    def way(self) -> tuple[str, ...]:
        """The keys that lead to the list."""
        return "lifts", self.word, self.key


def append(data: bytes, file: str, new: Growth) -> tuple[bytes, tuple[Problem, ...]]:
    """The bytes of a profile with more entries in a list of one lift, and no other difference.

    `data` must be sound. Every byte of it is kept in its order. Where the layout leaves no place, or the text would
    read as anything else than the old one with the entries, the old bytes are given back with a problem.
    """
    mark = codecs.BOM_UTF8 if data.startswith(codecs.BOM_UTF8) else b""
    # The parser tells places without the mark, so it is taken off and put back.
    text = data[len(mark) :].decode("utf-8")
    try:
        added = _written(text, additions(text, new))
    except NoPlaceError:
        return data, (_no_place(file, new),)
    made = mark + added.encode("utf-8")
    # Text is put into text by its layout, and YAML has more layouts than anybody thinks of: so no result is trusted
    # before it was read again.
    if not _proved(data, made, file, new):
        return data, (_no_place(file, new),)
    return made, ()


def additions(text: str, new: Growth) -> tuple[Addition, ...]:
    """What is to be written where, in the order of the text.

    NoPlaceError where a part of the way is neither a list, a mapping nor blank.
    """
    node, key, above = placed(text), None, None
    way = list(new.way)
    while way and node.kind == "mapping" and (found := node.entry(way[0])):
        above, (key, node) = node, found
        way.pop(0)
    rest = _nested(way, list(new.entries))
    if node.kind == "list" and not way:
        return _to_flow(text, node, [flow(one) for one in new.entries]) if node.flow else _to_list(text, node, new)
    if node.kind == "mapping" and way:
        if node.flow:
            assert isinstance(rest, Mapping)
            return _to_flow(text, node, [f"{scalar(way[0])}: {flow(rest[way[0]])}"])
        return _to_mapping(text, node, rest)
    if node.blank and key is not None and above is not None:
        return (Addition(node.end, " " + flow(rest)),) if above.flow else _below(text, key, node, rest)
    raise NoPlaceError


def _nested(way: Sequence[str], inner: Value) -> Value:
    for key in reversed(way):
        inner = {key: inner}
    return inner


def _written(text: str, new: Sequence[Addition]) -> str:
    # From the end, so that the places before stay right.
    for one in reversed(new):
        text = text[: one.at] + one.text + text[one.at :]
    return text


# Lists and mappings in brackets


def _to_flow(text: str, node: TextPlace, pieces: Sequence[str]) -> tuple[Addition, ...]:
    """Behind the last part; each on a line of its own where that has one."""
    if not node.items:
        inside = text.index("{" if node.kind == "mapping" else "[", node.start) + 1
        # A remark needs a space before it, or it is text.
        return (Addition(inside, ", ".join(pieces) + (" " if text[inside] == "#" else "")),)
    key, last = node.items[-1]
    first = (key or last).start
    indent = text[line_start(text, first) : first]
    if indent.strip():
        return (Addition(last.end, "".join(f", {piece}" for piece in pieces)),)
    below = ",".join(line_break(text) + indent + piece for piece in pieces)
    end = line_end(text, last.end)
    if end >= node.end:
        return (Addition(last.end, f",{below}"),)
    if text[last.end : end].lstrip().startswith(","):
        return (Addition(end, f"{below},"),)
    # The comma right behind the last part, the new lines behind a remark on it.
    return (Addition(last.end, ","), Addition(end, below))


# Lists and mappings by indentation


def _to_list(text: str, node: TextPlace, new: Growth) -> tuple[Addition, ...]:
    """Below the last entry, in its manner: in one line, or one key a line."""
    last = node.items[-1][1]
    dash = _dash(text, last.start)
    indent, gap = " " * column(text, dash), text[dash + 1 : last.start]
    gap = gap if gap and not gap.strip(" ") else " "
    if last.kind == "mapping" and not last.flow:
        lines = [line for entry in new.entries for line in _keys(entry, indent, gap)]
    else:
        lines = [indent + "-" + gap + flow(entry) for entry in new.entries]
    return (_lines(text, last.end, lines),)


def _keys(entry: Mapping[str, Value], indent: str, gap: str) -> list[str]:
    """One entry as lines, a key on each."""
    lines = [f"{scalar(key)}: {flow(value)}" for key, value in entry.items()]
    return [indent + ("-" + gap if not place else " " * (1 + len(gap))) + line for place, line in enumerate(lines)]


def _to_mapping(text: str, node: TextPlace, rest: Value) -> tuple[Addition, ...]:
    indent = column(text, (node.items[0][0] or node).start)
    return (_lines(text, node.end, block(rest, indent, _step(node, indent, text))),)


def _below(text: str, key: TextPlace, blank: TextPlace, rest: Value) -> tuple[Addition, ...]:
    """Under a key that nothing stands after."""
    return (_lines(text, blank.end, block(rest, column(text, key.start) + STEP, STEP)),)


def _lines(text: str, after: int, lines: Sequence[str]) -> Addition:
    """Whole lines below the line of a place, so that a remark on it stays where it is."""
    new = line_break(text)
    return Addition(line_end(text, after), new + new.join(lines))


def _dash(text: str, start: int) -> int:
    before = text[:start].rstrip()
    if not before.endswith("-"):
        raise NoPlaceError
    return len(before) - 1


def _step(node: TextPlace, indent: int, text: str) -> int:
    """By how much the parts of a mapping are indented, as its first nested one shows."""
    for _, value in node.items:
        if value.kind == "mapping" and not value.flow:
            return max(column(text, (value.items[0][0] or value).start) - indent, 1)
    return STEP


# The proof


def _proved(old: bytes, made: bytes, file: str, new: Growth) -> bool:
    before, after = _tree(old, file), _tree(made, file)
    if before is None or after is None:
        return False
    expected = deepcopy(as_data(before))
    known = expected.setdefault("lifts", {}).setdefault(new.word, {}).setdefault(new.key, [])
    known.extend(as_plain(entry) for entry in new.entries)
    return bool(as_data(after) == expected)


def _tree(data: bytes, file: str) -> Tree | None:
    text, unreadable = decode(data, file)
    if unreadable:
        return None
    tree, broken = compose(text, file)
    return tree if isinstance(tree, Tree) and not broken else None


def as_plain(value: Value) -> Any:
    """A value as the reader gives it: dicts, lists and texts."""
    if isinstance(value, str):
        return value
    if isinstance(value, Mapping):
        return {key: as_plain(part) for key, part in value.items()}
    return [as_plain(part) for part in value]


def _no_place(file: str, new: Growth) -> Problem:
    what = "a test" if new.key == "tests" else "a set"
    fact = f'the way "{new.word}" is written in {file} leaves no place where {what} can be added by itself'
    first, *more = (f'"- {flow(entry)}"' for entry in new.entries)
    others = f" and {len(more)} more" if more else ""
    return Problem("no-place", Span(file, 1, 1), fact, f'Add it under "{new.key}:" by hand: {first}{others}.')
