"""The plan told back: as text with the reasons for each load, and as JSON for programs."""

from builder.explain.as_json import plan_json
from builder.explain.as_text import plan_text

__all__ = ["plan_json", "plan_text"]
