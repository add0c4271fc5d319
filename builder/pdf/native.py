"""The typesetter with its native libraries, which Linux finds by their own names without asking a compiler."""

from __future__ import annotations

import ctypes.util
import sys
from contextlib import redirect_stdout, suppress
from io import StringIO

from builder.pdf.fast.patches import replaced


def load_typesetter() -> None:
    """Import the typesetter; OSError where a library is not there.

    It asks for each library by the names of all systems, and Python looks for those that are not this one's with
    `ldconfig`, a compiler and a linker: twenty programs, a third of the time.
    """
    if sys.platform == "linux" and "weasyprint" not in sys.modules:
        unheard = replaced(ctypes.util, {"find_library": lambda name: None})
        # What fails here is tried again below in the usual way, which finds libraries of other names and says what is
        # missing.
        with suppress(OSError), unheard, redirect_stdout(StringIO()):
            import weasyprint
    import weasyprint  # noqa: F401


__all__ = ["load_typesetter"]
