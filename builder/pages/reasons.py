"""Reasons as sentences: each step of the way to a load, its facts written in the lifter's unit."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from decimal import Decimal

from builder.plan.model import Fact, Reason
from builder.values.quantity import to_places
from builder.words import NARROW, Words

_CODED = ("equation", "equipment")
"""Facts that are codes, each with its own words under `<name>.<code>`."""


def _named(words: Words, name: str) -> str:
    """A movement, or a drill that stands in the place of one."""
    drill = f"drill.{name.replace(' ', '-')}"
    return words(drill) if words.has(drill) else words.movement(name)


_SHOWN: dict[str, Callable[[Words, str], str]] = {
    **dict.fromkeys(("movement", "of", "by"), _named),
    "implement": Words.implement,
    "side": Words.plates,
}
"""Facts that are names or plates."""


def reason_sentence(words: Words, reason: Reason) -> str:
    """The sentence of `why.<step>`.

    Of `why.<step>.bare` where there are no plates or no load to name, of `why.<step>.body` where the body counts too.
    """
    facts = dict(reason.facts)
    bare = facts.get("side") == "" or (reason.step == "deload" and "target_kg" not in facts)
    key = f"why.{reason.step}" + (".bare" if bare else ".body" if "own_kg" in facts else "")
    return words(key, **{name: _shown(words, name, value) for name, value in reason.facts})


def reason_sentences(words: Words, reasons: Iterable[Reason]) -> tuple[str, ...]:
    """The sentences of a whole derivation, in order."""
    return tuple(reason_sentence(words, reason) for reason in reasons)


def exact_share(words: Words, fraction: Decimal) -> str:
    """A share to a tenth of a percent, without a tenth that is nought: "83.4 %", "85 %"."""
    return f"{words.number(to_places(fraction * 100, 1).normalize())}{NARROW}%"


def _shown(words: Words, name: str, value: Fact) -> Fact:
    if isinstance(value, str) and name in _SHOWN:
        return _SHOWN[name](words, value)
    if name in _CODED:
        return words(f"{name}.{value}")
    if name.endswith("share") and isinstance(value, Decimal | int):
        return exact_share(words, Decimal(value))
    if name.endswith("_kg") and isinstance(value, int):
        return Decimal(value)
    return value
