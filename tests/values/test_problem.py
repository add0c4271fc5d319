"""A problem says where, what and how; as text with a caret under the place, as JSON with the same facts."""

import json

from builder.values.problem import Problem, Severity, Span, did_you_mean, in_order, listing

AT = Span("ada.yaml", 3, 9, 4, "  load: 12,5")


def test_the_caret_stands_under_the_place() -> None:
    """File, line and column first; the line; the caret as wide as the value; the help."""
    assert Problem("decimal-comma", AT, "it has a comma", "Write 12.5.").as_text().split("\n") == [
        "ada.yaml:3:9: error: it has a comma [decimal-comma]",
        "    3 |   load: 12,5",
        "      |         ^^^^",
        "  Write 12.5.",
    ]


def test_a_problem_without_a_place_has_no_source_line() -> None:
    """Fact and help are enough."""
    text = Problem("missing-part", None, "no file", "Name one.", Severity.WARNING).as_text()
    assert text == "warning: no file [missing-part]\n  Name one."


def test_far_to_the_right_the_line_is_cut_and_the_caret_still_fits() -> None:
    """What the caret marks is the value, also in a line of 300 signs."""
    line = "x" * 200 + "HERE" + "y" * 100
    shown = Problem("c", Span("a", 1, 201, 4, line), "f", "H.").as_text().split("\n")
    start = shown[2].index("^")
    assert shown[1][start : start + shown[2].count("^")] == "HERE"
    assert len(shown[1]) < 120


def test_a_sign_that_moves_the_cursor_is_made_visible() -> None:
    """A tab or an escape sign in the line cannot shift the caret or paint the terminal."""
    shown = Problem("c", Span("a", 1, 3, 1, "\t\x1b[31m"), "f", "H.").as_text()
    assert "\t" not in shown
    assert "\x1b" not in shown


def test_json_holds_the_same_facts() -> None:
    """A program gets code, severity, place, fact and help."""
    made = json.loads(json.dumps(Problem("c", AT, "f", "H.").as_json()))
    assert made == {
        "code": "c", "severity": "error", "file": "ada.yaml", "line": 3, "column": 9, "fact": "f", "help": "H.",
    }  # fmt: skip
    assert Problem("c", None, "f", "H.").as_json()["line"] is None


def test_problems_are_sorted_by_place_and_said_once() -> None:
    """Line 10 comes after line 9, another file after both, what has no place last."""
    late, early = Problem("b", Span("a", 10, 1), "f", "H."), Problem("b", Span("a", 9, 1), "f", "H.")
    other, nowhere = Problem("a", Span("b", 1, 1), "f", "H."), Problem("a", None, "f", "H.")
    assert in_order([nowhere, other, late, early, late]) == (early, late, other, nowhere)


def test_a_close_word_is_asked_for() -> None:
    """As it is really spelt, whatever the case typed; a far word gives nothing."""
    assert did_you_mean("ROMANIAN deadlfit", ["back squat", "Romanian deadlift"]) == 'Did you mean "Romanian deadlift"?'
    assert did_you_mean("xyz", ["back squat"]) == ""
    assert did_you_mean("x", []) == ""


def test_a_listing_reads_as_a_sentence() -> None:
    """One, two, three and too many."""
    assert [listing(w) for w in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == ["", "a", "a or b", "a, b or c"]
    assert listing("abcde", most=3) == "a, b, c or one of 2 more"


def test_a_list_is_cut_only_where_it_is_longer_than_the_most() -> None:
    assert listing("abc", most=3) == "a, b or c"
    assert listing("abcd", most=3) == "a, b, c or one of 1 more"
    assert [listing("ab"), listing("a"), listing("")] == ["a or b", "a", ""]
