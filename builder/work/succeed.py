"""What a copy was protected with stays on its successor: rules kept back, buyer, order and lock."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from builder.log.manifest import Protection
from builder.values.problem import Problem


def succeeding(former: Sequence[Protection], wanted: Protection) -> Protection:
    """The protection of a copy that follows others: what was wanted, and what they had besides."""
    return Protection(
        # Nothing that one of them kept back is handed on by its successor.
        whole=wanted.whole and all(one.whole for one in former),
        buyer=wanted.buyer or next((one.buyer for one in former if one.buyer), ""),
        order=wanted.order or next((one.order for one in former if one.order), ""),
        locked=wanted.locked,
    )


def unlocked(former: Sequence[Protection], made: Protection, help_: str) -> Iterator[Problem]:
    """A problem where a locked copy would get an open successor."""
    if not made.locked and any(one.locked for one in former):
        yield Problem("copy-locked", None, "the earlier copy is locked, and the new one would not be", help_)


__all__ = ["succeeding", "unlocked"]
