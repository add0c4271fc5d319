"""The way back: filled PDFs to a log, and what the log adds up to."""

from builder.log.entries import read_log
from builder.log.filled import Form
from builder.log.merge import Answers, merge
from builder.log.model import Entry, Log, SessionLog, TestLog
from builder.log.outcome import outcome_of
from builder.log.progress import Progress, progress
from builder.log.resume import Moved, moved, overlay
from builder.log.tell import as_csv, as_json, as_yaml

__all__ = [
    "Answers",
    "Entry",
    "Form",
    "Log",
    "Moved",
    "Progress",
    "SessionLog",
    "TestLog",
    "as_csv",
    "as_json",
    "as_yaml",
    "merge",
    "moved",
    "outcome_of",
    "overlay",
    "progress",
    "read_log",
]
