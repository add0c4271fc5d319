"""Signs that no font at hand has, told where the files write them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from collections.abc import Sequence as Many

from builder.given import Sources
from builder.values.nodes import Mapping, Node, Scalar, Sequence
from builder.values.problem import Problem


def unshown_signs(sources: Sources, problems: Many[Problem]) -> tuple[Problem, ...]:
    """Where the files write the signs that a font lacks: the press knows the sign only."""
    told = " ".join(problem.fact for problem in problems if problem.code == "glyph-missing")
    missing = {chr(int(code, 16)) for code in re.findall(r"U\+([0-9A-F]+)", told)}
    help_ = "Write it otherwise, or give the brand a font that has it."
    return tuple(
        Problem("glyph-missing", scalar.span, f"no font at hand has the sign {sign} (U+{ord(sign):04X})", help_)
        for scalar in _scalars(sources.tree)
        for sign in sorted(missing & set(scalar.text))
    )[:20]


def _scalars(node: Node) -> Iterator[Scalar]:
    if isinstance(node, Mapping):
        for key, value in node.items:
            yield key
            yield from _scalars(value)
    elif isinstance(node, Sequence):
        for item in node.items:
            yield from _scalars(item)
    else:
        yield node
