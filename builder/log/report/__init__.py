"""The report for the coach: what the logs of one lifter add up to, as sections that the press makes a PDF of."""

from builder.log.report.context import ReportContext
from builder.log.report.group import make_group
from builder.log.report.make import make_report
from builder.log.report.series import BlockLog, Unread, block_of, copies, series
from builder.log.report.totals import profile_tests

__all__ = [
    "BlockLog",
    "ReportContext",
    "Unread",
    "block_of",
    "copies",
    "make_group",
    "make_report",
    "profile_tests",
    "series",
]
