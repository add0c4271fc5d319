"""What is otherwise for one client than in the shared block, told as notes of the plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from builder.given import ChangeMade
from builder.plan.model import Fact, Reason, because


def told_changes(made: Iterable[ChangeMade]) -> Iterator[Reason]:
    """Each change with its days and weeks, then why it was made where the coach says so."""
    for one in made:
        facts: dict[str, Fact] = {"movement": one.movement}
        if one.by:
            facts["by"] = one.by
        facts["days"] = ", ".join(one.days)
        when = ""
        if one.weeks is not None and one.weeks.low == one.weeks.high:
            when, facts["week"] = "-week", one.weeks.low
        elif one.weeks is not None:
            when, facts["first"], facts["last"] = "-weeks", one.weeks.low, one.weeks.high
        yield because(f"changed-{one.verb}{when}", **facts)
        if one.why:
            yield because("changed-why", said=one.why)


__all__ = ["told_changes"]
