"""The plan with the reasons for each load, told in words and as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from builder.given import Sources
from builder.pages.explain import plan_json, plan_text
from builder.plan import Plan, make_plan
from builder.words import Words
from builder.work.texts import DEFAULT_LANGUAGE, load_words


@dataclass(frozen=True, slots=True)
class Explained:
    """A plan with the words that it is told in."""

    plan: Plan
    words: Words

    def as_text(self, week: int | None = None, day: int | None = None) -> Iterator[str]:
        """Lines for every session, or for those of one week or one day of the week."""
        return plan_text(self.plan, self.words, week, day)

    def as_json(self) -> dict[str, Any]:
        """The whole plan as JSON values."""
        return plan_json(self.plan, self.words)


def explain(sources: Sources, language: str | None = None) -> Explained:
    """The plan of a client and a block, told in `language`, in that of the brand, or in English."""
    plan = make_plan(sources)
    own = sources.brand.language if sources.brand else None
    return Explained(plan, load_words(language or own or DEFAULT_LANGUAGE, plan.unit, rated=sources.rated))


__all__ = ["Explained", "explain"]
