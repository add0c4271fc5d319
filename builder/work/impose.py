"""A finished or filled booklet as sheets to print on both sides, fold and staple."""

from __future__ import annotations

from pathlib import Path

from builder.pdf import PressError
from builder.pdf.fence import Answer, fenced
from builder.pdf.forms.found import Refused, whole
from builder.pdf.sheets import impose as sheets
from builder.pdf.sheets.impose import Folding, Imposed


def impose(booklet: Path, folding: Folding) -> Answer[Imposed]:
    """The sheets of a booklet, made behind the fence; nothing is written."""

    def made(path: Path) -> Answer[Imposed]:
        try:
            return sheets.impose(whole(path), folding), ()
        except Refused as refused:
            return None, (refused.problem,)
        except PressError as error:
            return None, error.problems

    return fenced(made, booklet)


__all__ = ["impose"]
