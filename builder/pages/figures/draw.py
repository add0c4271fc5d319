"""The marks that every figure is made of, in millimetres from the top left corner, and a straight scale.

A figure is a value made of marks, and no text in a drawing language: so a theme can draw it otherwise, and labels can
be kept clear of each other by numbers.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from itertools import count
from math import cos, pi, sin
from typing import Literal

from builder.pages.faces import DRAWN
from builder.pages.widths import POINT

SMALL = 2.65
"""Height in mm of the smallest type in a figure: 7.5 pt."""
PLAIN = 3.0

BLACK = "#000000"
# Greys alone, besides the accent of the brand: a figure must tell the same where nothing is printed in colour.
INK, DARK, MID, LIGHT, PALE, PAPER = "#1a1a1a", "#4d4d4d", "#8a8a8a", "#c4c4c4", "#ececec", "#ffffff"


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle; `dash` as in SVG, "" for a whole line."""

    x: float
    y: float
    width: float
    height: float
    fill: str = PAPER
    stroke: str = "none"
    line: float = 0.25
    round: float = 0.0
    dash: str = ""
    kind: Literal["box"] = field(default="box", init=False)


@dataclass(frozen=True, slots=True)
class Path:
    """A line through points, open; `dash` as in SVG, "" for a whole line."""

    points: tuple[tuple[float, float], ...]
    colour: str = INK
    line: float = 0.25
    dash: str = ""
    kind: Literal["path"] = field(default="path", init=False)

    @property
    def drawn(self) -> str:
        """The points as SVG writes them."""
        return " ".join(f"{x:g},{y:g}" for x, y in self.points)


@dataclass(frozen=True, slots=True)
class Dot:
    """A disc with a rim."""

    x: float
    y: float
    radius: float
    fill: str = INK
    stroke: str = "none"
    line: float = 0.3
    kind: Literal["dot"] = field(default="dot", init=False)


@dataclass(frozen=True, slots=True)
class Label:
    """A line of text on its baseline; `turned` runs upwards from the point."""

    x: float
    y: float
    text: str
    anchor: Literal["start", "middle", "end"] = "middle"
    size: float = SMALL
    weight: int = 500
    colour: str = INK
    turned: bool = False
    kind: Literal["label"] = field(default="label", init=False)


@dataclass(frozen=True, slots=True)
class Star:
    """A filled five-pointed star, the sign of a milestone."""

    x: float
    y: float
    radius: float = 1.4
    fill: str = INK
    kind: Literal["star"] = field(default="star", init=False)

    @property
    def drawn(self) -> str:
        """The ten corners as SVG writes them, from the top clockwise."""
        corners = ((self.radius * (1 if i % 2 == 0 else 0.42), i * pi / 5) for i in range(10))
        return " ".join(f"{self.x + r * sin(a):.2f},{self.y - r * cos(a):.2f}" for r, a in corners)


@dataclass(frozen=True, slots=True)
class Outline:
    """A filled outline; `drawn` is as SVG writes paths."""

    drawn: str
    fill: str = BLACK
    kind: Literal["shape"] = field(default="shape", init=False)


Mark = Box | Path | Dot | Label | Star | Outline


@dataclass(frozen=True, slots=True)
class Drawing:
    """A figure ready to be placed: its size in mm, what it shows in words, and its marks from back to front."""

    width: float
    height: float
    title: str
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Scale:
    """A straight scale: values from `low` to `high` lie between the places `start` and `end` (mm)."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float | Decimal) -> float:
        """The place of a value, to a hundredth of a millimetre."""
        span = self.high - self.low
        part = (float(value) - self.low) / span if span else 0.5
        # Finer than any printer, and the same text on every machine.
        return round(self.start + part * (self.end - self.start), 2)


def ticks(low: float, high: float, most: int = 5) -> tuple[float, ...]:
    """At most `most` + 1 round numbers from `low` to `high`, in steps of 1, 2, 2.5 or 5 times a power of ten."""
    if high <= low:
        return (low,)
    for power in count(-2):
        for base in (1.0, 2.0, 2.5, 5.0):
            step = base * 10.0**power
            first = -(-low // step)
            steps = int(high // step - first)
            if steps <= most:
                return tuple(round((first + i) * step, 4) for i in range(steps + 1))
    raise AssertionError("unreachable: the steps grow without end")


Area = tuple[float, float, float, float]
"""Left, top, right and bottom of what is taken."""


def around(x: float, y: float, half_width: float, half_height: float) -> Area:
    """The area around a point."""
    return x - half_width, y - half_height, x + half_width, y + half_height


def meet(one: Area, other: Area) -> bool:
    """Whether two areas overlap."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def wide(text: str, size: float = SMALL, weight: int = 500) -> float:
    """How wide (mm) a label is."""
    return DRAWN[weight].width(text, size / POINT)
