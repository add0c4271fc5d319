"""Scores that compare lifters of different bodyweight: GL points, DOTS, Wilks and load over bodyweight."""

from decimal import Decimal, localcontext
from enum import StrEnum

from builder.training.estimate import FORMULA_CONTEXT

GL_CITATION = "International Powerlifting Federation. GL coefficients, valid from 1 May 2020."
DOTS_CITATION = "Konertz T. Dynamisches Objektives Teamwertungs-System; adopted by the BVDK for 2020."
WILKS_CITATION = (
    "Wilks R, Powerlifting Australia; checked by Vanderburgh PM, Batterham AM. Med Sci Sports Exerc "
    "1999;31(12):1869-1875 (citation from memory)."
)


class Sex(StrEnum):
    """The class that a score's coefficients were fitted to."""

    MALE = "M"
    FEMALE = "F"


class Gear(StrEnum):
    """Whether the lift was made in supportive suits and shirts."""

    RAW = "raw"
    EQUIPPED = "equipped"


class Event(StrEnum):
    """What the result is: the total of three lifts, or the bench press alone."""

    TOTAL = "total"
    BENCH = "bench"


Coefficients = tuple[Decimal, ...]


def _numbers(text: str) -> Coefficients:
    return tuple(Decimal(number) for number in text.split())


GL: dict[tuple[Sex, Gear, Event], Coefficients] = {
    (Sex.MALE, Gear.RAW, Event.TOTAL): _numbers("1199.72839 1025.18162 0.00921"),
    (Sex.MALE, Gear.EQUIPPED, Event.TOTAL): _numbers("1236.25115 1449.21864 0.01644"),
    (Sex.MALE, Gear.RAW, Event.BENCH): _numbers("320.98041 281.40258 0.01008"),
    (Sex.MALE, Gear.EQUIPPED, Event.BENCH): _numbers("381.22073 733.79378 0.02398"),
    (Sex.FEMALE, Gear.RAW, Event.TOTAL): _numbers("610.32796 1045.59282 0.03048"),
    (Sex.FEMALE, Gear.EQUIPPED, Event.TOTAL): _numbers("758.63878 949.31382 0.02435"),
    (Sex.FEMALE, Gear.RAW, Event.BENCH): _numbers("142.40398 442.52671 0.04724"),
    (Sex.FEMALE, Gear.EQUIPPED, Event.BENCH): _numbers("221.82209 357.00377 0.02937"),
}
"""A, B, C of the GL formula."""

DOTS: dict[Sex, Coefficients] = {
    Sex.MALE: _numbers("-307.75076 24.0900756 -0.1918759221 0.0007391293 -1.093e-06"),
    Sex.FEMALE: _numbers("-57.96288 13.6175032 -0.1126655495 0.0005158568 -1.0706e-06"),
}
DOTS_BODYWEIGHTS = {Sex.MALE: (Decimal(40), Decimal(210)), Sex.FEMALE: (Decimal(40), Decimal(150))}
"""Bodyweights (kg) outside these count as the nearer end."""

WILKS: dict[Sex, Coefficients] = {
    Sex.MALE: _numbers("-216.0475144 16.2606339 -0.002388645 -0.00113732 7.01863e-06 -1.291e-08"),
    Sex.FEMALE: _numbers(
        "594.31747775582 -27.23842536447 0.82112226871 -0.00930733913 4.731582e-05 -9.054e-08"
    ),
}
WILKS_2020: dict[Sex, Coefficients] = {
    Sex.MALE: _numbers(
        "47.46178854 8.472061379 0.07369410346 -0.001395833811 7.07665973070743e-06 -1.20804336482315e-08"
    ),
    Sex.FEMALE: _numbers(
        "-125.4255398 13.71219419 -0.03307250631 -0.001050400051 9.38773881462799e-06 -2.3334613884954e-08"
    ),
}


def gl_points(
    result: Decimal, bodyweight: Decimal, sex: Sex, gear: Gear = Gear.RAW, event: Event = Event.TOTAL
) -> Decimal:
    """GL points of a result (kg) at a bodyweight (kg): 100 x result / (A - B x exp(-C x bodyweight)).

    There are no coefficients for the squat or deadlift alone. ValueError for a bodyweight that is not
    positive or is so low that the formula has no positive denominator.
    """
    _check(bodyweight)
    a, b, c = GL[sex, gear, event]
    with localcontext(FORMULA_CONTEXT):
        return 100 * result / _positive(a - b * (-c * bodyweight).exp(), bodyweight)


def dots(total: Decimal, bodyweight: Decimal, sex: Sex) -> Decimal:
    """DOTS of a total (kg): 500 x total over a polynomial of bodyweight (kg) within `DOTS_BODYWEIGHTS`."""
    _check(bodyweight)
    lightest, heaviest = DOTS_BODYWEIGHTS[sex]
    return _over_polynomial(500, total, DOTS[sex], min(max(bodyweight, lightest), heaviest))


def wilks(total: Decimal, bodyweight: Decimal, sex: Sex) -> Decimal:
    """The original Wilks score of a total (kg): 500 x total over a polynomial of bodyweight (kg).

    ValueError for a bodyweight that is not positive or has no positive denominator.
    """
    _check(bodyweight)
    return _over_polynomial(500, total, WILKS[sex], bodyweight)


def wilks_2020(total: Decimal, bodyweight: Decimal, sex: Sex) -> Decimal:
    """The Wilks score as revised in 2020: 600 x total over a polynomial of bodyweight; errors as `wilks`."""
    _check(bodyweight)
    return _over_polynomial(600, total, WILKS_2020[sex], bodyweight)


def relative(load: Decimal, bodyweight: Decimal) -> Decimal:
    """A load as a multiple of bodyweight (both kg)."""
    _check(bodyweight)
    return FORMULA_CONTEXT.divide(load, bodyweight)


def _over_polynomial(scale: int, total: Decimal, coefficients: Coefficients, bodyweight: Decimal) -> Decimal:
    with localcontext(FORMULA_CONTEXT):
        value = Decimal(0)
        for coefficient in reversed(coefficients):
            value = value * bodyweight + coefficient
        return scale * total / _positive(value, bodyweight)


def _check(bodyweight: Decimal) -> None:
    if bodyweight <= 0:
        raise ValueError(f"a bodyweight of {bodyweight} kg is impossible")


def _positive(denominator: Decimal, bodyweight: Decimal) -> Decimal:
    if denominator <= 0:
        raise ValueError(f"the formula has no meaning at a bodyweight of {bodyweight} kg")
    return denominator
