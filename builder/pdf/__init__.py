"""The press: HTML and style sheets become one tagged, fillable, archivable PDF."""

from builder.pdf.files import Inside, UnreadablePdfError, inside
from builder.pdf.fonts import HEADING, TEXT, Face, shipped, text_signs
from builder.pdf.lock import locked, unlocked
from builder.pdf.parts import Attached, DocumentMeta, OutlineEntry, PageLabel, Pressed, PressError
from builder.pdf.run import press
from builder.pdf.strangers import MOST_FONT_BYTES, MOST_PICTURE_BYTES, PICTURE_HELP, picture_fault

__all__ = [
    "HEADING",
    "MOST_FONT_BYTES",
    "MOST_PICTURE_BYTES",
    "PICTURE_HELP",
    "TEXT",
    "Attached",
    "DocumentMeta",
    "Face",
    "Inside",
    "OutlineEntry",
    "PageLabel",
    "PressError",
    "Pressed",
    "UnreadablePdfError",
    "inside",
    "locked",
    "picture_fault",
    "press",
    "shipped",
    "text_signs",
    "unlocked",
]
