"""Files laid over each other: mappings merge by key, the rest is replaced, and every part keeps its own place."""

from hypothesis import given
from hypothesis import strategies as st
from sources_for_tests import tree

from builder.intake.compose import compose
from builder.intake.merge import as_data, blanks, merged, overlay
from builder.values.nodes import Mapping, Node, Scalar, locate, node_at


def _tree(text: str, file: str = "a.yaml") -> Mapping:
    node, problems = compose(text, file)
    assert isinstance(node, Mapping) and not problems
    return node


def test_a_later_file_replaces_value_by_value() -> None:
    """Deep in a mapping, and a list as a whole."""
    whole = merged(
        [_tree("gym: {bar: 20, step: 5}\ndays: [mon, wed]\n"), _tree("gym: {step: 2.5}\ndays: [fri]\nnew: 1\n")]
    )
    assert as_data(whole) == {"gym": {"bar": "20", "step": "2.5"}, "days": ["fri"], "new": "1"}


def test_what_is_not_two_mappings_is_replaced() -> None:
    """A word by a mapping, a mapping by a word."""
    assert as_data(overlay(_tree("a: 1"), _tree("a: {b: 2}"))) == {"a": {"b": "2"}}
    assert as_data(overlay(_tree("a: {b: 2}"), _tree("a: 1"))) == {"a": "1"}


def test_every_part_keeps_the_file_it_came_from() -> None:
    """A problem in the merged whole still points into the right file."""
    whole = merged([_tree("gym: {bar: 20}\nold: x\n", "base.yaml"), _tree("\ngym: {step: 5}\n", "over.yaml")])
    places = {path: locate(whole, path) for path in (("gym", "bar"), ("gym", "step"), ("old",))}
    assert [(s.file, s.line, s.column) for s in places.values()] == [
        ("base.yaml", 1, 12),
        ("over.yaml", 2, 13),
        ("base.yaml", 2, 6),
    ]


def test_three_files_are_laid_in_their_order() -> None:
    """The last word counts."""
    assert as_data(merged([_tree("a: 1"), _tree("a: 2"), _tree("a: 3")])) == {"a": "3"}


def test_what_was_left_blank_is_left_out_and_found() -> None:
    """A key without a value, and a dash without one; a quoted empty text is a value."""
    node = _tree('a:\nb: ""\nc:\n  - x\n  -\nd: {e: ~}\n')
    assert as_data(node) == {"b": "", "c": ["x", ""], "d": {}}
    assert [(key.text if key else None, value.span.line) for key, value in blanks(node)] == [
        ("a", 1),
        (None, 5),
        ("e", 6),
    ]


def test_a_place_is_the_value_and_on_request_the_key() -> None:
    """Lists and mappings are named by their key; a missing step by the nearest that is written."""
    node = tree("a:\n  b: word\n  c: [x, y]\n")
    assert [(s.line, s.column) for s in (locate(node, ("a", "b")), locate(node, ("a", "b"), key=True))] == [
        (2, 6),
        (2, 3),
    ]
    assert locate(node, ("a", "c")).column == 3
    assert (locate(node, ("a", "c", 1)).line, locate(node, ("a", "c", 1)).column) == (3, 10)
    assert locate(node, ("a", "nothing", "more")).line == 1
    assert locate(node, ("a", "c", 9)).column == 3
    found = node_at(node, ("a", "b", "deeper"))
    assert isinstance(found, Scalar) and found.text == "word"


LEAVES = st.text(alphabet="abcxyz0123", min_size=1, max_size=4)
TREES = st.recursive(
    LEAVES,
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(LEAVES, inner, max_size=4)),
    max_leaves=12,
)
FILES = st.dictionaries(LEAVES, TREES, max_size=5)


def _written(data: object) -> str:
    if isinstance(data, dict):
        return "{" + ", ".join(f"{key}: {_written(value)}" for key, value in data.items()) + "}"
    return "[" + ", ".join(map(_written, data)) + "]" if isinstance(data, list) else str(data)


def _laid(lower: object, upper: object) -> object:
    """The same in plain dicts."""
    if isinstance(lower, dict) and isinstance(upper, dict):
        return {**lower, **{k: _laid(lower[k], v) if k in lower else v for k, v in upper.items()}}
    return upper


def _node(data: object) -> Node:
    return _tree(_written(data))


@given(FILES, FILES)
def test_laying_over_agrees_with_plain_dicts(lower: dict[str, object], upper: dict[str, object]) -> None:
    """For any two files."""
    assert as_data(overlay(_node(lower), _node(upper))) == _laid(lower, upper)


@given(FILES, FILES)
def test_a_file_over_itself_changes_nothing(one: dict[str, object], two: dict[str, object]) -> None:
    """Nor does the same file a second time on top."""
    a, b = _node(one), _node(two)
    assert as_data(overlay(a, a)) == as_data(a)
    assert as_data(overlay(overlay(a, b), b)) == as_data(overlay(a, b))
