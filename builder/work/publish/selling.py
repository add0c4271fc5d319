"""How a brand hands its copies over: what it decides where nobody chose, and what it lets no copy go without."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from builder.given import Sources
from builder.given.brand import Selling
from builder.pages.model import Edition
from builder.values.problem import Problem
from builder.work.publish.choices import Choices


def settled(choices: Choices, sources: Sources) -> Choices:
    """The choices with edition and sources decided: by the caller, else the brand, else all of both."""
    selling = _selling(sources)
    edition = choices.edition or (Edition(selling.edition) if selling.edition else Edition.PERSONAL)
    whole = choices.whole if choices.whole is not None else selling.sources is not False
    return replace(choices, edition=edition, whole=whole)


def unsold(choices: Choices, sources: Sources) -> Iterator[Problem]:
    """A problem for each thing that the brand wants on every copy and this one lacks."""
    selling = _selling(sources)
    if selling.stamp and not (choices.buyer or choices.order):
        fact, help_ = "the brand stamps every copy, and this one names nobody", "Say --buyer NAME or --order NUMBER."
        yield Problem("copy-unstamped", sources.at("selling", "stamp"), fact, help_)
    if selling.lock and not choices.locked:
        fact, help_ = "the brand locks every copy, and this one would be open", "Say --owner-password-file FILE."
        yield Problem("copy-unlocked", sources.at("selling", "lock"), fact, help_)


def _selling(sources: Sources) -> Selling:
    return sources.brand.selling if sources.brand else Selling()
