"""How wide text is and how many lines it takes, counted from the advances of the fonts as the typesetter counts.

Pages are filled before they are laid out, so it must be known beforehand what turns over. A guess by the number of
letters needs room to be safe, and that room is then missing on every page. So each sign counts with the width that
its font gives it, pairs with what the shaper moves them, and lines break by the typesetter's rules.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from unicodedata import category

POINT = 25.4 / 72
"""mm."""
HAIR = 0.005
"""mm that a line is taken to be narrower than it is, so that no rounding turns over what was not counted."""
CUT = 10.0
"""mm that may stay free where a word is broken that is wider than a line: a syllable in the letters of a name."""
_SPACES = re.compile(r"[ \t\n\r\f]+(?![])}/!?.,:;])")
"""Where a text turns over: at a space, unless a sign follows that begins no line (UAX 14, LB13)."""
_TURNS = re.compile(r"(?<=\w-)(?=[^\W\d_])|(?<=\w[–—/])(?=[^\W\d_])|(?<=\d–)(?=\d)")
"""Where a word turns over besides at its spaces: UAX 14, LB21 and LB25, as far as our texts have such signs."""

Parts = tuple[tuple[float, float], ...]


# Told apart by identity, since the memories below are kept by face, and its tables have no hash.
@dataclass(frozen=True, slots=True, eq=False)
class Advances:
    """How wide the signs of a face are, and by how much two of them stand farther apart, or nearer; in em."""

    signs: Mapping[str, float]
    pairs: Mapping[str, float]

    def width(self, text: str, points: float) -> float:
        """How wide a line of text is in mm."""
        return _em(self, text) * points * POINT

    def lines(self, text: str, points: float, room: float, start: float = 0.0) -> int:
        """The lines that a text takes in `room` mm, all from `start` on."""
        return turned(self.parts(text, points), room, start) if text else 0

    def parts(self, text: str, points: float) -> Parts:
        """What a text turns over between, each with its width in mm and that of the space behind it."""
        return _parts(self, text, points)


def plates(side: str) -> str:
    """The plates of a side as templates print them, which turn over behind a plus only."""
    whole = side.replace(" ", "\N{NO-BREAK SPACE}")
    return whole.replace("\N{NO-BREAK SPACE}+\N{NO-BREAK SPACE}", "\N{NO-BREAK SPACE}+ ")


def shortened(text: str) -> Iterator[str]:
    """A text, then what is left of it as words are cut from its end, and letters from its first word."""
    words = text.split(" ")
    yield text
    yield from (f"{' '.join(words[:count])} …" for count in range(len(words) - 1, 0, -1))
    yield from (f"{words[0][:count]}…" for count in range(len(words[0]) - 1, -1, -1))


def after(gap: float, parts: Parts) -> Parts:
    """Parts that have `gap` mm before the first of them."""
    (width, space), *more = parts
    return (gap + width, space), *more


def turned(parts: Iterable[tuple[float, float]], room: float, start: float = 0.0, first: float | None = None) -> int:
    """The lines that parts take, each with its width and what parts it from the next.

    The `first` line may begin elsewhere than the others do, at `start`. A part that is wider than a line is broken.
    """
    lines, used, begun, room = 1, start if first is None else first, False, room - HAIR
    for width, gap in parts:
        if begun and used + width > room:
            lines, used = lines + 1, start
        while used + width > room > used:
            # At least a millimetre goes with each line, so that this ends however narrow the room is.
            lines, width, used = lines + 1, width - max(room - used - CUT, 1.0), start
        used, begun = used + width + gap, True
    return lines


@lru_cache(maxsize=2**14)
def _parts(face: Advances, text: str, points: float) -> Parts:
    space, found = face.width(" ", points), list[tuple[float, float]]()
    for word in _SPACES.split(text):
        *firsts, last = _TURNS.split(word)
        found += [*((face.width(part, points), 0.0) for part in firsts), (face.width(last, points), space)]
    return tuple(found)


@lru_cache(maxsize=2**14)
def _em(face: Advances, text: str) -> float:
    # The shaper moves some signs nearer to each other; without that a name that just fits is taken for two lines.
    near = sum(face.pairs.get(f"{one}{next_}", 0.0) for one, next_ in pairwise(text)) if len(text) > 1 else 0.0
    return sum(_sign(face, sign) for sign in text) + near


def _sign(face: Advances, sign: str) -> float:
    """The width of a sign; one that the table lacks is as wide as the widest, unless it is none."""
    known = face.signs.get(sign)
    if known is None:
        return 0.0 if category(sign) in ("Cf", "Mn") else max(face.signs.values())
    return known
