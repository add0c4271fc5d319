"""Lays the trees of several files over each other: mappings merge key by key, anything else is replaced.

Lists are replaced whole: their entries have no names by which one could be laid over another.
"""

from collections.abc import Sequence as Many
from functools import lru_cache
from typing import Any

from builder.values.nodes import Mapping, Node, Scalar, Sequence


def overlay(lower: Node, upper: Node) -> Node:
    """`upper` laid over `lower`; every node keeps its own place."""
    if not (isinstance(lower, Mapping) and isinstance(upper, Mapping)):
        return upper
    items = {key.text: (key, value) for key, value in lower.items}
    for key, value in upper.items:
        below = items.get(key.text)
        # The upper key too, so that a problem is told in the file whose value counts.
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


def kept_data(tree: Mapping) -> dict[str, Any]:
    """The same, never to be changed: a part that many buyers share is made once."""
    return {key.text: _kept(value) for key, value in tree.items if not _blank(value)}


@lru_cache(maxsize=256)
def _kept(node: Node) -> Any:
    return as_data(node)


@lru_cache(maxsize=1024)
def blanks(node: Node) -> list[tuple[Scalar | None, Node]]:
    """Every value left blank, with its key where it has one; kept likewise."""
    found: list[tuple[Scalar | None, Node]] = []
    if isinstance(node, Mapping):
        for key, value in node.items:
            found += [(key, value)] if _blank(value) else [] if isinstance(value, Scalar) else blanks(value)
    elif isinstance(node, Sequence):
        for item in node.items:
            found += [(None, item)] if _blank(item) else [] if isinstance(item, Scalar) else blanks(item)
    return found


def _blank(node: Node) -> bool:
    return isinstance(node, Scalar) and node.blank
