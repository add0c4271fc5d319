"""From loaded sources to a finished PDF: gathers what lies at the edges and runs the pipeline once."""

from builder.work.publish.booklet import Dress, Published, dress, file_name, printed, suggested_name
from builder.work.publish.choices import Choices
from builder.work.publish.run import publish
from builder.work.publish.target import output_spot
from builder.work.publish.trial import tried

__all__ = [
    "Choices",
    "Dress",
    "Published",
    "dress",
    "file_name",
    "output_spot",
    "printed",
    "publish",
    "suggested_name",
    "tried",
]
