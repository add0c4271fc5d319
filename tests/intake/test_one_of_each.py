"""The files of a run are those of one person and one block."""

from __future__ import annotations

import pytest

from builder.intake import understood
from builder.values.problem import Span


@pytest.mark.parametrize(("kind", "key"), [("client", "name"), ("block", "title")])
def test_two_of_a_kind_never_become_one(kind: str, key: str) -> None:
    """A folder of three clients was one person once, with the limits of all; both files and the way out are named."""
    one, two = (f"format: 1\n{kind}: {{{key}: {word}}}\n".encode() for word in ("Ada", "Bo"))
    found = understood([("a.yaml", one), ("b.yaml", two)], need=()).problems
    (told,) = [problem for problem in found if problem.code == f"two-{kind}s"]
    assert isinstance(told.span, Span) and (told.span.file, told.span.line) == ("b.yaml", 2)
    assert '"Bo", after "Ada" in a.yaml' in told.fact and f'leaves "{key}:" out' in told.help
    again = one + b"# another copy\nequation: epley\n" if kind == "client" else one + b"days: []\n"
    assert f"two-{kind}s" in {p.code for p in understood([("a.yaml", one), ("c.yaml", again)], need=()).problems}


def test_a_part_without_a_name_is_laid_over_and_the_same_file_twice_is_one() -> None:
    name, part = b"format: 1\nclient: {name: Ada}\n", b"format: 1\nclient: {units: lb}\n"
    for texts in ([("a.yaml", name), ("b.yaml", part)], [("a.yaml", name), ("./a.yaml", name)]):
        assert not [p for p in understood(texts, need=()).problems if p.code.startswith("two-")]
