"""The plan told back, and what a retest changed in it: as text for people, and as JSON for programs."""

from builder.pages.explain.against import against_text
from builder.pages.explain.as_json import plan_json
from builder.pages.explain.as_text import plan_text
from builder.pages.explain.brief import brief_text, lift_text
from builder.pages.explain.change import change_json, change_text

__all__ = ["against_text", "brief_text", "change_json", "change_text", "lift_text", "plan_json", "plan_text"]
