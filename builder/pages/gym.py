"""The gym in words: bars, collars, plates, bells, stacks, rack and helpers, as the profile gives them."""

from __future__ import annotations

from decimal import Decimal

from builder.given import Client, Gym, Steps
from builder.values.quantity import Unit
from builder.values.scalars import Amount
from builder.words import NARROW, Words


def gym_lines(words: Words, client: Client) -> tuple[tuple[str, str], ...]:
    """(what, how much) for all that the gym has, in the order in which a lifter looks for it."""
    gym, unit = client.gym, client.unit
    lines = [
        ("bars", " · ".join(f"{name} {_shown(words, bar.weight, unit)}" for name, bar in gym.bars.items())),
        ("collars", _collars(words, gym, unit)),
        ("plates", " · ".join(_pairs(words, plate, n, unit) for plate, n in gym.pairs.items() if n)),
        ("dumbbells", _steps(words, gym.dumbbells, unit) if gym.dumbbells else ""),
        ("kettlebells", _steps(words, gym.kettlebells, unit) if gym.kettlebells else ""),
        ("stacks", " · ".join(f"{name}: {_steps(words, s, unit)}" for name, s in gym.stacks.items())),
        ("pins", _pins(words, gym)),
        ("safety", _safety(words, gym)),
        ("rounding", words(f"gym.rounding.{gym.rounding}")),
    ]
    return tuple((words(f"gym.{key}"), text) for key, text in lines if text)


def _shown(words: Words, amount: Amount, unit: Unit) -> str:
    return f"{words.number(amount.number)}{NARROW}{amount.unit or unit}"


def _collars(words: Words, gym: Gym, unit: Unit) -> str:
    own = [(name, bar.collars) for name, bar in gym.bars.items() if bar.collars is not None]
    usual = _each(words, gym.collars, unit) if gym.collars.number else words("gym.collars.none")
    weigh = gym.collars.number or any(collars.number for _, collars in own)
    # Who is never spotted presses over the chest without them: the caution `no-spotter`.
    off = (words("gym.collars.off"),) if weigh and gym.spotter == "never" else ()
    return " · ".join((usual, *(f"{name}: {_each(words, collars, unit)}" for name, collars in own), *off))


def _each(words: Words, collars: Amount, unit: Unit) -> str:
    return words("gym.collars.each", load=_shown(words, collars, unit))


def _pairs(words: Words, plate: Amount, pairs: int, unit: Unit) -> str:
    # A plate of the other unit keeps its unit, or it would be taken for one of the gym's own.
    foreign = plate.unit is not None and plate.unit is not unit
    label = _shown(words, plate, unit) if foreign else words.number(plate.number)
    return words("gym.pairs", plate=label, pairs=pairs)


def _steps(words: Words, steps: Steps | tuple[Amount, ...], unit: Unit) -> str:
    if not isinstance(steps, Steps):
        return f"{_listed(words, steps)}{NARROW}{unit}"
    text = words(
        "gym.steps", low=words.number(steps.start.number), high=_shown(words, steps.to, unit),
        step=words.number(steps.step.number),
    )  # fmt: skip
    if not steps.add:
        return text
    return words("gym.steps.add", steps=text, add=_listed(words, steps.add))


def _listed(words: Words, amounts: tuple[Amount, ...]) -> str:
    return words("list.between").join(words.number(amount.number) for amount in amounts)


def _pins(words: Words, gym: Gym) -> str:
    if gym.pins is None:
        return ""
    top = gym.pins.height(gym.pins.holes)
    return words("gym.pins.text", holes=gym.pins.holes, low=_cm(words, gym.pins.first), high=_cm(words, top),
                 spacing=_cm(words, gym.pins.spacing))  # fmt: skip


def _cm(words: Words, height: Decimal) -> str:
    return f"{words.number(height)}{NARROW}cm"


def _safety(words: Words, gym: Gym) -> str:
    safeties = words("gym.safeties.yes" if gym.safeties else "gym.safeties.no")
    return f"{safeties} · {words(f'gym.spotter.{gym.spotter}')}"
