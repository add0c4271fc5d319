"""YAML text to a tree with places; everything that can be wrong with a file as a file is found here."""

from builder.sources.reader import decode
from builder.sources.tree import Mapping, Node, Scalar, Sequence, compose

__all__ = ["Mapping", "Node", "Scalar", "Sequence", "compose", "decode"]
