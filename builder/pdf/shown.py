"""What a viewer shows on top of a page: the looks of filled fields and notes, and values that have no look."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import pikepdf

from builder.pdf.forms.found import full_name, inherited
from builder.values.problem import Problem

HIDDEN, PRINTED = 2, 4
TEXT = {"Tj", "TJ", "'", '"'}
PAINT = TEXT | {"S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "sh", "Do", "INLINE IMAGE"}
# A drawing may hold itself, by way of others.
DEEPEST = 8
MOST_NAMED = 5


@dataclass(frozen=True, slots=True)
class Appearance:
    """A drawing and the six numbers that place it on its page, as ISO 32000-1, 12.5.5, works them out."""

    drawing: Any
    placing: tuple[float, ...]


def looks(page: Any) -> Iterator[Appearance]:
    """The looks of the annotations that would be printed, in order; those that draw nothing are left out.

    So is that of a text field without a value: a program that fills in another field may have drawn on it.
    """
    for annotation in _printed(page):
        # Blank fields of one size share a look.
        if _is_text(annotation) and not _holds(annotation):
            continue
        drawing = _drawing(annotation)
        if drawing is not None and _draws(drawing, PAINT):
            placing = _placing(drawing, annotation.Rect)
            if placing:
                yield Appearance(drawing, placing)


def unseen(pages: Any) -> tuple[Problem, ...]:
    """A problem when fields hold values that no look shows, so that the print would lose them."""
    widgets = (a for page in pages for a in _printed(page) if a.get("/Subtype") == "/Widget")
    filled = [widget for widget in widgets if _holds(widget)]
    torn = _torn(filled)
    lost = [widget for widget in filled if not _shows(widget) or _drawing(widget).objgen in torn]
    if not lost:
        return ()
    names = [full_name(widget) or "without a name" for widget in lost]
    more = " …" if len(names) > MOST_NAMED else ""
    what = "1 filled field has" if len(names) == 1 else f"{len(names)} filled fields have"
    fact = f"{what} a value that the file does not draw ({', '.join(names[:MOST_NAMED])}{more})"
    help_ = "Open it in another viewer, save it there and impose that copy; or print without values: --blank."
    return (Problem("value-unseen", None, fact, help_),)


def _printed(page: Any) -> Iterator[Any]:
    for annotation in page.get("/Annots", ()):
        flags = int(annotation.get("/F", 0))
        if flags & PRINTED and not flags & HIDDEN and "/Rect" in annotation:
            yield annotation


def _drawing(annotation: Any) -> Any:
    """The normal appearance in its present state, None when there is none."""
    normal = annotation.get("/AP", pikepdf.Dictionary()).get("/N")
    if isinstance(normal, pikepdf.Dictionary):
        state = annotation.get("/AS")
        normal = normal.get(str(state)) if state is not None else None
    return normal if isinstance(normal, pikepdf.Stream) else None


def _placing(drawing: Any, rect: Any) -> tuple[float, ...]:
    """The matrix from the drawing's box to the annotation's rectangle, empty when either has no area."""
    matrix = pikepdf.Matrix(drawing.get("/Matrix", pikepdf.Array([1, 0, 0, 1, 0, 0])))
    left, bottom, right, top = (float(number) for number in drawing.BBox)
    corners = [matrix.transform((x, y)) for x in (left, right) for y in (bottom, top)]
    xs, ys = sorted(x for x, _ in corners), sorted(y for _, y in corners)
    x0, x1 = sorted(float(rect[i]) for i in (0, 2))
    y0, y1 = sorted(float(rect[i]) for i in (1, 3))
    width, height = xs[-1] - xs[0], ys[-1] - ys[0]
    if not (width and height and x1 > x0 and y1 > y0):
        return ()
    across, up = (x1 - x0) / width, (y1 - y0) / height
    return (across, 0, 0, up, x0 - xs[0] * across, y0 - ys[0] * up)


def _torn(filled: Sequence[Any]) -> set[tuple[int, int]]:
    """The drawings that stand for several text fields with different values: at most one of those is shown."""
    values: dict[tuple[int, int], set[str]] = {}
    for widget in filled:
        drawing = _drawing(widget)
        if drawing is not None and _is_text(widget):
            values.setdefault(drawing.objgen, set()).add(_text(inherited(widget, "/V")))
    return {place for place, texts in values.items() if len(texts) > 1}


def _is_text(annotation: Any) -> bool:
    return annotation.get("/Subtype") == "/Widget" and inherited(annotation, "/FT") in ("/Tx", "/Ch")


def _shows(annotation: Any) -> bool:
    """Whether the look of a filled field shows a value: some text, or anything at all for a tick."""
    drawing = _drawing(annotation)
    if drawing is None:
        return False
    return _draws(drawing, PAINT if inherited(annotation, "/FT") in ("/Btn", "/Sig") else TEXT)


def _holds(annotation: Any) -> bool:
    """Whether the field of a widget has a value. Of ticks that share a field only the chosen one counts."""
    value, state = inherited(annotation, "/V"), annotation.get("/AS")
    if inherited(annotation, "/FT") != "/Btn":
        return value is not None and _text(value) != ""
    if "/T" not in annotation and state is not None:
        return bool(state != "/Off")
    return any(part not in (None, "/Off") for part in (value, state))


def _text(value: Any) -> str:
    return "…" if isinstance(value, pikepdf.Stream | pikepdf.Array | pikepdf.Dictionary) else str(value).strip()


def _draws(drawing: Any, wanted: set[str], depth: int = 0) -> bool:
    """Whether a content stream uses one of the operators; text only counts when it has a sign."""
    for step in pikepdf.parse_content_stream(drawing):
        operands, name = step.operands, str(step.operator)
        if name == "Do" and depth < DEEPEST:
            below = drawing.get("/Resources", {}).get("/XObject", {}).get(str(operands[0]))
            if below is not None and (below.get("/Subtype") == "/Image" or _draws(below, wanted, depth + 1)):
                return True
        elif name in wanted and (name not in TEXT or _signs(operands[-1])):
            return True
    return False


def _signs(operand: Any) -> bool:
    parts = operand if isinstance(operand, pikepdf.Array) else [operand]
    return any(isinstance(part, pikepdf.String) and bytes(part).strip() for part in parts)
