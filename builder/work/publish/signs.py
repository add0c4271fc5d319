"""Signs that no font at hand has, told where the files write them."""

from __future__ import annotations

from collections.abc import Sequence as Many

from builder.given import Sources
from builder.values.nodes import scalars
from builder.values.problem import Problem


def unshown_signs(sources: Sources, problems: Many[Problem]) -> tuple[Problem, ...]:
    """Where the files write the signs that a font lacks: the press knows the sign only."""
    missing = {sign for problem in problems for sign in problem.signs}
    help_ = "Write it otherwise, or give the brand a font that has it."
    # No more than twenty: a text in a script that no font has would be told letter by letter.
    return tuple(
        Problem("glyph-missing", scalar.span, f"no font at hand has the sign {sign} (U+{ord(sign):04X})", help_)
        for scalar in scalars(sources.tree)
        for sign in sorted(missing & set(scalar.text))
    )[:20]
