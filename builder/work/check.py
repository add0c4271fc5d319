"""Whether files are sound, and what there is to say about the design of the plan that they make."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from builder.intake import Loaded
from builder.plan import make_plan
from builder.review import Finding, Gravity, noted, review
from builder.values.problem import Problem, Severity, stops
from builder.work.publish import Choices, tried


@dataclass(frozen=True, slots=True)
class Checked:
    """The problems of the files, the findings of the review, and notes; `reviewed` where there was a plan."""

    problems: tuple[Problem, ...]
    findings: tuple[Finding, ...] = ()
    notes: tuple[Finding, ...] = ()
    reviewed: bool = False

    @property
    def cautions(self) -> tuple[Finding, ...]:
        """The findings about safety."""
        return tuple(one for one in self.findings if one.gravity is Gravity.CAUTION)

    @property
    def sound(self) -> bool:
        """Whether a booklet can be built."""
        return not stops(self.problems)


def check(loaded: Loaded, today: date) -> Checked:
    """Tries what a build needs of sound sources, and reviews the plan of those that hold a client and a block."""
    sources = loaded.sources
    problems = (*loaded.problems, *_tried(loaded, today))
    if sources is None or sources.client is None or sources.block is None:
        return Checked(problems)
    plan = make_plan(sources)
    return Checked(problems, review(plan, today), noted(plan, today), reviewed=True)


def _tried(loaded: Loaded, today: date) -> tuple[Problem, ...]:
    """What else would stop a build; without the typesetter the brand's pages stay untried, and that is said."""
    if loaded.sources is None:
        return ()
    try:
        return tried(loaded, Choices(today))
    except OSError as error:
        # What is said where a library of the system is missing; any other error is a fault of ours.
        if "cannot load library" not in str(error):
            raise
        fact = "the pages that show the brand were not tried, since a library of the typesetter is missing"
        return (Problem("library", None, fact, "Say loadleaf doctor.", Severity.WARNING),)


__all__ = ["Checked", "check"]
