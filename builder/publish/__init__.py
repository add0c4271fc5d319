"""From loaded sources to a finished PDF: gathers what lies at the edges and runs the pipeline once."""

from builder.publish.booklet import Choices, Published, publish, suggested_name

__all__ = ["Choices", "Published", "publish", "suggested_name"]
