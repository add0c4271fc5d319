"""A source file as a tree of mappings, sequences and scalars, each with its place; scalars stay text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builder.values.problem import Span

Path = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Scalar:
    """One value as written. `blank` tells a value left out from a quoted empty text."""

    span: Span
    text: str
    blank: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Sequence:
    """A list of nodes; like a mapping it equals itself alone, so that what is made of it can be kept."""

    span: Span
    items: tuple[Node, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Mapping:
    """Keys and values in file order; keys are unique."""

    span: Span
    items: tuple[tuple[Scalar, Node], ...]

    def value(self, key: str) -> Node | None:
        """The node under `key`, or None."""
        return next((value for k, value in self.items if k.text == key), None)

    def key(self, key: str) -> Scalar | None:
        """The scalar that writes `key`, or None."""
        return next((k for k, _ in self.items if k.text == key), None)


Node = Scalar | Sequence | Mapping


def scalars(node: Node) -> Iterator[Scalar]:
    """Every key and value that is written below a node, in order."""
    if isinstance(node, Mapping):
        for key, value in node.items:
            yield key
            yield from scalars(value)
    elif isinstance(node, Sequence):
        for item in node.items:
            yield from scalars(item)
    else:
        yield node


def _walk(tree: Node, path: Path) -> Iterator[tuple[Scalar | None, Node]]:
    """The key and node of each step of `path` that the file writes; other steps are skipped."""
    # A place that is not written is asked for too, as a missing key is: the nearest step above it is then meant.
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
