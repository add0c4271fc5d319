"""A few pages of a booklet to look at while its files are written: made once, or again after each change."""

from builder.work.preview.desk import Desk
from builder.work.preview.follow import watch
from builder.work.preview.page import PagesWanted, PreviewPages, preview

__all__ = ["Desk", "PagesWanted", "PreviewPages", "preview", "watch"]
