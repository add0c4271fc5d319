"""Exact masses: Decimals in kilograms inside, the lifter's unit at the edges."""

from decimal import ROUND_HALF_EVEN, Decimal
from enum import StrEnum
from typing import NewType

LB_IN_KG = Decimal("0.45359237")
"""One pound in kilograms, exactly (international yard and pound agreement of 1959; NIST SP 811, App. B)."""

HAIR = Decimal("1e-9")
"""kg by which a mass may differ when it is worked out in two ways: the last digits of a formula, never a plate."""


OnBar = NewType("OnBar", Decimal)
"""kg on the bar, the bell or the belt: what is loaded and printed."""

WithBody = NewType("WithBody", Decimal)
"""kg with the bodyweight that a movement lifts besides: what equations, records and shares of a max are about."""


NOTHING = OnBar(Decimal(0))


def with_body(load: OnBar, own: Decimal) -> WithBody:
    """All that is lifted, where `own` kg of the body count."""
    return WithBody(load + own)


def on_bar(whole: WithBody, own: Decimal, part: Decimal = Decimal(1)) -> OnBar:
    """What is to be loaded for a part of all that is lifted; below nothing where the body alone is more."""
    return OnBar(whole * part - own)


class Unit(StrEnum):
    """A unit that a lifter's gym counts in."""

    KG = "kg"
    LB = "lb"


IN_KG = {Unit.KG: Decimal(1), Unit.LB: LB_IN_KG}
"""One of each unit in kilograms."""


class Rounding(StrEnum):
    """Which loadable neighbour of a target is taken."""

    NEAREST = "nearest"
    DOWN = "down"
    UP = "up"


class Ties(StrEnum):
    """Which neighbour is taken when both are equally near."""

    LIGHTER = "lighter"
    HEAVIER = "heavier"


def to_kg(amount: Decimal, unit: Unit) -> Decimal:
    """Mass in kg of `amount` counted in `unit`; exact."""
    return amount * IN_KG[unit]


def in_unit(mass: Decimal, unit: Unit) -> Decimal:
    """`mass` (kg) counted in `unit`; exact whenever the quotient has at most 28 digits."""
    return mass / IN_KG[unit]


def plain(number: Decimal) -> str:
    """The shortest decimal writing of `number`: no exponent, no trailing zeros, "0" for zero."""
    text = format(number, "f")
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def to_places(number: Decimal, places: int) -> Decimal:
    """`number` with `places` decimals, half to even: for showing a value that need not be exact."""
    # Half to even, so that rounding a row of figures moves its sum to neither side.
    return number.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_EVEN)
