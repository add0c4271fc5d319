"""A source that is written for somebody line by line, so that a problem in it is told where it came from."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, replace

from builder.values.problem import Cell, Problem, Span

MOST_NAME = 80
"""Signs of a file name, so that its bytes fit any file system."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line with the place that it came from."""

    text: str
    place: Span | Cell


@dataclass(frozen=True, slots=True)
class Written:
    """The text of a file called `name`, with the place that each line came from."""

    name: str
    text: str
    places: tuple[Span | Cell, ...]

    def owns(self, problem: Problem) -> bool:
        """Whether a problem stands in this text."""
        return isinstance(problem.span, Span) and problem.span.file == self.name

    def placed(self, problem: Problem) -> Problem:
        """A problem of the text as one of the place that it came from."""
        at = problem.span
        if not isinstance(at, Span) or not self.owns(problem):
            return problem
        return replace(problem, span=self.places[min(at.line, len(self.places)) - 1])


def file_stem(text: str) -> str:
    """A file name without its ending, with the letters of any script, since people are told apart by their names."""
    plain = re.sub(r"[\W_]+", "-", unicodedata.normalize("NFC", text).lower()).strip("-")
    return plain[:MOST_NAME] or "nobody"
