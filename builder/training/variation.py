"""How far strength figures vary, and how fast a max moves: the figures behind the expected max, each with its source.

All are standard deviations or rates as natural logarithms of a load, which for small values are shares of it.
"""

from __future__ import annotations

from itertools import pairwise
from math import log

from builder.training.norms import COMMON_PRACTICE
from builder.values.lists import TrainingStatus

DAY_FORM = {TrainingStatus.NOVICE: 0.042, TrainingStatus.INTERMEDIATE: 0.025, TrainingStatus.ADVANCED: 0.021}
DAY_FORM_SOURCE = (
    "Novices: the median variation between two tests of a max over 32 studies, 4.2 % (Grgic et al. Sports Med Open "
    "2020;6:31). Advanced: 2.1 % in the squat (Banyard et al. J Strength Cond Res 2017;31(7):1897-1904) and 1.9 % in "
    "the deadlift (Ruf et al. J Strength Cond Res 2018;32(3):681-689). Between them for intermediates."
)
"""How far a lifter's best differs from day to day."""

CURVE_SPREAD = 0.2
CURVE_SOURCE = (
    "Nuzzo et al. Sports Med 2024;54(2):303-321: reps at 80 % of the max differ by 2.5 between people (as quoted by "
    "others). Cooke et al. J Strength Cond Res 2019;33(3):890-895: 14 +/- 4 squats at 70 %. Turned into load by the "
    "equations that is a fifth to a quarter of the loss from the max; the lower figure, since equations are chosen by "
    "lift."
)
"""How far one lifter's curve of reps lies from the equation's: a share of what the reps cost."""


def judged_reps(reps: int, rir: float) -> float:
    """How far off (in reps) a set's reps to failure are when its reserve is judged by the lifter: one deviation.

    About 0.7 with 1 left, 1.3 with 3, 1.8 with 4 after few reps, more in long sets. Near failure and in the squat the
    mean miss is 0.8 reps at 1 left and 1.4 at 4 (thesis, Florida Atlantic University, 12 trained men), in the bench
    press one deviation is 1.0 at 1 to 3 left (Refalo et al. J Strength Cond Res 2024;38(3):e78-e85); past 5 left it
    is over 2 (Hackett et al. J Strength Cond Res 2017;31(8):2162-2168); it grows with the reps of the set by 0.06 a
    rep to 12 and by 0.47 a rep beyond (Halperin et al. Sports Med 2022;52(2):377-390).
    """
    return 0.3 + 0.3 * rir + 0.06 * min(reps, 12) + 0.47 * max(reps - 12, 0)


JUDGE_SPREAD, JUDGED_AT = 0.6, 2
"""How far one lifter's judgement lies from the reps that are really left (one deviation, at two left): who misjudges
one set misjudges the next. On average 0.95 reps more are left than is said (0.17 to 1.73, Halperin et al. 2022), near
failure 0.2 (Refalo et al. 2024); growing with the reserve."""

PERSONS_PART = 0.5
"""How much of that (as variance) is the person's in every lift, and not the lift's: this project's own, since no study
was found that parts them. That the leg press is judged worse than the chest press by the same people (Hackett et al. J
Strength Cond Res 2018: 3.1 and 2.0 reps in the first set) says that it is neither nothing nor all."""

GREEN_WEEKS, GREEN_DOUBT = 13.0, 0.11
"""Who has trained for less than so many weeks tests low at first: 7 to 15 % more over four tests without any training
(novice men; J Strength Cond Res 2004;18(1):48-52). The number of weeks is common practice, no source. It widens what
is likely and leaves the middle at the estimate."""

UNTRAINED_GAIN = 0.084
UNTRAINED_SOURCE = (
    "General adults gain 7 % + 8.4 % x ln(weeks): Steele et al. Res Q Exerc Sport 2023;94(4):913-930 (14,690 people; "
    "the line through its 40 % at one year and 55 % at six). It gives 28 % at 12 weeks, as in Mayhew et al. J Strength "
    "Cond Res 2008;22(5):1570-1577 (103 untrained women, 28 +/- 21 %)."
)
"""Gain of a beginner: this times the logarithm of the weeks trained."""

