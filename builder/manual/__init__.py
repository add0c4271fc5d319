"""The reference: what `said/` says of files and commands, its tables filled in from the models and commands."""

from builder.manual.compose import PLACE, SAID, TOPICS, composed, with_shared

__all__ = ["PLACE", "SAID", "TOPICS", "composed", "with_shared"]
