"""The JSON Schemas of the files that a coach writes, for editors."""

from __future__ import annotations

import json
from typing import Any

from builder.given.movements import GROUPS
from builder.given.schema import file_schema
from builder.intake import KINDS
from builder.intake.load import library
from builder.places import themes

MIXED = "mixed"
SOURCES = (*KINDS, MIXED)
"""Each kind of source file, and a file that holds several kinds."""


def source_schema(kind: str) -> dict[str, Any]:
    """The JSON Schema of one kind of source file."""
    names = {"movements": library().movements, "groups": GROUPS, "themes": themes()}
    models = KINDS if kind == MIXED else {kind: KINDS[kind]}
    title = "A Loadleaf file of several kinds" if kind == MIXED else f"A Loadleaf {kind} file"
    return file_schema(models, names, title)


def for_editors() -> tuple[tuple[str, bytes], ...]:
    """The schemas as files beside those of a coach; the first line of a starter file names its own."""
    return tuple(
        (f"schemas/{kind}.json", (json.dumps(source_schema(kind), ensure_ascii=False, indent=1) + "\n").encode())
        for kind in SOURCES
    )
