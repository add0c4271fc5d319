"""The topics in their order, each with its tables filled in, as one linked text."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from builder import places
from builder.manual.codes import looks, movements, remarks
from builder.manual.commands import COMMANDS, options, shared
from builder.manual.keys import MODELS, index, keys
from builder.manual.tables import MarkdownTable, anchor, mark, rows_of

PLACE = places.reference()
SAID = places.PACKAGE / "manual" / "said"
TOPICS = {
    "commands": "Every command with its options, and the exit codes.",
    "files": "How the files are written: values, units, dates, and how files are laid over each other.",
    "client": "The profile of a lifter: numbers, days, gym, limits.",
    "block": "The rules of a block: weeks, deload, taper, test, days and slots.",
    "kinds": "The kinds of progression, with an example each.",
    "sayings": "What coaches say, and how it is written.",
    "brand": "Name, colours, logo, legal texts and pages of the coach's own.",
    "movements": "The built-in movements, and how to add more.",
    "loads": "How every load comes about, from the tested set to the plates.",
    "keys": "Every key of every file, and where it stands.",
    "problems": "The codes of what is wrong in files.",
    "remarks": "The codes of the design review, with the way out and the source of each.",
    "json": "The plan as JSON.",
    "scripts": "How Python scripts call the same work.",
    "log": "How a filled booklet is read, and what it adds up to.",
    "inside": "Which files and facts travel inside a PDF.",
    "forms": "The names of the form fields.",
    "looks": "Themes, papers, layouts, editions and languages.",
    "pages": "What the pages of a booklet are, in order.",
    "printing": "How to print, fold and send to a print shop.",
    "machines": "How it is installed on Linux, macOS, Windows and in a container.",
    "trust": "What is promised about safety of files, limits, and how it is tried.",
}
_MARK = re.compile(r"^<!-- (keys|command|index|table): (.+) -->$")


def composed() -> str:
    """The whole reference; ValueError where a sentence is about nothing, or a key or option has none."""
    parts = [_head(), *(f"<!-- topic: {name} -->\n{_filled(name)}" for name in TOPICS)]
    return "\n".join(parts)


def with_shared(readme: str) -> str:
    """The README with each table that it marks as the reference has it."""
    lines = iter(readme.split("\n"))
    whole = composed()
    return "\n".join(line for above in lines for line in _shared(above, lines, whole))


def _shared(line: str, below: Iterator[str], whole: str) -> Iterator[str]:
    """A line; after a mark the rows of the reference, in place of those that stand there."""
    yield line
    if _MARK.match(line):
        yield from whole.split(f"{line}\n", 1)[1].split("\n\n", 1)[0].split("\n")
        after = next((other for other in below if not other.startswith("|")), None)
        yield from () if after is None else (after,)


def _head() -> str:
    lines = ["# The reference", "", "Each part is printed by `loadleaf help` and its topic.", "", "| topic | about |",
             "|---|---|"]  # fmt: skip
    titles = {name: _said(name).split("\n", 1)[0].lstrip("# ") for name in TOPICS}
    lines += [f"| [`{name}`](#{anchor(titles[name])}) | {about} |" for name, about in TOPICS.items()]
    return "\n".join(["<!-- Made by: python -m builder.manual -->", *lines, ""])


def _said(name: str) -> str:
    return (SAID / f"{name}.md").read_text(encoding="utf-8")


def _filled(name: str) -> str:
    """A topic with each table that the code knows filled in."""
    return "\n".join(_with_tables(_said(name))) + "\n"


def _with_tables(text: str) -> Iterator[str]:
    lines = iter(text.rstrip("\n").split("\n"))
    for line in lines:
        yield line
        found = _MARK.match(line)
        if found and (make := _maker(found[1], found[2])):
            below: list[str] = []
            for row in lines:
                if not row.startswith("|"):
                    yield from mark(make(rows_of(below)))
                    yield row
                    break
                below.append(row)
            else:
                yield from mark(make(rows_of(below)))


def _maker(kind: str, name: str) -> Callable[[MarkdownTable], MarkdownTable] | None:
    """What fills in the table below a mark; None for one that is all said."""
    if kind == "keys":
        return lambda said: keys(MODELS[name], said)
    if kind == "command":
        return lambda said: options(name, COMMANDS[name], said)
    if kind == "index":
        return lambda _below: index(_said(topic) for topic in TOPICS)
    return _TABLES.get(name)


_TABLES: dict[str, Callable[[MarkdownTable], MarkdownTable]] = {
    "review codes": remarks,
    "built-in movements": movements,
    "looks": looks,
    "shared options": shared,
}
