"""`python -m builder.manual` writes the reference anew, tables that the README shares, and the widths of our fonts."""

from builder import places
from builder.manual import shipped
from builder.manual.compose import PLACE, composed, with_shared

PLACE.write_text(composed(), encoding="utf-8")
README = places.PACKAGE.parent / "README.md"
if README.is_file():
    README.write_text(with_shared(README.read_text(encoding="utf-8")), encoding="utf-8")
shipped.PLACE.write_text(shipped.shipped_widths(), encoding="utf-8")
