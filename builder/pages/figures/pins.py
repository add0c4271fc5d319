"""The pins come down: their height above the floor at each exposure of a pin drill."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from builder.pages.figures.draw import DARK, LIGHT, PALE, Box, Drawing, Label, Mark, Path, Scale
from builder.plan.model import PinStep
from builder.words import Words

TOP, FLOOR = 6.0, 36.0
HEIGHT = 41.0


@dataclass(frozen=True, slots=True)
class PinPoint:
    """Where the pins stand on one day, and the load in kg lifted from them (None: found by feel)."""

    on: date
    pin: PinStep
    load: Decimal | None


def pins_drawing(words: Words, lift: str, points: tuple[PinPoint, ...], width: float, accent: str) -> Drawing | None:
    """A post for each day with the pin drawn at its height; None when no height in cm is known."""
    heights = [p.pin.centimetres for p in points if p.pin.centimetres is not None]
    if len(heights) < len(points) or not heights:
        return None
    scale = Scale(0, float(max(heights)) * 1.12, FLOOR, TOP)
    column = width / len(points)
    marks: list[Mark] = [Path(((0, FLOOR), (width, FLOOR)), DARK, 0.4)]
    for i, point in enumerate(points):
        marks += _post(words, point, column * (i + 0.5), min(column, 22.0), scale, accent)
    said = "; ".join(_said(words, point) for point in points)
    return Drawing(width, HEIGHT, words("figure.pins.title", lift=words.movement(lift), all=said), tuple(marks))


def _post(words: Words, point: PinPoint, x: float, column: float, scale: Scale, accent: str) -> list[Mark]:
    y, half = scale.at(point.pin.centimetres or 0), column * 0.42
    left, right = (Box(round(at - 0.7, 2), TOP, 1.4, FLOOR - TOP, PALE, LIGHT) for at in (x - half, x + half))
    pin = Box(round(x - half - 0.7, 2), y, round(2 * half + 1.4, 2), 1.1, accent, DARK, 0.15)
    words_ = [
        Label(round(x, 2), y - 1.2, pin_text(words, point.pin), weight=600),
        Label(
            round(x, 2),
            FLOOR + 3.6,
            words.day(point.on) if column > 15 else words("glance.date", day=point.on.day, month=words.month(point.on)),
        ),
    ]
    if point.load is not None:
        words_.append(Label(round(x, 2), y + 4.6, words.mass(point.load), colour=DARK))
    return [left, right, pin, *words_]


def pin_text(words: Words, pin: PinStep) -> str:
    """A pin height as printed: the hole, the centimetres, or both."""
    if pin.hole is None:
        return words("pin.cm", cm=words.number(pin.centimetres or Decimal(0)))
    if pin.centimetres is None:
        return words("pin.hole", hole=pin.hole)
    return words("pin.both", hole=pin.hole, cm=words.number(pin.centimetres))


def _said(words: Words, point: PinPoint) -> str:
    load = words.mass(point.load) if point.load is not None else words("figure.none")
    return words("figure.pins.said", day=words.day(point.on), pin=pin_text(words, point.pin), load=load)
