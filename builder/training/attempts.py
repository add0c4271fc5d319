"""Testing a max: three attempts in the gym's real steps, and the published way to find a 1RM.

The shares and jumps are common practice, no source. They agree with public-domain meet entries of
38 lifters (IPF World Classic 2022, squat): openers 90.1 to 100 % of the best lift (mean 95.0 %),
jumps of 5.0 % and 3.5 %, no load lower than the one before, none repeated except after a miss.
"""

from dataclasses import dataclass
from decimal import Decimal
from operator import attrgetter

from builder.training.loading import Ladder, Rung
from builder.values.quantity import Rounding, to_places

OPENER_UNDER, OPENER_OVER = Decimal("0.01"), Decimal("0.02")
"""How far, as shares of the max, the loaded opener may lie from the wanted one: 0.90 to 0.93 for 0.91."""
OPENER_NEVER_ABOVE = Decimal("0.95")
MISSED = "missed"
OUTCOMES = ("easy", "solid", "hard", MISSED)
"""How an attempt went, as stable codes: three or more left; one or two left; nothing left; not lifted."""
EASY_EXTRA = Decimal("0.01")
"""After an easy attempt the next one is this share of the max heavier than planned."""
HARD_PART = Decimal("0.5")
"""After a hard attempt only this part of the planned jump is taken."""
NEVER_TRIED_ABOVE = Decimal("1.10")
"""No attempt is heavier than this share of the max, or than the rule's own third with `EASY_EXTRA`, where loads lie
far apart; common practice, no source."""


@dataclass(frozen=True, slots=True)
class AttemptShares:
    """What the three attempts aim at, as shares of the estimated max, when every lift is solid.

    Raises ValueError unless 0 < opener < second < third and the opener is at most 0.95.
    """

    opener: Decimal = Decimal("0.91")
    second: Decimal = Decimal("0.96")
    third: Decimal = Decimal("1.005")

    def __post_init__(self) -> None:
        if not 0 < self.opener < self.second < self.third:
            raise ValueError("the shares of the attempts must rise")
        if self.opener > OPENER_NEVER_ABOVE:
            raise ValueError(f"an opener is never above {OPENER_NEVER_ABOVE} of the max")


PLANNED = AttemptShares()


@dataclass(frozen=True, slots=True)
class Choice:
    """One row of the decision table: after this outcome, this load (`share` of the max as loaded).

    For a third attempt `follows` is the outcome of the opener, which fixed the second load; for a
    second attempt it is "".
    """

    after: str
    rung: Rung
    share: Decimal
    follows: str = ""


@dataclass(frozen=True, slots=True)
class AttemptPlan:
    """An opener and what comes next after every outcome.

    `second` has one row per outcome of the opener, `third` one per outcome of the opener and of the
    second attempt. `capped`: the plates ran out, or the next load is too far above the max, and the heaviest
    that may be tried stands. `too_heavy`: the lightest load of the gym is already more than an opener may be.
    """

    opener: Rung
    second: tuple[Choice, ...]
    third: tuple[Choice, ...]
    capped: bool
    too_heavy: bool

    def third_after(self, second: Choice) -> tuple[Choice, ...]:
        """The rows for the third attempt once `second` was lifted or missed."""
        return tuple(choice for choice in self.third if choice.follows == second.after)


