"""From loaded sources to a finished PDF: gathers what lies at the edges and runs the pipeline once."""

from builder.publish.booklet import Choices, Published, publish, suggested_name
from builder.publish.target import output_problems

__all__ = ["Choices", "Published", "output_problems", "publish", "suggested_name"]
