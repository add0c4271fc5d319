"""The normal distribution: what lies below a number of deviations, and the mean of what lies above."""

from __future__ import annotations

from math import erf, erfc, exp, pi, sqrt


def below(at: float) -> float:
    """The part of the distribution below `at` deviations."""
    return (1 + erf(at / sqrt(2))) / 2


def mean_above(at: float) -> float:
    """The mean of what lies above `at` deviations, in deviations: density over tail.

    By `erfc`, which keeps its digits in the tail, and past 30 by the first terms of its series (Abramowitz & Stegun
    26.2.12, from memory): far evidence must not say less than near evidence.
    """
    return at + 1 / at - 2 / at**3 if at > 30 else sqrt(2 / pi) * exp(-at * at / 2) / erfc(at / sqrt(2))
