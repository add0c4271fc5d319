"""A filled booklet without what is personal, to be passed on."""

from __future__ import annotations

from pathlib import Path

from builder.pdf.fence import Answer, fenced
from builder.pdf.forms.strip import Stripped, stripped


def strip(filled: Path) -> Answer[Stripped]:
    """The pages with sets and results and what was written there; nothing is written to a file."""
    return fenced(stripped, filled)


__all__ = ["strip"]
