"""The report for the coach: what the logs of one lifter add up to, as sections that the press makes a PDF of."""

from builder.log.report.context import ReportContext
from builder.log.report.make import make_report
from builder.log.report.series import Block, Unread, series
from builder.log.report.totals import profile_tests

__all__ = ["Block", "ReportContext", "Unread", "make_report", "profile_tests", "series"]
