"""The press: HTML and style sheets become one tagged, fillable, archivable PDF."""

from builder.press.files import Inside, UnreadablePdfError, filled_fields, inside
from builder.press.fonts import HEADING, TEXT, Face, shipped, text_signs
from builder.press.lock import locked, unlocked
from builder.press.parts import Attached, DocumentMeta, OutlineEntry, PageLabel, Pressed, PressError
from builder.press.run import press
from builder.press.strangers import MOST_PICTURE_BYTES, PICTURE_HELP, picture_fault

__all__ = [
    "HEADING",
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
    "filled_fields",
    "inside",
    "locked",
    "picture_fault",
    "press",
    "shipped",
    "text_signs",
    "unlocked",
]
