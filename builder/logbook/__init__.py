"""The way back: filled PDFs to a log, and what the log adds up to."""

from builder.logbook.entries import read_log
from builder.logbook.form import Form, read_form
from builder.logbook.luggage import Luggage, unpack
from builder.logbook.merge import merge
from builder.logbook.model import Entry, Log, SessionLog, TestLog
from builder.logbook.progress import Progress, progress
from builder.logbook.tell import as_csv, as_json, as_yaml

__all__ = [
    "Entry",
    "Form",
    "Log",
    "Luggage",
    "Progress",
    "SessionLog",
    "TestLog",
    "as_csv",
    "as_json",
    "as_yaml",
    "merge",
    "progress",
    "read_form",
    "read_log",
    "unpack",
]
