"""The trade's norms as data: what is usual or studied, each with its source.

Why the source stands beside the number and not in a comment: the review prints it, and its reader has to tell a study
from a habit. What has no source says so.
"""

from dataclasses import dataclass
from decimal import Decimal

from builder.values.lists import TrainingStatus

COMMON_PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Norm:
    """A usual range with its source: `low` to `high`, both included, in `unit` ("share" is a fraction)."""

    low: Decimal
    high: Decimal
    unit: str
    source: str

    @property
    def middle(self) -> Decimal:
        """Halfway between the ends."""
        return (self.low + self.high) / 2

    def holds(self, value: Decimal | int) -> bool:
        """Whether `value` lies within the range."""
        return self.low <= value <= self.high

    def of(self, amount: Decimal) -> tuple[Decimal, Decimal]:
        """Both ends as shares of `amount`, in its unit."""
        return self.low * amount, self.high * amount


def _norm(low: str, high: str, unit: str, source: str) -> Norm:
    # From text: a float would bring its own digits along.
    return Norm(Decimal(low), Decimal(high), unit, source)


def _around(mean: str, deviation: str, unit: str, source: str) -> Norm:
    """Mean plus and minus one standard deviation."""
    return Norm(Decimal(mean) - Decimal(deviation), Decimal(mean) + Decimal(deviation), unit, source)


# Progression

ACSM = (
    "American College of Sports Medicine. Progression models in resistance training for healthy adults. "
    "Med Sci Sports Exerc 2009;41(3):687-708."
)
INCREASE = _norm("0.02", "0.10", "share", ACSM)
"""How much load is added once the current load goes for one or two reps over the target."""

HEAVY_REST = _norm("3", "5", "minutes", ACSM)
"""Rest between sets of 1 to 6 reps to failure."""

TRAINING_DAYS = {
    TrainingStatus.NOVICE: _norm("2", "3", "days a week", ACSM),
    TrainingStatus.INTERMEDIATE: _norm("3", "4", "days a week", ACSM),
    TrainingStatus.ADVANCED: _norm("4", "5", "days a week", ACSM),
}


# The classic volume table

SOVIET_TABLE = (
    "Laputin NP, Oleshko VG. Managing the Training of Weightlifters. Kiev: Zdorov'ya, 1982, ch. 3. Made for "
    "weightlifters and not validated for squats; copies differ at the edges of the zones."
)


@dataclass(frozen=True, slots=True)
class Zone:
    """Shares from `low` up to but without `high` (None: no end), their reps per set and lifts a session."""

    low: Decimal
    high: Decimal | None
    set_reps: tuple[int, int]
    total: tuple[int, int]


ZONES = (
    Zone(Decimal("0.55"), Decimal("0.70"), (3, 6), (18, 30)),
    Zone(Decimal("0.70"), Decimal("0.80"), (3, 6), (12, 24)),
    Zone(Decimal("0.80"), Decimal("0.90"), (2, 4), (10, 20)),
    Zone(Decimal("0.90"), None, (1, 2), (4, 10)),
)
"""The classic table of lifts by intensity; source: `SOVIET_TABLE`."""


def zone_of(share: Decimal) -> Zone | None:
    """The zone of a share of the max; None below 55 %."""
    # From the top: the zones share their edges, and an edge belongs to the heavier one.
    return next((zone for zone in reversed(ZONES) if share >= zone.low), None)


# Deload and taper

_ROGERSON = "Rogerson et al. Sports Med Open 2024;10:26 (246 athletes, mean and one standard deviation)."
_BELL_2022 = "Bell et al. Front Sports Act Living 2022;4:1073223 (18 coaches; highly variable)."
_BELL_2023 = "Bell et al. Sports Med Open 2023;9:87 (expert consensus; figures from memory)."
_PRITCHARD = "Pritchard et al. J Strength Cond Res 2016;30(7):1796-1804 (11 elite raw powerlifters)."
_TRAVIS = "Travis et al. J Strength Cond Res 2021;35(12S):S26-S35 (364 raw powerlifters)."
_BOSQUET = "Bosquet et al. Med Sci Sports Exerc 2007;39(8):1358-1365 (27 studies, most of them of endurance)"
_ONE_WEEK = "Pritchard et al. Int J Sports Physiol Perform 2019;14(4):458-463 (one week at 70 % less, trained men)"

