"""The loaded side: the plates of one end of the bar, to scale by diameter and thickness, with their values."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from builder.given.brand import PlateColours
from builder.pages.figures.draw import DARK, INK, LIGHT, MID, PALE, PAPER, SMALL, Box, Drawing, Label, Mark, wide
from builder.training.loading import Rung
from builder.words import Words

# Discs of 20 kg and more are at most 450 mm wide and 60 mm thick, those of 15 kg and less at most 30 mm
# (IPF Technical Rules 2026, p. 9, as quoted by others). The steps below are common practice, no source.
_SIZES: tuple[tuple[Decimal, float, float], ...] = tuple(
    (Decimal(kg), diameter, thickness)
    for kg, diameter, thickness in (
        ("25", 450, 54), ("20", 450, 46), ("15", 400, 30), ("10", 325, 28), ("5", 230, 26),
        ("2.5", 190, 22), ("1.25", 160, 19), ("0.5", 135, 17), ("0", 112, 16),
    )
)  # fmt: skip
LARGEST = 450.0

# Each dark enough, or light enough, for the value printed on it (4.5:1, as tested).
_GREYS = (
    (Decimal(20), "#404040", PAPER), (Decimal(10), "#6e6e6e", PAPER), (Decimal("2.5"), LIGHT, INK),
    (Decimal(0), PALE, INK),
)  # fmt: skip

# Disc colours of the IWF's rules; the IPF's agree for 25, 20 and 15 kg and leave the others open.
_FEDERATION: Mapping[Decimal, tuple[str, str]] = {
    Decimal(25): ("#b3261e", PAPER), Decimal(20): ("#1f4f9e", PAPER), Decimal(15): ("#f0c419", INK),
    Decimal(10): ("#23703c", PAPER), Decimal(5): (PAPER, INK), Decimal("2.5"): ("#b3261e", PAPER),
    Decimal(2): ("#1f4f9e", PAPER), Decimal("1.5"): ("#f0c419", INK), Decimal(1): ("#23703c", PAPER),
    Decimal("0.5"): (PAPER, INK),
}  # fmt: skip


def plate_size(kg: Decimal) -> tuple[float, float]:
    """Diameter and thickness in mm of a plate of `kg`: the largest usual size that is not heavier, within 5 %."""
    return next((d, t) for least, d, t in _SIZES if kg >= least * Decimal("0.9"))


def plate_look(kg: Decimal, scheme: PlateColours) -> tuple[str, str]:
    """Fill and ink of a plate; a plate that the federation scheme does not name is grey."""
    if scheme == "federation" and kg in _FEDERATION:
        return _FEDERATION[kg]
    return next((fill, ink) for least, fill, ink in _GREYS if kg >= least * Decimal("0.9"))


def side_drawing(
    words: Words, rung: Rung, plates: Mapping[str, Decimal], height: float, scheme: PlateColours = "grey"
) -> Drawing:
    """One end of the bar as it lies in front of the lifter, inside left; `plates` has the kg of each label.

    `height` (mm) is that of the largest plate. Thicknesses share one scale too, stretched so far that the value
    fits on the thinnest plate.
    """
    row = [(label, plates[label]) for label, count in rung.side for _ in range(count)]
    thinnest = min((plate_size(kg)[1] for _, kg in row), default=16.0)
    stretch = max(height / LARGEST, SMALL * 0.9 / thinnest)
    middle = height / 2
    marks: list[Mark] = [Box(1.6, round(middle - height * 0.06, 2), 1.4, round(height * 0.12, 2), DARK)]
    x = 3.0
    for label, kg in row:
        marks += _plate(words.plates(label), kg, x, middle, height / LARGEST, stretch, SMALL, scheme)
        x = round(x + plate_size(kg)[1] * stretch + 0.15, 2)
    sleeve = round(x + max(4.0, height * 0.2), 2)
    thin = round(height * 0.026, 2)
    bar = [
        Box(0, round(middle - thin, 2), 2.0, round(2 * thin, 2), MID),
        Box(3.0, round(middle - thin * 1.7, 2), round(sleeve - 3.0, 2), round(thin * 3.4, 2), LIGHT, MID),
    ]
    return Drawing(sleeve + 0.3, height, _title(words, row), (*bar, *marks))


def _plate(
    label: str, kg: Decimal, x: float, middle: float, scale: float, stretch: float, size: float, scheme: PlateColours
) -> list[Mark]:
    diameter, thickness = plate_size(kg)
    tall, width = round(diameter * scale, 2), round(thickness * stretch, 2)
    fill, ink = plate_look(kg, scheme)
    body = Box(x, round(middle - tall / 2, 2), width, tall, fill, INK, 0.2, min(0.6, width / 4))
    centre = x + width / 2
    number = label.split()[0]
    long = wide(number, size, 600)
    if long < width - 0.4:
        text = Label(round(centre, 2), round(middle + size * 0.35, 2), number, size=size, weight=600, colour=ink)
        return [body, text]
    start = round(middle + long / 2, 2)
    turned = Label(round(centre + size * 0.35, 2), start, number, "start", size, 600, ink, turned=True)
    return [body, turned]


def _title(words: Words, row: list[tuple[str, Decimal]]) -> str:
    if not row:
        return words("figure.side.empty")
    return words("figure.side.title", plates=words("list.between").join(words.plates(label) for label, _ in row))
