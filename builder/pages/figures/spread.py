"""The spread of an estimate: what each equation makes of one set, as dots on a line."""

from __future__ import annotations

from builder.pages.figures.draw import DARK, INK, LIGHT, PAPER, PLAIN, Dot, Drawing, Label, Mark, Path, Scale, wide
from builder.training.estimate import Equation, Spread
from builder.words import Words

HEIGHT = 13.0
LINE = 6.6


def spread_drawing(words: Words, lift: str, spread: Spread, equation: Equation, width: float, accent: str) -> Drawing:
    """A line from the lowest to the highest estimate; the equation in use is the large dot, named and valued above."""
    edge = 12.0
    scale = Scale(float(spread.low), float(spread.high), edge, width - edge)
    chosen = next(value for which, value in spread.by_equation if which is equation)
    marks: list[Mark] = [Path(((edge, LINE), (width - edge, LINE)), LIGHT, 1.1)]
    marks += [
        Dot(scale.at(value), LINE, 0.85, PAPER, DARK) for which, value in spread.by_equation if which is not equation
    ]
    marks.append(Dot(scale.at(chosen), LINE, 1.5, accent, PAPER, 0.4))
    name = words("figure.spread.chosen", equation=words(f"equation.{equation}"), load_kg=chosen)
    half = wide(name, PLAIN, 600) / 2
    middle = min(max(scale.at(chosen), half), width - half)
    marks.append(Label(round(middle, 2), LINE - 2.9, name, size=PLAIN, weight=600, colour=INK))
    marks += _ends(words, spread, scale)
    apart = words("figure.spread.apart", width_share=spread.width)
    marks.append(Label(round(width / 2, 2), LINE + 5.2, apart, colour=DARK))
    everyone = "; ".join(f"{words(f'equation.{which}')} {words.mass(value)}" for which, value in spread.by_equation)
    return Drawing(width, HEIGHT, words("figure.spread.title", lift=words.movement(lift), all=everyone), tuple(marks))


def _ends(words: Words, spread: Spread, scale: Scale) -> list[Mark]:
    low = next(which for which, value in spread.by_equation if value == spread.low)
    high = next(which for which, value in spread.by_equation if value == spread.high)
    ends = ((scale.start, "start", low, spread.low), (scale.end, "end", high, spread.high))
    return [
        Label(
            x - 12 if anchor == "start" else x + 12,
            LINE + 5.2,
            words("figure.spread.end", equation=words(f"equation.{which}"), load_kg=value),
            "start" if anchor == "start" else "end",
            colour=DARK,
        )
        for x, anchor, which, value in ends
    ]