DELOAD_EVERY = (
    _around("5.6", "2.3", "weeks", _ROGERSON),
    _norm("4", "6", "weeks", _BELL_2022),
    _norm("4", "8", "weeks", _BELL_2023),
)
"""How often deloads come, in three surveys."""

TAPER_CUT = (
    _around("0.589", "0.084", "share", _PRITCHARD),
    _norm("0.41", "0.50", "share", _TRAVIS),
    _norm("0.41", "0.70", "share", f"{_BOSQUET}: 41 to 60 % less; {_ONE_WEEK}."),
)
"""How much weekly volume is taken away before a test."""

TAPER_LOAD = (
    f"{_BOSQUET}: volume less, intensity as before. Pritchard et al. Strength Cond J 2015;37(2):72-83: cut volume, "
    "keep or slightly raise intensity."
)
"""What becomes of the load meanwhile."""

LAST_HEAVY_DAYS = _norm("7", "10", "days before the test", _TRAVIS)
"""When squats and deadlifts above 85 % are last trained."""


# Retests

SQUAT_GAIN_WEEKS = 8
SQUAT_GAIN = Norm(
    Decimal("17.05") - 2 * Decimal("5.44"),
    Decimal("17.05") + 2 * Decimal("5.44"),
    "kg in 8 weeks",
    "Helms et al. Front Physiol 2018;9:247 (trained lifters, effort-based group; mean and two standard deviations).",
)
"""What the squat max gained in a studied block of eight weeks."""

LIKELY_GAIN = {
    TrainingStatus.NOVICE: _norm("0", "0.04", "share a week", COMMON_PRACTICE),
    TrainingStatus.INTERMEDIATE: _norm("0", "0.02", "share a week", COMMON_PRACTICE),
    TrainingStatus.ADVANCED: _norm("0", "0.01", "share a week", COMMON_PRACTICE),
}
"""How fast a max may rise before a figure is rather a slip of the pen; wide on purpose."""

LIKELY_LOSS = _norm("0", "0.15", "share", COMMON_PRACTICE)
"""How far a max may fall between two tests before the figure should be looked at again."""

GAIN_WEEKS = _norm("3", "26", "weeks", COMMON_PRACTICE)
"""The time between two tests counts as at least and at most so long: the form of the day makes up for little time,
and gains do not go on in a straight line."""

RIR_ERROR = Norm(
    Decimal(0), Decimal(1), "reps", "Hackett et al. J Strength Cond Res 2017;31(8):2162-2168 (up to 5 in reserve)."
)
"""How far a guess of the reps in reserve is off near the limit."""


def likely_gain(best: Decimal, days: int, status: TrainingStatus, *, squat: bool) -> tuple[Decimal, str]:
    """The most kg that a max of `best` kg is likely to have gained in `days`, with the source of that figure.

    The larger of `LIKELY_GAIN` and, for squats, `SQUAT_GAIN`, both in proportion to the weeks (`GAIN_WEEKS`).
    """
    weeks = min(max(Decimal(days) / 7, GAIN_WEEKS.low), GAIN_WEEKS.high)
    # The larger one counts: only what neither can explain is worth a question.
    usual = (best * LIKELY_GAIN[status].high * weeks, LIKELY_GAIN[status].source)
    studied = (SQUAT_GAIN.high * weeks / SQUAT_GAIN_WEEKS, SQUAT_GAIN.source)
    return max(usual, studied) if squat else usual


# Milestones


@dataclass(frozen=True, slots=True)
class MilestoneSpacing:
    """How often records can be planned, in weeks (None: nearly every session)."""

    every_weeks: int | None
    words: str
    source: str


MILESTONES = {
    TrainingStatus.NOVICE: MilestoneSpacing(None, "nearly every session", COMMON_PRACTICE),
    TrainingStatus.INTERMEDIATE: MilestoneSpacing(
        2, "every other week, by way of a rep range in two steps", COMMON_PRACTICE
    ),
    TrainingStatus.ADVANCED: MilestoneSpacing(
        2, "every second week by top sets near a record, a max test at about ten weeks", COMMON_PRACTICE
    ),
}


# The squat and its drills

