"""A finished or filled booklet as sheets to print on both sides, fold and staple."""

from __future__ import annotations

from pathlib import Path

from builder.pdf import PressError
from builder.pdf.fence import Answer
from builder.pdf.sheets import impose as sheets
from builder.pdf.sheets.impose import Folding, Imposed
from builder.values.problem import Problem


def impose(booklet: Path, folding: Folding) -> Answer[Imposed]:
    """The sheets of a booklet; nothing is written."""
    try:
        return sheets.impose(booklet.read_bytes(), folding), ()
    except OSError as error:
        fact = f"{booklet} cannot be read: {(error.strerror or 'unknown reason').lower()}"
        return None, (Problem("unreadable", None, fact, "Check the name and the rights of the file."),)
    except PressError as error:
        return None, error.problems


__all__ = ["impose"]
