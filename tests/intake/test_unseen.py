"""A sign that nobody sees in a name is told and does not stop a build; what a language needs is not told."""

from __future__ import annotations

import pytest

from builder.intake import understood
from builder.values.problem import Severity, Span


def warned(name: str) -> list[tuple[str, object]]:
    text = f"format: 1\nclient: {{name: '{name}'}}\n".encode()
    found = understood([("a.yaml", text)], need=()).problems
    told = [problem for problem in found if problem.code == "unseen-sign"]
    assert all(problem.severity is Severity.WARNING for problem in told)
    return [(problem.fact, problem.span) for problem in told]


@pytest.mark.parametrize(
    ("sign", "said"),
    [
        ("\u00ad", "soft hyphen (U+00AD)"),
        ("\U000e0041", "tag latin capital letter a (U+E0041)"),
        ("\u200b", "zero width space (U+200B)"),
        ("\u200f", "right-to-left mark (U+200F)"),
        ("\u2060", "word joiner (U+2060)"),
        ("\u200d", "zero width joiner (U+200D)"),
    ],
)
def test_an_unseen_sign_in_a_name_is_told_where_it_stands(sign: str, said: str) -> None:
    """Names and categories: the Unicode Character Database, general category Cf."""
    ((fact, span),) = warned(f"Ada {sign}Quill")
    assert said in str(fact) and sign not in str(fact)
    assert isinstance(span, Span) and (span.file, span.line) == ("a.yaml", 2)


def test_what_a_language_or_a_picture_needs_is_not_told() -> None:
    for name in ("Zoë Ødegård", "می\u200cخواهم", "👩\u200d🏫", "木"):
        assert warned(name) == []
