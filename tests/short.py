"""Samples cut down to a few weeks: every kind of page that they have, and fewer of each."""

from __future__ import annotations

import tempfile
from functools import lru_cache
from pathlib import Path

from builder.intake import Loaded, load

SAMPLES = Path(__file__).parents[1] / "samples"
CUTS = {
    "novice": (("weeks: 8", "weeks: 2"), ("weeks: 1-4", "weeks: 1"), ("weeks: 6-8", "weeks: 2"), ("[5]", "[2]")),
    "intermediate": (
        ("weeks: 10", "weeks: 4"), ("weeks: 1-5", "weeks: 1-2"), ("weeks: 6-10", "weeks: 3-4"), ("[5]", "[2]"),
        ("week: 10", "week: 4"),
    ),
}  # fmt: skip
"""In the block: as many weeks as show a training week and a lighter one, and a week before a test and the test."""


@lru_cache
def shortened(name: str) -> Loaded:
    """The sample with the samples' brand."""
    block = (SAMPLES / name / "block.yaml").read_text(encoding="utf-8")
    for whole, few in CUTS[name]:
        assert whole in block, whole
        block = block.replace(whole, few)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "block.yaml")
        path.write_text(block, encoding="utf-8")
        return load([SAMPLES / name / "client.yaml", path, SAMPLES / "brand"])
