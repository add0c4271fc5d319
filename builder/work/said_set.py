"""A tested set as people say it, `102,5 x 5 @8`, as the texts that a profile holds: every command reads it so."""

from __future__ import annotations

import re
from dataclasses import dataclass

from builder.log import typed
from builder.values.quantity import plain

_SET = re.compile(
    r"(?P<load>.+?)\s*[x×*]\s*(?P<reps>[^x×*\s,;@]+)(?:\s*reps?)?"
    r"(?:\s*[,;]?\s*(?:(?P<word>@|rir\b|rpe\b)\s*)?(?P<effort>\d.*?|(?<=\s)\S.*?)(?:\s*left)?)?",
    re.IGNORECASE,
)
_COMMA = re.compile(r"\d+,\d{1,2}(?!\d)")


@dataclass(frozen=True, slots=True)
class SaidSet:
    """The texts of a set, with the places (from 0) where they stand; `rir` is None where no effort was said."""

    load: str
    reps: str
    rir: str | None
    places: dict[str, int]


def said_set(text: str) -> SaidSet | None:
    """The parts of a set; None where it has none. What cannot be read stays as it is, for the profile to refuse."""
    found = _SET.fullmatch(pointed(text))
    if found is None:
        return None
    places = {"load": found.start("load"), "reps": found.start("reps"), "rir": max(0, found.start("effort"))}
    effort = f"{found['word'] or ''} {found['effort']}".strip() if found["effort"] else None
    return SaidSet(found["load"], found["reps"], effort and _reserve(effort), places)


def _reserve(effort: str) -> str:
    """`rir 2`, `2 left`, `@8` and `RPE 8` as reps in reserve (10 less the rating, Zourdos 2016)."""
    try:
        return plain(typed.effort(effort).value)
    except typed.Unclear:
        return effort.lower().removeprefix("rir").strip()


def pointed(text: str) -> str:
    """Decimal commas as points, as half the world writes numbers; what parts thousands stays."""
    return _COMMA.sub(lambda found: found.group().replace(",", "."), text)
