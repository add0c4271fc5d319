"""The way back: filled PDFs to a log, and what the log adds up to."""

from builder.logbook.entries import read_log
from builder.logbook.form import Form, read_forms, read_manifest
from builder.logbook.luggage import Luggage, unpack
from builder.logbook.merge import Answers, merge
from builder.logbook.model import Entry, Log, SessionLog, TestLog
from builder.logbook.outcome import outcome_of
from builder.logbook.progress import Progress, progress
from builder.logbook.resume import Moved, moved, overlay
from builder.logbook.tell import as_csv, as_json, as_yaml

__all__ = [
    "Answers",
    "Entry",
    "Form",
    "Log",
    "Luggage",
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
    "read_forms",
    "read_log",
    "read_manifest",
    "unpack",
]