def attempt_plan(
    best_kg: Decimal,
    ladder: Ladder,
    shares: AttemptShares = PLANNED,
    least_step: Decimal = Decimal(0),
    most: Decimal | None = None,
) -> AttemptPlan:
    """The decision table for a max of about `best_kg`, over loads of `ladder`.

    Loads rise by at least `least_step` kg (2.5 under IPF rules) after a good lift and stay after a
    miss; they never go down. Only where no heavier load may be tried is a lifted one repeated. `most` (kg) is what
    the lifter is likely to have at best: no attempt is heavier, unless the ladder has nothing lighter.
    """
    opener = _opener(best_kg, ladder, shares)
    gym = _Gym(best_kg, _within_reach(best_kg, ladder, shares, most), least_step)
    aims = _aims(shares.opener, shares.second - shares.opener)
    second = gym.rows(opener, aims)
    third: tuple[Choice, ...] = ()
    for row in second:
        # From the share that was aimed at and not the one that was loaded: a rounding of the second attempt must not go
        # on into the third. Capped, so that two easy attempts do not add up to a leap.
        jump = shares.third - shares.second
        third += gym.rows(row.rung, _aims(aims[row.after], jump, shares.third + EASY_EXTRA), row.after)
    before = {"": opener} | {row.after: row.rung for row in second}
    return AttemptPlan(
        opener=opener,
        second=second,
        third=third,
        capped=best_kg * (shares.third + EASY_EXTRA) > ladder.heaviest.mass
        or any(gym.falls_short(before[row.follows], row) for row in (*second, *third)),
        too_heavy=opener.mass > best_kg * OPENER_NEVER_ABOVE,
    )


def _opener(best_kg: Decimal, ladder: Ladder, shares: AttemptShares) -> Rung:
    """The load at or under the wanted share, or just over it where that one is too light."""
    wanted = best_kg * shares.opener
    under, over = ladder.at_most(wanted), ladder.next_above(wanted)
    if under is not None and under.mass >= wanted - best_kg * OPENER_UNDER:
        return under
    # Heavier only where nothing lies just below, and never above what an opener may be.
    if over is not None and over.mass <= best_kg * min(shares.opener + OPENER_OVER, OPENER_NEVER_ABOVE):
        return over
    return under or ladder.lightest


def _within_reach(best_kg: Decimal, ladder: Ladder, shares: AttemptShares, likely: Decimal | None) -> Ladder:
    """The loads that may be tried at all; the lightest one always is."""
    # A coach who plans a third above the usual end means it; what is likely of the lifter ends it all the same.
    most = best_kg * max(NEVER_TRIED_ABOVE, shares.third + EASY_EXTRA)
    most = most if likely is None else min(most, likely)
    return Ladder(ladder.name, tuple(r for r in ladder.rungs if r.mass <= most) or (ladder.lightest,), ladder.per_hand)


def _aims(lifted: Decimal, jump: Decimal, most: Decimal = Decimal("Infinity")) -> dict[str, Decimal]:
    """The share of the max to aim at after each outcome of an attempt that aimed at `lifted`."""
    jumps = {"easy": jump + EASY_EXTRA, "solid": jump, "hard": jump * HARD_PART, MISSED: Decimal(0)}
    return {outcome: min(lifted + jumps[outcome], most) for outcome in OUTCOMES}


@dataclass(frozen=True, slots=True)
class _Gym:
    """What turns an aim into a load."""

    best_kg: Decimal
    ladder: Ladder
    least_step: Decimal

    def rows(self, lifted: Rung, aims: dict[str, Decimal], follows: str = "") -> tuple[Choice, ...]:
        # A miss repeats its load, as lifters do at meets (see above); going down is no way to a max.
        loads = {after: lifted if after == MISSED else self._rise(lifted, aim) for after, aim in aims.items()}
        return tuple(Choice(after, rung, self.share(rung), follows) for after, rung in loads.items())

    def share(self, rung: Rung) -> Decimal:
        return to_places(rung.mass / self.best_kg, 4)

    def falls_short(self, lifted: Rung, row: Choice) -> bool:
        """Whether a good lift is followed by less than one step more, for want of a load that may be tried."""
        rise = row.rung.mass - lifted.mass
        return row.after != MISSED and (rise == 0 or rise < self.least_step)

    def _rise(self, lifted: Rung, aim: Decimal) -> Rung:
        """The load nearest to the aim that is a real step above `lifted`, or the heaviest that may be tried."""
        next_load = self.ladder.next_above(lifted.mass) or self.ladder.heaviest
        full_step = self.ladder.pick(lifted.mass + self.least_step, Rounding.UP)
        return max(next_load, full_step, self.ladder.pick(self.best_kg * aim), key=attrgetter("mass"))
