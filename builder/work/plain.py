"""Markdown of the reference as text for a terminal: tables become lists, links their words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from textwrap import wrap

_LINK = re.compile(r"\[([^\]]+)\]\([^)]+\)")
_COMMENT = re.compile(r"^<!-- .* -->$")
_ITEM = re.compile(r"^( *(?:-|\d+\.) )(.*)$")


def plain(text: str, width: int) -> str:
    """The text in lines of at most `width` signs, examples as they stand."""
    return re.sub(r"\n{3,}", "\n\n", "\n".join(_lines(text.strip("\n").split("\n"), width))) + "\n"


def _lines(lines: list[str], width: int) -> Iterator[str]:
    fenced = False
    head: tuple[str, ...] = ()
    for place, line in enumerate(lines):
        if line.startswith("```"):
            fenced = not fenced
        elif fenced:
            yield f"    {line}"
        elif line.startswith("|"):
            below = lines[place + 1] if place + 1 < len(lines) else ""
            if below.startswith("|---"):
                head = _cells(line)
            elif not line.startswith("|---"):
                yield from _row(head, _cells(line), width)
        elif not _COMMENT.match(line):
            yield from _prose(line, width)


def _prose(line: str, width: int) -> Iterator[str]:
    heading, item = re.match(r"^(#+) (.+)$", line), _ITEM.match(line)
    if heading:
        title = _words(heading[2])
        yield from ("", title, ("=" if len(heading[1]) < 3 else "-") * len(title))
    elif item:
        yield from wrap(_words(item[2]), width, initial_indent=item[1], subsequent_indent=" " * len(item[1]))
    else:
        yield from wrap(_words(line), width) or [""]


def _row(head: tuple[str, ...], cells: tuple[str, ...], width: int) -> Iterator[str]:
    """A row as an entry of a list: its first cell, then the others, named where there are several."""
    yield from wrap(cells[0], width, initial_indent="  ", subsequent_indent="    ")
    for number, cell in enumerate(cells[1:], 1):
        name = f"{head[number]}: " if number > 1 and number < len(head) else ""
        if cell:
            yield from wrap(name + cell, width, initial_indent="      ", subsequent_indent="        ")


def _cells(line: str) -> tuple[str, ...]:
    return tuple(_words(cell.strip()) for cell in re.split(r"(?<!\\)\|", line.strip().strip("|")))


def _words(text: str) -> str:
    return _LINK.sub(r"\1", text).replace("**", "").replace("`", "").replace("\\|", "|")
