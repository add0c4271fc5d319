"""`python -m builder.manual` writes the reference anew, and the sheet of sayings in the README beside the package."""

from builder import places
from builder.manual.compose import PLACE, composed, with_sayings

PLACE.write_text(composed(), encoding="utf-8")
README = places.PACKAGE.parent / "README.md"
if README.is_file():
    README.write_text(with_sayings(README.read_text(encoding="utf-8")), encoding="utf-8")
