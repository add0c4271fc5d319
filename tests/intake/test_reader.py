"""Bytes become text only when they are clean UTF-8 of a bearable size; anything else is a placed problem."""

import pytest

from builder.intake.reader import MOST_BYTES, decode, source_line
from builder.values.problem import Problem, Span


def _only(data: bytes) -> Problem:
    _, problems = decode(data, "ada.yaml")
    assert len(problems) == 1
    return problems[0]


def _place(problem: Problem) -> tuple[int, int]:
    assert isinstance(problem.span, Span)
    assert problem.span.file == "ada.yaml"
    return problem.span.line, problem.span.column


def test_plain_text_comes_back_as_it_is() -> None:
    """Letters beyond ASCII stay."""
    assert decode("name: Zoë Ångström\n".encode(), "ada.yaml") == ("name: Zoë Ångström\n", ())


@pytest.mark.parametrize("ends", ["\r\n", "\r", "\n"])
def test_every_line_end_becomes_a_line_feed(ends: str) -> None:
    """Windows and old Mac line ends are read alike."""
    assert decode(f"a: 1{ends}b: 2{ends}".encode(), "ada.yaml") == ("a: 1\nb: 2\n", ())


def test_a_byte_order_mark_is_not_part_of_the_first_key() -> None:
    """An editor's mark in front of UTF-8 is skipped."""
    assert decode(b"\xef\xbb\xbfformat: 1\n", "ada.yaml") == ("format: 1\n", ())


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_utf_16_is_named_as_such(encoding: str) -> None:
    """The person learns which encoding the file has and which it should have."""
    problem = _only("\ufeffformat: 1".encode(encoding))
    assert problem.code == "encoding"
    assert "UTF-16" in problem.fact
    assert "UTF-8" in problem.help


def test_a_latin_1_letter_is_found_where_it_stands() -> None:
    """Line and column count from 1."""
    problem = _only("format: 1\nname: Zoë\n".encode("latin-1"))
    assert (problem.code, _place(problem)) == ("encoding", (2, 9))
    assert "0xEB" in problem.fact


def test_a_control_sign_is_found_where_it_stands() -> None:
    """A NUL byte has no place in a text file."""
    problem = _only(b"format: 1\nnote: a\x00b\n")
    assert (problem.code, _place(problem)) == ("control-sign", (2, 8))
    assert "U+0000" in problem.fact


def test_a_tab_that_indents_is_found_on_every_line() -> None:
    """Tabs within a value, in a comment or on an empty line do no harm."""
    _, problems = decode(b"a:\n\tb: 1\n  \tc: 2\nd: x\ty\n\t# words\n\t\n", "ada.yaml")
    assert [p.code for p in problems] == ["tab", "tab"]
    assert [_place(p) for p in problems] == [(2, 1), (3, 3)]


def test_size_is_bounded_and_the_bound_itself_is_allowed() -> None:
    """One byte over the limit is a problem before the text is looked at."""
    assert decode(b"#" * MOST_BYTES, "ada.yaml")[1] == ()
    problem = _only(b"\x00" * (MOST_BYTES + 1))
    assert problem.code == "file-too-large"


def test_a_source_line_past_the_end_is_empty() -> None:
    """Lines count from 1."""
    assert [source_line("a\nb", n) for n in (0, 1, 2, 3)] == ["", "a", "b", ""]
