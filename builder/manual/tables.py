"""Tables of the reference as rows of cells."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

Row = tuple[str, ...]


class MarkdownTable(NamedTuple):
    """A head and rows, as they stand in Markdown."""

    head: Row
    rows: tuple[Row, ...]


def rows_of(lines: Sequence[str]) -> MarkdownTable:
    """The table of these lines, empty without any."""
    cells = [tuple(cell.strip() for cell in line.strip().strip("|").split("|")) for line in lines]
    return MarkdownTable(cells[0], tuple(cells[2:])) if cells else MarkdownTable((), ())


def mark(table: MarkdownTable) -> Iterator[str]:
    """The lines of a table in Markdown; none without rows."""
    if not table.rows:
        return
    yield _line(table.head)
    yield "|" + "---|" * len(table.head)
    yield from (_line(row) for row in table.rows)


def by_word(table: MarkdownTable) -> dict[str, Row]:
    """Each row by the word in code type that its first cell ends with."""
    return {re.findall(r"`([^`]+)`", row[0])[-1]: row for row in table.rows}


def nothing_left(said: Iterable[str], known: Iterable[str], where: str) -> None:
    """ValueError where a sentence is about a word that there is not."""
    if left := set(said) - set(known):
        raise ValueError(f"{where}: said of nothing: {', '.join(sorted(left))}")


def _line(row: Row) -> str:
    return "|" + "".join(f" {cell} |" if cell else " |" for cell in row)


def anchor(title: str) -> str:
    """What a link to a heading is called."""
    return re.sub(r"[^a-z0-9_ -]", "", title.lower()).replace(" ", "-")