WALKOUT_SHARE = _norm("0.95", "1.05", "share", COMMON_PRACTICE)
WALKOUTS_A_MONTH = _norm("1", "2", "times a month", COMMON_PRACTICE)
PIN_SQUAT_SHARE = _norm("0.65", "0.75", "share", COMMON_PRACTICE)
"""For pins at parallel; more with higher pins."""
SQUATS_A_WEEK = _norm("2", "3", "days a week", COMMON_PRACTICE)

LOW_BAR_RANGE = _norm("0.05", "0.10", "share", COMMON_PRACTICE)
BELT_RANGE = _norm("0.05", "0.05", "share", COMMON_PRACTICE)
SLEEVES_RANGE = _norm("0.02", "0.05", "share", COMMON_PRACTICE)
LOW_BAR_GAIN = LOW_BAR_RANGE.middle
"""What low bar adds to high bar for most lifters, as a share of the high-bar max; common practice."""
BELT_GAIN = BELT_RANGE.middle
"""What a belt adds, as a share of the max without; common practice. Reps were faster with one:

Lander, Hundley, Simonton. Med Sci Sports Exerc 1992;24(5):603-609 (5 lifters); Zink et al. J Strength Cond Res
2001;15(2):235-240 (14 men)."""
SLEEVES_GAIN = SLEEVES_RANGE.middle
"""What knee sleeves add, as a share of the max without; common practice. One study each way: they raised the max in
Machek et al. J Strength Cond Res 2021;35(2S):S6-S15, not in Bennett et al. Hum Mov 2021;22(2):32-42."""


# The week

EXERCISE_ORDER = (
    "Nunes JP et al. Eur J Sport Sci 2021;21(2):149-157 (11 studies: the lift that comes first gains most strength)."
)
REST_FOR_STRENGTH = (
    "Grgic J et al. Sports Med 2018;48(1):137-151 (23 studies: more than 2 min for the trained, 1 to 2 min are enough "
    "for the untrained)."
)
LEAST_SETS = _norm(
    "3",
    "6",
    "sets a week",
    "Androulakis-Korakakis P et al. Front Sports Act Living 2021;3:713655 (powerlifters: 3 to 6 sets a week).",
)
INDIRECT = Decimal("0.5")
"""What a set counts for a region that it trains beside its own: Pelland JC et al. Sports Med 2025,
doi:10.1007/s40279-025-02344-w (67 studies; indirect sets fitted best as a half)."""

HARD_SETS = {
    TrainingStatus.NOVICE: _norm("2", "15", "sets a week", COMMON_PRACTICE),
    TrainingStatus.INTERMEDIATE: _norm("3", "20", "sets a week", COMMON_PRACTICE),
    TrainingStatus.ADVANCED: _norm("3", "25", "sets a week", COMMON_PRACTICE),
}
"""Hard sets a week of one movement pattern. Studies band a lift's sets as low up to 5 and high from 10 (Ralston GW et
al. Sports Med 2017;47(12):2585-2601) and find ever less gain per set (Pelland 2025); none gives a ceiling."""
REGION_SETS = {
    TrainingStatus.NOVICE: _norm("2", "20", "sets a week", COMMON_PRACTICE),
    TrainingStatus.INTERMEDIATE: _norm("3", "28", "sets a week", COMMON_PRACTICE),
    TrainingStatus.ADVANCED: _norm("3", "36", "sets a week", COMMON_PRACTICE),
}
"""The same for a region of the body, indirect sets counted by half."""
REGIONS: dict[str, dict[str, bool]] = {
    "thighs": {"squat": True, "lunge": True},
    "hips and hamstrings": {"hinge": True, "squat": False, "lunge": False},
    "chest": {"horizontal push": True, "vertical push": False},
    "shoulders": {"vertical push": True, "horizontal push": False},
    "back": {"horizontal pull": True, "vertical pull": True, "hinge": False},
    "arms": {"arms": True, "horizontal push": False, "vertical push": False, "horizontal pull": False,
             "vertical pull": False},
}  # fmt: skip
"""Each region with the patterns that train it, true where they do so directly; common practice, no source."""

RECOVERY_DAYS = _norm(
    "2",
    "3",
    "days",
    "Belcher DJ et al. Appl Physiol Nutr Metab 2019;44(10):1033-1042 (12 lifters: squats stayed slower for up to 72 h "
    "after sets to failure).",
)
"""How long hard sets are felt."""
