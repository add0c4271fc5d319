"""YAML becomes a tree whose scalars stay text and know their place; what YAML can do to harm is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.intake import compose as tree
from builder.intake.compose import DEEPEST, MOST_NODES, compose
from builder.values.nodes import Mapping, Node, Scalar, Sequence
from builder.values.problem import Problem, Severity, Span


def _tree(text: str) -> Node:
    tree, problems = compose(text, "ada.yaml")
    assert not problems
    assert tree is not None
    return tree


def _mapping(text: str) -> Mapping:
    tree = _tree(text)
    assert isinstance(tree, Mapping)
    return tree


def _codes(text: str) -> list[str]:
    return [problem.code for problem in compose(text, "ada.yaml")[1]]


def _only(text: str) -> Problem:
    problems = compose(text, "ada.yaml")[1]
    assert len(problems) == 1, problems
    return problems[0]


def _place(problem: Problem) -> tuple[int, int, int]:
    assert isinstance(problem.span, Span)
    return problem.span.line, problem.span.column, problem.span.width


@pytest.mark.parametrize("word", ["12:30", "on", "no", "yes", "1e3", "0x1F", "010", "2027-01-11", "1_000", ".inf"])
def test_a_word_stays_as_it_was_written(word: str) -> None:
    """No value is turned into a number, a date or a truth by YAML's rules."""
    value = _mapping(f"key: {word}").value("key")
    assert isinstance(value, Scalar)
    assert (value.text, value.blank) == (word, False)


@pytest.mark.parametrize(("written", "blank"), [("", True), ("~", True), ("null", True), ('""', False), ("'~'", False)])
def test_a_blank_is_told_from_a_quoted_empty_text(written: str, blank: bool) -> None:
    """Only what was left out is blank."""
    value = _mapping(f"key: {written}").value("key")
    assert isinstance(value, Scalar)
    assert value.blank is blank


def test_every_node_knows_its_place() -> None:
    """Lines and columns count from 1; a scalar's width is that of its writing."""
    tree = _mapping("a: 1\nb:\n  - x\n  - {c: long words}\n")
    assert [(key.text, key.span.line, key.span.column) for key, _ in tree.items] == [("a", 1, 1), ("b", 2, 1)]
    entries = tree.value("b")
    assert isinstance(entries, Sequence)
    inner = entries.items[1]
    assert isinstance(inner, Mapping)
    value = inner.value("c")
    assert value is not None
    assert (value.span.line, value.span.column, value.span.width) == (4, 9, 10)
    assert value.span.source == "  - {c: long words}"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("gym: {safeties: true, &potter: true}\n", 'write "potter: value"'),
        ('{"": x}\n', 'Write "key: value"'),
    ],
)
def test_a_key_that_says_nothing_is_told(text: str, told: str) -> None:
    [problem] = compose(text, "ada.yaml")[1]
    assert problem.code == "key" and told in str(problem.help)


def test_a_key_that_stands_twice_names_the_first() -> None:
    """The second key is the problem; the first one's line is in the fact, and its value is kept."""
    tree, problems = compose("a: 1\nb: 2\na: 3\n", "ada.yaml")
    assert [(p.code, _place(p)[:2]) for p in problems] == [("duplicate-key", (3, 1))]
    assert "line 1" in problems[0].fact
    assert isinstance(tree, Mapping)
    value = tree.value("a")
    assert isinstance(value, Scalar) and value.text == "1"


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("a: !!python/object/apply:os.system [ls]", "tag"),
        ("a: !secret x", "tag"),
        ("base: &b {x: 1}\nuse: {<<: *b}", "merge"),
        ("? [a, b]\n: 1", "key"),
        ("a: *nobody", "alias"),
        ("a: &me [*me]", "alias"),
        ("a: 1\n---\nb: 2", "documents"),
        ("", "empty-file"),
        ("# only a remark\n", "empty-file"),
        ("a: [1, 2", "syntax"),
        ("a: b: c", "syntax"),
        ("a: @x", "syntax"),
    ],
)
def test_what_is_not_used_here_is_one_problem_with_a_way_out(text: str, code: str) -> None:
    """Tags build no object, aliases have no end of their own, a file is one document."""
    problem = _only(text)
    assert problem.code == code
    assert problem.help.endswith(".")


def test_an_alias_stands_for_what_it_names() -> None:
    """Both places hold the same value, each alias resolved."""
    tree = _mapping("a: &x {load: 5}\nb: *x\n")
    assert tree.value("a") == tree.value("b")


def test_nesting_is_bounded() -> None:
    """One level more than the limit is refused; the limit itself is read."""
    assert _codes("a: " + "[" * (DEEPEST - 1) + "]" * (DEEPEST - 1)) == []
    assert _codes("a: " + "[" * DEEPEST + "]" * DEEPEST) == ["too-deep"]


def test_an_alias_bomb_ends_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nine levels of nine aliases would be 400 million parts; no more is made than the text writes."""
    usual, made = tree._Composer.node, []
    monkeypatch.setattr(tree._Composer, "node", lambda *event: made.append(event) or usual(*event))
    lines = ["a: &a [x, x, x, x, x, x, x, x, x]"]
    lines += [
        f"{here}: &{here} [{', '.join(['*' + below] * 9)}]" for below, here in zip("abcdefgh", "bcdefghi", strict=True)
    ]
    assert _codes("\n".join(lines)) == ["too-large"]
    assert 40 < len(made) <= 9 * 10 + 2 * 9


def test_the_number_of_parts_is_bounded() -> None:
    """A flat list of too many parts is refused as well."""
    assert _codes("a: [" + "x," * (MOST_NODES - 10) + "]") == []
    assert _codes("a: [" + "x," * (MOST_NODES + 1) + "]") == ["too-large"]


@given(st.text(max_size=60))
def test_no_text_makes_it_fall_over(text: str) -> None:
    """Whatever a person types gives a tree or a problem, never an exception, and never neither."""
    tree, problems = compose(text, "ada.yaml")
    assert tree is not None or problems


@given(st.text(alphabet="ab:-[]{}&*!#|>'\"\n ,?%@`~<", max_size=40))
def test_no_punctuation_makes_it_fall_over(text: str) -> None:
    """The same for texts made of YAML's own signs."""
    tree, problems = compose(text, "ada.yaml")
    assert tree is not None or problems
    assert all(isinstance(p.span, Span) and p.span.line >= 1 and p.span.column >= 1 for p in problems)


@pytest.mark.parametrize(
    ("line", "cut"), [("title: Day #1", "#1"), ("title: Day 1 # the first", ""), ('title: "Day #1"', ""), ("a: #1", "")]
)
def test_a_number_that_a_comment_cuts_off_is_told(line: str, cut: str) -> None:
    """ "Day #1" is read as "Day": a warning, and the quotes that keep it."""
    found = [one for one in compose(line, "ada.yaml")[1] if one.code == "cut-by-comment"]
    assert [one.severity for one in found] == ([Severity.WARNING] if cut else [])
    assert not cut or f'"Day {cut}"' in (found[0].help or "")
