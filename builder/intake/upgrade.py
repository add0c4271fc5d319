"""Brings a source file of an older format up to ours, before anything is typed; says what to do about any other."""

from __future__ import annotations

import re

from builder.values.formats import SOURCE_FORMAT, Formats
from builder.values.nodes import Mapping, Scalar
from builder.values.problem import Problem, Span

SOURCES: Formats[Mapping] = Formats()
"""A step gets the whole tree of a file, and gives each node that it makes the place of the one that was written."""
assert SOURCES.newest == SOURCE_FORMAT
WRITE = f'Write "format: {SOURCE_FORMAT}".'


def upgraded(tree: Mapping, formats: Formats[Mapping] = SOURCES) -> tuple[Mapping, tuple[Problem, ...]]:
    """The tree of one file in our format. Each file says its own, since another one's may not hide it."""
    given = tree.value("format")
    if given is None:
        start = Span(tree.span.file, 1, 1, 1, tree.span.source if tree.span.line == 1 else "")
        help_ = f'Start the file with "format: {formats.newest}".'
        return tree, (Problem("missing-key", start, '"format" is missing', help_),)
    number = int(given.text) if isinstance(given, Scalar) and re.fullmatch("[0-9]{1,4}", given.text) else 0
    if number > formats.newest:
        fact = f"this file is of format {number}, and this loadleaf reads formats up to {formats.newest}"
        help_ = f'Update loadleaf. Was it a slip, write "format: {formats.newest}".'
        return tree, (Problem("unknown-format", given.span, fact, help_),)
    if number < 1:
        return tree, (Problem("unknown-format", given.span, "this is no format of ours", WRITE),)
    return _marked(formats.upgraded(tree, number), formats.newest), ()


def _marked(tree: Mapping, number: int) -> Mapping:
    """The tree with the number of its new format."""
    items = tuple(
        (key, Scalar(value.span, str(number)) if key.text == "format" else value) for key, value in tree.items
    )
    return Mapping(tree.span, items)


__all__ = ["SOURCES", "upgraded"]
