"""Sizes resolved once: boxes of one style, in blocks of one size, have the same margins, paddings and borders."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from typing import Any

from weasyprint.formatting_structure import boxes
from weasyprint.layout import absolute, block, column, float, inline, percent, table

from builder.pdf.fast.patches import replaced

_SIDES = ("top", "right", "bottom", "left")
_BORDERS = tuple(f"border_{side}_width" for side in _SIDES)
_SIZES = tuple(f"{most}{way}" for most in ("", "min_", "max_") for way in ("width", "height"))
# A box whose style was met before gets these and nothing else; a test fails when the typesetter begins to set more.
SET = (*(f"{part}_{side}" for part in ("margin", "padding") for side in _SIDES), *_SIZES, *_BORDERS)
"""All that the typesetter sets when it resolves percentages."""


@contextmanager
def resolved_once() -> Iterator[None]:
    """While this lasts, a style keeps what its boxes are given in blocks of each size."""
    usual = percent.resolve_percentages

    def resolve(box: Any, containing_block: Any) -> None:
        # Margins and paddings above and below are shares of the height for a page, and of the width for all other
        # boxes.
        if isinstance(box, boxes.PageBox):
            usual(box, containing_block)
            return
        style, own, around = box.style, box.__dict__, containing_block
        width, height = (around.width, around.height) if isinstance(around, boxes.Box) else around
        # Borders that collapsed into one another are the box's own.
        borders = tuple(map(own.get, _BORDERS)) if style["border_collapse"] == "collapse" else ()
        known = style.__dict__.setdefault("resolved", {})
        found = known.get((width, height, borders))
        if found is None:
            usual(box, containing_block)
            known[width, height, borders] = {name: own[name] for name in SET}
        else:
            own.update(found)

    with ExitStack() as stack:
        # Each module has the function under a name of its own: replaced in `percent`, it would go on as before.
        for module in (absolute, block, column, float, inline, table):
            stack.enter_context(replaced(module, {"resolve_percentages": resolve}))
        yield
