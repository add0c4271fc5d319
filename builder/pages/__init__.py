"""The booklet: a plan, a brand and words become pages, rows, labels and form fields; no file is read here."""

from builder.pages.context import CoachPage, Context, Texts
from builder.pages.model import Booklet, Edition, Paper, Section
from builder.words import Words

__all__ = ["Booklet", "CoachPage", "Context", "Edition", "Paper", "Section", "Texts", "Words"]
