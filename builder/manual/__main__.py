"""`python -m builder.manual` writes the reference anew, and the tables that the README shares with it."""

from builder import places
from builder.manual.compose import PLACE, composed, with_shared

PLACE.write_text(composed(), encoding="utf-8")
README = places.PACKAGE.parent / "README.md"
if README.is_file():
    README.write_text(with_shared(README.read_text(encoding="utf-8")), encoding="utf-8")
