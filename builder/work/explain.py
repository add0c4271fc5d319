"""The plan with the reasons for each load, told in words and as JSON."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from builder.given import Sources
from builder.intake import Loaded, understood
from builder.pages.explain import against_text, brief_text, lift_text, plan_json, plan_text
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

    def brief(self, width: int) -> Iterator[str]:
        """The lifts down and the weeks across, in lines of at most about `width` signs."""
        return brief_text(self.plan, self.words, width)

    def lift(self, movement: str) -> Iterator[str]:
        """One lift, session by session."""
        return lift_text(self.plan, self.words, movement)

    def against(self, other: Plan) -> Iterator[str]:
        """What differs from another plan."""
        return against_text(self.plan, other, self.words)

    def as_json(self) -> dict[str, Any]:
        """The whole plan as JSON values."""
        return plan_json(self.plan, self.words)


def explain(sources: Sources, language: str | None = None) -> Explained:
    """The plan of a client and a block, told in `language`, in that of the brand, or in English."""
    plan = make_plan(sources)
    own = sources.brand.language if sources.brand else None
    return Explained(plan, load_words(language or own or DEFAULT_LANGUAGE, plan.unit, rated=sources.rated))


def beside(loaded: Loaded, other: Loaded) -> Loaded:
    """The other sources made whole: where they lack the client or the block, that of `loaded` is taken."""
    if other.sources is None or loaded.sources is None:
        return other
    lacking = [kind for kind in ("client", "block") if getattr(other.sources, kind) is None]
    # Whole files are lent, since a file is what is laid over others and told of in problems.
    lent = [text for text in loaded.texts if any(re.search(rf"(?m)^{kind}:".encode(), text[1]) for kind in lacking)]
    return understood([*lent, *other.texts])


__all__ = ["Explained", "beside", "explain"]
