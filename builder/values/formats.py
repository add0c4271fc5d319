"""The formats of all that is kept in files: their numbers, and the steps that bring an older file up to ours."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Formats(Generic[T]):
    """The formats of one kind of file, counted from 1: each step makes of a tree of one format one of the next.

    A tree is what was parsed and not typed yet, so that models know the newest format only.
    """

    steps: tuple[Callable[[T], T], ...] = ()

    @property
    def newest(self) -> int:
        """The format that is written, and that models know."""
        return len(self.steps) + 1

    def upgraded(self, tree: T, given: int) -> T:
        """A tree of the format `given`, which is one of ours, as one of the newest."""
        for step in self.steps[given - 1 :]:
            tree = step(tree)
        return tree


SOURCE_FORMAT = 1
"""Of clients, blocks, brands and movements, which may stand in one file; `intake.upgrade` has the steps."""
FIRST_LINE = f"format: {SOURCE_FORMAT}"
"""What such a file begins with."""
BOOKLET_FORMAT = 2
"""Of what a booklet says of itself; `log.manifest` has the steps."""
TOLD_FORMAT = 1
"""Of the JSON that commands print for programs."""
