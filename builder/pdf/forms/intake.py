"""A filled intake form as the texts of its fields, whatever program saved it."""

from __future__ import annotations

from pathlib import Path

from builder.log.filled import Value
from builder.log.intake import INTAKE, IntakeAnswers, from_bytes
from builder.pdf.forms.found import AGAIN, Refused, attached, leaves, opened
from builder.values.problem import Problem


def read_intake(path: Path) -> tuple[IntakeAnswers | None, tuple[Problem, ...]]:
    """The answers of a form, or why they cannot be read."""
    try:
        with opened(path) as pdf:
            data = attached(pdf, INTAKE)
            if data is None:
                fact = f"{path} is no intake form of ours, or a program dropped what its fields mean"
                return None, (Problem("intake-other", None, fact, AGAIN.replace("booklet's", "form's")),)
            values = tuple(Value(leaf.name, leaf.text, leaf.page) for leaf in leaves(pdf) if leaf.text)
            return IntakeAnswers(str(path), from_bytes(data), values), ()
    except Refused as refused:
        return None, (refused.problem,)
    except ValueError as error:
        fact = f"{path} carries a description that cannot be read: {error}"
        return None, (Problem("intake-other", None, fact, "Update loadleaf, or make the form anew."),)
