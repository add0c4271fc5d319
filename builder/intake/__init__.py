"""From source files to typed sources: parts are merged, typed, and checked against each other."""

from builder.intake.crosscheck import cross_check
from builder.intake.load import Loaded, load, read, tree_of, understood
from builder.intake.typed import KINDS, typed

__all__ = ["KINDS", "Loaded", "cross_check", "load", "read", "tree_of", "typed", "understood"]
