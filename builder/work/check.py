"""Whether files are sound, and what there is to say about the design of the plan that they make."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from builder.intake import Loaded
from builder.plan import make_plan
from builder.review import Finding, review
from builder.values.problem import Problem, stops


@dataclass(frozen=True, slots=True)
class Checked:
    """The problems of the files and the findings of the review; `reviewed` where there was a plan to look at."""

    problems: tuple[Problem, ...]
    findings: tuple[Finding, ...] = ()
    reviewed: bool = False

    @property
    def sound(self) -> bool:
        """Whether a booklet can be built."""
        return not stops(self.problems)


def check(loaded: Loaded, today: date) -> Checked:
    """Reviews the plan of sound sources that hold a client and a block."""
    sources = loaded.sources
    if sources is None or sources.client is None or sources.block is None:
        return Checked(loaded.problems)
    return Checked(loaded.problems, review(make_plan(sources), today), reviewed=True)


__all__ = ["Checked", "check"]
