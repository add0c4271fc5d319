"""Attributes of other people's classes and modules, replaced for a while."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

_ABSENT = object()


@contextmanager
def replaced(owner: Any, changes: Mapping[str, Any]) -> Iterator[None]:
    """`owner` with other attributes while this lasts; afterwards it is as it was."""
    usual = {name: vars(owner).get(name, _ABSENT) for name in changes}
    for name, value in changes.items():
        setattr(owner, name, value)
    try:
        yield
    finally:
        for name, value in usual.items():
            if value is _ABSENT:
                delattr(owner, name)
            else:
                setattr(owner, name, value)
