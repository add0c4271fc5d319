"""What travels inside a booklet's PDF: the manifest with every field's meaning, the plan, and the sources."""

from builder.carried.manifest import (
    MANIFEST,
    PLAN,
    CarriedFile,
    LiftBefore,
    Manifest,
    NewerFormatError,
    PlannedRow,
    PlannedTest,
    Protection,
    as_bytes,
    field_names,
    from_bytes,
    lifts_before,
    planned_rows,
    planned_tests,
    recorded_names,
)

__all__ = [
    "MANIFEST",
    "PLAN",
    "CarriedFile",
    "LiftBefore",
    "Manifest",
    "NewerFormatError",
    "PlannedRow",
    "PlannedTest",
    "Protection",
    "as_bytes",
    "field_names",
    "from_bytes",
    "lifts_before",
    "planned_rows",
    "planned_tests",
    "recorded_names",
]
