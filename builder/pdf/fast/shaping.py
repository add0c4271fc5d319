"""Words shaped once: numbers and captions stand on the pages thousands of times, in the same type and width."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from functools import lru_cache
from itertools import count
from typing import Any

from weasyprint import draw
from weasyprint.layout import inline, preferred
from weasyprint.text import line_break

from builder.pdf.fast.drawn import Drawn
from builder.pdf.fast.patches import replaced

# One that is missing would give a text the shape of another; a test finds out which the typesetter reads.
READ = (
    "direction", "font_family", "font_feature_settings", "font_kerning", "font_language_override", "font_size",
    "font_stretch", "font_style", "font_variant_alternates", "font_variant_caps", "font_variant_east_asian",
    "font_variant_ligatures", "font_variant_numeric", "font_variant_position", "font_variation_settings",
    "font_weight", "hyphenate_character", "hyphenate_limit_chars", "hyphenate_limit_zone", "hyphens", "lang",
    "letter_spacing", "line_height", "overflow_wrap", "tab_size", "text_decoration_line", "white_space",
    "word_break", "word_spacing",
)  # fmt: skip
"""All properties that the typesetter reads when it shapes text."""


# One count for all memories: a style keeps its number, and may meet another memory than the one that gave it.
_NUMBERS = count()


@contextmanager
def shaped_once(memory: Memory | None = None) -> Iterator[None]:
    """While this lasts, text of the same type and width is shaped and drawn once, and fonts are described once.

    Within itself it goes on with what it knows. With a `memory` it begins with what that knows, and adds to it: the
    fonts must be those of one configuration.
    """
    if isinstance(getattr(inline.split_first_line, "__self__", None), Memory):
        yield
        return
    memory = memory or Memory()
    described = {"get_font_description": memory.described, "font_features": memory.features}
    with ExitStack() as stack:
        stack.enter_context(replaced(line_break, described))
        stack.enter_context(replaced(inline, {"split_first_line": memory.split, "strut": memory.strut}))
        stack.enter_context(replaced(preferred, {"split_first_line": memory.split}))
        stack.enter_context(replaced(draw, {"draw_text": memory.drawn.draw}))
        yield


class Memory:
    """What was shaped and drawn, by the type it is set in."""

    def __init__(self) -> None:
        self.usual_split, self.usual_strut = line_break.split_first_line, line_break.strut
        self.usual_description = line_break.get_font_description
        self.features = lru_cache(maxsize=None)(line_break.font_features)
        self.drawn = Drawn(self.type)
        self.types: dict[tuple[Any, ...], int] = {}
        self.lines: dict[tuple[Any, ...], tuple[Any, ...]] = {}
        self.struts: dict[int, tuple[float, float]] = {}
        self.descriptions: dict[int, Any] = {}

    def type(self, style: Any) -> int:
        """A number for the values of all properties in `READ`."""
        known: int | None = style.__dict__.get("type_number")
        if known is None:
            values = tuple(_hashable(style[name]) for name in READ)
            known = style.type_number = self.types.setdefault(values, next(_NUMBERS))
        return known

    def split(self, text: str, style: Any, context: Any, *rest: Any, **options: Any) -> tuple[Any, ...]:
        """The first line of `text`, with a layout of its own that may be changed."""
        key = (text, self.type(style), *rest, *options.items())
        known = self.lines.get(key)
        if known is None:
            known = self.lines[key] = self.usual_split(text, style, context, *rest, **options)
        # A new one each time: the typesetter changes a layout when it justifies a line or breaks it anew.
        layout = object.__new__(line_break.Layout)
        layout.__dict__.update(known[0].__dict__)
        return (layout, *known[1:])

    def strut(self, style: Any) -> tuple[float, float]:
        """Height and baseline of an empty line."""
        key = self.type(style)
        if key not in self.struts:
            self.struts[key] = self.usual_strut(style)
        return self.struts[key]

    def described(self, style: Any) -> Any:
        """The description of a font."""
        key = self.type(style)
        if key not in self.descriptions:
            self.descriptions[key] = self.usual_description(style)
        return self.descriptions[key]


def _hashable(value: Any) -> Any:
    return frozenset(value) if isinstance(value, set) else tuple(value) if isinstance(value, list) else value
