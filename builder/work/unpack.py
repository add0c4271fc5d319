"""The sources out of a booklet, so that it can be built again."""

from __future__ import annotations

from pathlib import Path

from builder.pdf.fence import Answer, fenced
from builder.pdf.forms import luggage
from builder.pdf.forms.luggage import Luggage


def unpack(booklet: Path) -> Answer[Luggage]:
    """What a booklet carries, each file checked against the digest that the booklet names; nothing is written."""
    return fenced(luggage.unpack, booklet)


__all__ = ["unpack"]