GAIN_A_WEEK = {
    TrainingStatus.NOVICE: 0.005,
    TrainingStatus.INTERMEDIATE: 0.004,
    TrainingStatus.ADVANCED: 0.0015,
}
GAIN_SOURCE = (
    "Advanced: between 0.2 % a week, the mean of 1,897 competitors (Latella et al. J Strength Cond Res "
    "2020;34(9):2412-2418: 0.15 kg a day on a total of 513 kg), and 0.06 to 0.11 % over two years of rugby (Appleby et "
    "al. J Strength Cond Res 2012;26(9):2538-2546). Intermediates, and novices once the first rush is over: between "
    f"these and beginners; {COMMON_PRACTICE}."
)
"""What a max gains a week in training."""

FIRST_WEEKS = 4.0
"""Weeks in which a beginner's gain is taken as even: its logarithm has no beginning."""

WALK = {TrainingStatus.NOVICE: 0.02, TrainingStatus.INTERMEDIATE: 0.0115, TrainingStatus.ADVANCED: 0.007}
WALK_SOURCE = (
    "People gain at very different rates: 28 +/- 21 % in 12 weeks for beginners (Mayhew et al. 2008), 0.15 +/- 0.44 kg "
    "a day for competitors (Latella et al. 2020). After eight weeks that is about 6, 3 and 2 % to either side."
)
"""By how much the doubt of a max grows in one week, where it grows with the square root of the weeks."""

UNTESTED_RATIO = 0.05
GEAR_DOUBT = 0.02
"""The doubt of a lift that is taken as a share of another, and of a condition that differs; common practice, no
source."""

LOST = ((0, 0.0), (14, 0.0), (28, 0.02), (49, 0.05), (77, 0.095), (168, 0.15))
LOST_SOURCE = (
    "Nothing in two weeks (Hortobagyi et al. Med Sci Sports Exerc 1993;25(8):929-935), little in four (Mujika & "
    "Padilla. Med Sci Sports Exerc 2001;33(8):1297-1303), then more with the time off (Bosquet et al. Scand J Med Sci "
    "Sports 2013;23(3):e140-e149, 103 studies); the percentages between are this project's reading of these."
)
"""(days without training, share of the max that is lost)."""


def lost(days: int) -> float:
    """The share of the max that a pause of so many days is likely to cost (`LOST_SOURCE`)."""
    # Straight between: the studies give a few points, and nothing that a curve could be drawn by.
    for (fewer, less), (more, most) in pairwise(LOST):
        if days <= more:
            return less + (most - less) * max(days - fewer, 0) / (more - fewer)
    return LOST[-1][1]


def gained(status: TrainingStatus, begun: float, ended: float) -> float:
    """The logarithm by which a max is likely to rise between two training ages, in weeks."""
    rate = GAIN_A_WEEK[status]
    # Only a beginner's gain depends on how long it has gone on; over a block that of others is a line.
    if status is not TrainingStatus.NOVICE:
        return rate * (ended - begun)
    return _beginner(ended, rate) - _beginner(begun, rate)


def _beginner(weeks: float, least: float) -> float:
    """What a beginner has gained by an age: evenly at first, then by the logarithm, never slower than `least`."""
    # The age from which the logarithm rises by less than the usual gain, and hands over to it without a bend.
    slow = UNTRAINED_GAIN / least
    even = UNTRAINED_GAIN * min(weeks, FIRST_WEEKS) / FIRST_WEEKS
    curved = UNTRAINED_GAIN * log(min(max(weeks, FIRST_WEEKS), slow) / FIRST_WEEKS)
    return even + curved + least * max(weeks - slow, 0.0)
