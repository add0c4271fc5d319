"""Whether the press takes its short cuts through the typesetter, and what it says where they do not fit."""

from __future__ import annotations

import os

from builder.pdf.fast.patches import MissingPart
from builder.values.problem import Problem, Severity

SWITCH = "LOADLEAF_PLAIN"
"""The environment variable that keeps the press to the typesetter alone, whatever it is set to."""
# A fault of our own may be of these kinds too. It then comes out as the remark, and no sample may print with one.
UNFIT = (MissingPart, ImportError, AttributeError, TypeError)
"""What a short cut meets in a typesetter that has another inside than the one it was tested with."""


def wanted() -> bool:
    """Whether nobody switched the short cuts off."""
    return not os.environ.get(SWITCH)


def untaken(error: Exception) -> Problem:
    """The remark that a booklet was made without the short cuts."""
    from weasyprint import __version__

    fact = f"the short cuts of the press do not fit WeasyPrint {__version__} ({error}), so the booklet took longer"
    help_ = f"The pages are the same. Install the version that loadleaf asks for, or set {SWITCH}=1 to do without."
    return Problem("press-plain", None, fact, help_, Severity.WARNING)


__all__ = ["SWITCH", "UNFIT", "untaken", "wanted"]
