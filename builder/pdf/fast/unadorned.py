"""What a style says of all its boxes is asked of it once: whether they are in the flow, and have ground or corners."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from typing import Any

from weasyprint import draw
from weasyprint.draw.color import get_color
from weasyprint.formatting_structure import boxes
from weasyprint.layout import absolute, background

from builder.pdf.fast.patches import replaced

_CORNERS = tuple(f"border_{corner}_radius" for corner in ("top_left", "top_right", "bottom_right", "bottom_left"))
_SQUARE = dict.fromkeys(_CORNERS, (0, 0))
_NONE = (0, "px")


@contextmanager
def asked_once() -> Iterator[None]:
    """While this lasts, the typesetter spends nothing on the grounds and borders of boxes that have none."""
    laid, drawn, flows = background.layout_box_backgrounds, draw.draw_border, boxes.Box.is_in_normal_flow

    def lay(page: Any, box: Any, images: Any, layout_children: bool = True, style: Any = None) -> None:
        if style is not None or box is page or not _bare(box.style):
            laid(page, box, images, layout_children, style)
            return
        # Into the dictionary itself, which a placeholder does not hand on to its box as it does attributes.
        vars(box._box if isinstance(box, absolute.AbsolutePlaceholder) else box).update(_SQUARE, background=None)
        for child in box.all_children() if layout_children else ():
            lay(page, child, images)

    def border(stream: Any, box: Any) -> None:
        # Asked of the box: where borders collapse they are not those of its style.
        widths = (box.border_top_width, box.border_right_width, box.border_bottom_width, box.border_left_width)
        if any(widths) or not _bare(box.style):
            drawn(stream, box)

    def in_flow(box: Any) -> bool:
        known = box.style.__dict__
        if "in_flow" not in known:
            known["in_flow"] = flows(box)
        return bool(known["in_flow"])

    with ExitStack() as stack:
        stack.enter_context(replaced(background, {"layout_box_backgrounds": lay}))
        stack.enter_context(replaced(draw, {"draw_border": border}))
        stack.enter_context(replaced(boxes.Box, {"is_in_normal_flow": in_flow}))
        yield


def _bare(style: Any) -> bool:
    """Whether nothing of a style is drawn but borders that have a width: no ground, picture, shadow, corner or rule."""
    known = style.__dict__
    if "bare" not in known:
        known["bare"] = (
            style["border_image_source"][0] == style["mask_border_source"][0] == "none"
            # A corner is square as soon as one of its two radii is nought (CSS Backgrounds 3, 4.1).
            and all(_NONE in style[corner] for corner in _CORNERS)
            and not any(value for kind, value in style["background_image"] if kind != "none")
            and get_color(style, "background_color").alpha == 0
            and not style["box_shadow"]
            and style["column_width"] == style["column_count"] == "auto"
        )
    return bool(known["bare"])
