"""The press: HTML and style sheets become one tagged, fillable, archivable PDF."""

from builder.press.files import UnreadablePdfError, Writing, filled_fields, write_together, write_whole
from builder.press.fonts import HEADING, TEXT, Face, shipped, text_signs
from builder.press.parts import Attached, DocumentMeta, OutlineEntry, PageLabel, Pressed, PressError
from builder.press.run import press

__all__ = [
    "HEADING",
    "TEXT",
    "Attached",
    "DocumentMeta",
    "Face",
    "OutlineEntry",
    "PageLabel",
    "PressError",
    "Pressed",
    "UnreadablePdfError",
    "Writing",
    "filled_fields",
    "press",
    "shipped",
    "text_signs",
    "write_together",
    "write_whole",
]
