"""Attributes of other people's classes and modules, replaced for a while.

From outside, since the typesetter has no places for what is put in. Each short cut has a test that compares it with
the typesetter alone and fails when the inside that it relies on moves.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

_ABSENT = object()


class MissingPart(Exception):
    """What was to be replaced is not there: the other people's code has moved on."""


@contextmanager
def replaced(owner: Any, changes: Mapping[str, Any], added: Mapping[str, Any] | None = None) -> Iterator[None]:
    """`owner` with other attributes, and with `added` ones that it lacks, while this lasts; then as it was."""
    # Looked for before anything is replaced, so that a typesetter with another inside is left as it was.
    if absent := [name for name in changes if not hasattr(owner, name)]:
        raise MissingPart(f"{getattr(owner, '__module__', owner.__name__)} has no {absent[0]}")
    every = {**changes, **(added or {})}
    # What a class inherits is no attribute of its own: it is taken away again at the end. Written down in the class, it
    # would stay there and hide the class above.
    usual = {name: vars(owner).get(name, _ABSENT) for name in every}
    for name, value in every.items():
        setattr(owner, name, value)
    try:
        yield
    finally:
        for name, value in usual.items():
            if value is _ABSENT:
                delattr(owner, name)
            else:
                setattr(owner, name, value)
