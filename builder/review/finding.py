"""A finding is what a coach would say of a finished plan: a fact, the norm behind it, and a way out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from builder.training.norms import COMMON_PRACTICE


class Gravity(StrEnum):
    """A caution is about safety, advice about how well the plan trains, a note tells what the plan did."""

    CAUTION = "caution"
    ADVICE = "advice"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Finding:
    """One rule that is met: `place` is where most ("" for the whole plan), `more` in how many places besides."""

    code: str
    fact: str
    source: str
    help: str
    place: str = ""
    gravity: Gravity = Gravity.ADVICE
    more: int = 0

    def as_text(self, number: int | None = None) -> str:
        """The fact with its place, then the way out with the number of the source in a list."""
        where = f"{self.place}: " if self.place else ""
        cited = f" ({number})" if number is not None else ""
        return f"{self.gravity}: {where}{self.fact}{self._others()} [{self.code}]\n  {self.help}{cited}"

    def as_json(self) -> dict[str, object]:
        """The same facts for a program."""
        return {
            "code": self.code,
            "gravity": str(self.gravity),
            "place": self.place,
            "more": self.more,
            "fact": self.fact,
            "help": self.help,
            "source": self.source,
        }

    def _others(self) -> str:
        return f"; {self.more} more like it" if self.more else ""


def told(findings: Iterable[Finding]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Each finding as text, and the sources that they number, each once."""
    every = list(findings)
    sources = list(dict.fromkeys(finding.source for finding in every))
    texts = tuple(finding.as_text(sources.index(finding.source) + 1) for finding in every)
    return texts, tuple(f"({number}) {source}" for number, source in enumerate(sources, 1))


@dataclass(frozen=True, slots=True)
class Hit:
    """One place where a rule is met, and how far (`size`, in any unit that compares)."""

    place: str
    fact: str
    size: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class Rule:
    """What all findings of one code share."""

    code: str
    help: str
    source: str = COMMON_PRACTICE
    gravity: Gravity = Gravity.ADVICE

    def at(self, place: str, fact: str, more: int = 0) -> Finding:
        """The finding for one place."""
        return Finding(self.code, fact, self.source, self.help, place, self.gravity, more)

    def once(self, hits: Iterable[Hit]) -> Iterator[Finding]:
        """The worst hit (the first of equals) with the number of the others; nothing without hits."""
        found = list(hits)
        if found:
            worst = max(found, key=lambda hit: hit.size)
            yield self.at(worst.place, worst.fact, len(found) - 1)
