"""The table of the widths of the faces that come along, as `python -m builder.manual` writes it."""

from __future__ import annotations

from collections.abc import Iterator

from builder import places
from builder.pages.faces import told
from builder.pages.widths import Advances
from builder.pdf.advances import TABULAR, advances, over
from builder.pdf.fonts import HEADING, TEXT, shipped

PLACE = places.PACKAGE / "pages" / "advances.py"
_OPENING = '''"""How wide the signs of our fonts are; `python -m builder.manual` reads it from the font files.

Of each face a text of signs, and one of pairs that stand nearer or farther: a line for each width, in thousandths of
an em, and all that has it. Where the heading family lacks a sign, it is that of the text family.
"""

'''
_KEPT = (range(0x20, 0x180), range(0x370, 0x460), range(0x2000, 0x2800))
"""Latin, Greek, Cyrillic, punctuation, arrows, mathematics and shapes; others count as wide as the widest of these."""
_LINE = 112


def shipped_widths() -> str:
    """The module that has the widths."""
    faces = {
        "TEXT_400": _kept(_face(TEXT, 400)),
        "TEXT_700": _kept(_face(TEXT, 700)),
        **{f"HEADING_{weight}": _kept(_stack(weight, TABULAR)) for weight in (500, 600, 700)},
        **{f"DRAWN_{weight}": _kept(_stack(weight, ())) for weight in (500, 600)},
    }
    return _OPENING + "".join(line for name, face in faces.items() for line in _assigned(name, *told(face)))


def _face(family: str, weight: int, features: tuple[str, ...] = TABULAR) -> Advances:
    (file,) = (
        one.file for one in shipped() if (one.family, one.weight, one.style) == (family, weight, "normal")
    )
    return advances(file, features)


def _stack(weight: int, features: tuple[str, ...]) -> Advances:
    return over(_face(HEADING, weight, features), _face(TEXT, 400 if weight == 500 else weight, features))


def _kept(face: Advances) -> Advances:
    signs = {sign: em for sign, em in face.signs.items() if any(ord(sign) in kept for kept in _KEPT)}
    return Advances(signs, face.pairs)


def _assigned(name: str, *texts: str) -> Iterator[str]:
    yield f"{name} = (\n"
    for text in texts:
        yield "".join(f"    {piece!r}\n" for piece in _pieces(text)).rstrip() + ",\n"
    yield ")\n"


def _pieces(text: str) -> Iterator[str]:
    """A text in pieces that have a line of source each."""
    piece = ""
    for sign in text:
        if len(repr(piece + sign)) > _LINE:
            yield piece
            piece = ""
        piece += sign
    yield piece
