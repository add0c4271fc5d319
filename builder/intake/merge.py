"""Lays the trees of several files over each other: mappings merge key by key, anything else is replaced."""

from collections.abc import Iterator
from collections.abc import Sequence as Many
from typing import Any

from builder.problem import Span
from builder.sources import Mapping, Node, Scalar, Sequence

Path = tuple[str | int, ...]


def overlay(lower: Node, upper: Node) -> Node:
    """`upper` laid over `lower`; every node keeps its own place."""
    if not (isinstance(lower, Mapping) and isinstance(upper, Mapping)):
        return upper
    items = {key.text: (key, value) for key, value in lower.items}
    for key, value in upper.items:
        below = items.get(key.text)
        items[key.text] = (key, overlay(below[1], value) if below else value)
    return Mapping(upper.span, tuple(items.values()))


def merged(trees: Many[Mapping]) -> Mapping:
    """All trees as one, later ones on top."""
    whole = trees[0]
    for tree in trees[1:]:
        laid = overlay(whole, tree)
        assert isinstance(laid, Mapping)
        whole = laid
    return whole


def as_data(node: Node) -> Any:
    """The tree as dicts, lists and texts; keys whose value was left blank are left out."""
    if isinstance(node, Mapping):
        return {key.text: as_data(value) for key, value in node.items if not _blank(value)}
    if isinstance(node, Sequence):
        return [as_data(item) for item in node.items]
    return node.text


def blanks(node: Node) -> list[tuple[Scalar | None, Node]]:
    """Every value left blank, with its key where it has one."""
    found: list[tuple[Scalar | None, Node]] = []
    if isinstance(node, Mapping):
        for key, value in node.items:
            found += [(key, value)] if _blank(value) else blanks(value)
    elif isinstance(node, Sequence):
        for item in node.items:
            found += [(None, item)] if _blank(item) else blanks(item)
    return found


def _walk(tree: Node, path: Path) -> Iterator[tuple[Scalar | None, Node]]:
    """The key and node of each step of `path` that the file writes; other steps are skipped."""
    node = tree
    for step in path:
        if isinstance(node, Mapping) and isinstance(step, str):
            written, value = node.key(step), node.value(step)
            if value is not None:
                node = value
                yield written, node
        elif isinstance(node, Sequence) and isinstance(step, int) and step < len(node.items):
            node = node.items[step]
            yield None, node


def node_at(tree: Node, path: Path) -> Node:
    """The node at `path`, or at the nearest step of it that the file writes."""
    return next((node for _, node in reversed([*_walk(tree, path)])), tree)


def locate(tree: Node, path: Path, *, key: bool = False) -> Span:
    """Where `path`, or the nearest written step of it, stands.

    A scalar is named by its value unless `key` is set; mappings and lists by the key that holds them.
    """
    last = next(reversed([*_walk(tree, path)]), (None, tree))
    written, node = last
    return written.span if written is not None and (key or not isinstance(node, Scalar)) else node.span


def _blank(node: Node) -> bool:
    return isinstance(node, Scalar) and node.blank
