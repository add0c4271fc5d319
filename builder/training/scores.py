"""Scores that compare lifters of different bodyweight: GL points and load over bodyweight."""

from decimal import Decimal, localcontext
from enum import StrEnum

from builder.training.estimate import FORMULA_CONTEXT
from builder.values.lists import Sex

GL_CITATION = "International Powerlifting Federation. GL coefficients, valid from 1 May 2020."


class LiftingKit(StrEnum):
    """Whether the lift was made in supportive suits and shirts."""

    RAW = "raw"
    EQUIPPED = "equipped"


class Event(StrEnum):
    """What the result is: the total of three lifts, or the bench press alone."""

    TOTAL = "total"
    BENCH = "bench"


Coefficients = tuple[Decimal, ...]


def _numbers(text: str) -> Coefficients:
    # From text, as the federation prints them: a float would not be the same number.
    return tuple(Decimal(number) for number in text.split())


GL: dict[tuple[Sex, LiftingKit, Event], Coefficients] = {
    (Sex.MALE, LiftingKit.RAW, Event.TOTAL): _numbers("1199.72839 1025.18162 0.00921"),
    (Sex.MALE, LiftingKit.EQUIPPED, Event.TOTAL): _numbers("1236.25115 1449.21864 0.01644"),
    (Sex.MALE, LiftingKit.RAW, Event.BENCH): _numbers("320.98041 281.40258 0.01008"),
    (Sex.MALE, LiftingKit.EQUIPPED, Event.BENCH): _numbers("381.22073 733.79378 0.02398"),
    (Sex.FEMALE, LiftingKit.RAW, Event.TOTAL): _numbers("610.32796 1045.59282 0.03048"),
    (Sex.FEMALE, LiftingKit.EQUIPPED, Event.TOTAL): _numbers("758.63878 949.31382 0.02435"),
    (Sex.FEMALE, LiftingKit.RAW, Event.BENCH): _numbers("142.40398 442.52671 0.04724"),
    (Sex.FEMALE, LiftingKit.EQUIPPED, Event.BENCH): _numbers("221.82209 357.00377 0.02937"),
}
"""A, B, C of the GL formula."""


def gl_points(
    result: Decimal, bodyweight: Decimal, sex: Sex, gear: LiftingKit = LiftingKit.RAW, event: Event = Event.TOTAL
) -> Decimal:
    """GL points of a result (kg) at a bodyweight (kg): 100 x result / (A - B x exp(-C x bodyweight)).

    There are no coefficients for the squat or deadlift alone. ValueError for a bodyweight that is not
    positive or is so low that the formula has no positive denominator.
    """
    _check(bodyweight)
    a, b, c = GL[sex, gear, event]
    # The formula of the federation has an exponential; in our own digits its points come out the same everywhere.
    with localcontext(FORMULA_CONTEXT):
        return 100 * result / _positive(a - b * (-c * bodyweight).exp(), bodyweight)


def relative(load: Decimal, bodyweight: Decimal) -> Decimal:
    """A load as a multiple of bodyweight (both kg)."""
    _check(bodyweight)
    return FORMULA_CONTEXT.divide(load, bodyweight)


def _check(bodyweight: Decimal) -> None:
    if bodyweight <= 0:
        raise ValueError(f"a bodyweight of {bodyweight} kg is impossible")


def _positive(denominator: Decimal, bodyweight: Decimal) -> Decimal:
    if denominator <= 0:
        raise ValueError(f"the formula has no meaning at a bodyweight of {bodyweight} kg")
    return denominator
