"""The loads a lifter can really make: rising ladders for bars, dumbbells, stacks, bells and belts.

Why ladders and no rounding to a step: a gym's loads have gaps, other steps below than above, and no common grid of
kilograms and pounds. So all that can be made is listed once, and a load is always one of the list, with the plates for
it.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from itertools import takewhile
from operator import attrgetter

from builder.training.plates import Plate, Side, exact_sums, fewest_plates
from builder.values.quantity import HAIR, OnBar, Rounding, Ties

__all__ = [
    "Ladder",
    "Plate",
    "Rung",
    "Side",
    "barbell",
    "bodyweight_plus",
    "dumbbells",
    "kettlebells",
    "side_text",
    "stack",
]

MOST_ON_A_BAR = Decimal(500)
"""Total mass in kg above which a bar's ladder stops unless the caller asks for more."""

_mass = attrgetter("mass")


@dataclass(frozen=True, slots=True)
class Rung:
    """One load that can be made: total kg (per hand for dumbbells and kettlebells) and its plates.

    On a bar `side` and `plates` (their count) describe ONE end. Elsewhere `side` is empty and
    `plates` counts the pieces hung from the belt or added to the stack.
    """

    mass: OnBar
    side: Side = ()
    plates: int = 0


# By identity: ladders are keys of caches (`warmup.ramp`), and to compare thousands of rungs would cost more than these
# save. So whoever makes ladders must keep them (`plan.ladders.Racks`).
@dataclass(frozen=True, slots=True, eq=False)
class Ladder:
    """Every load of one implement, rising and without repeats; two ladders are equal only if the same.

    Raises ValueError when there is no rung or the masses do not rise.
    """

    name: str
    rungs: tuple[Rung, ...]
    per_hand: bool = False

    def __post_init__(self) -> None:
        if not self.rungs:
            raise ValueError(f"{self.name} offers no load at all")
        # Every search below halves its way and relies on this.
        if any(upper.mass <= lower.mass for lower, upper in zip(self.rungs, self.rungs[1:], strict=False)):
            raise ValueError(f"the loads of {self.name} do not rise")

    @property
    def lightest(self) -> Rung:
        """The first rung: the empty bar, the smallest bell."""
        return self.rungs[0]

    @property
    def heaviest(self) -> Rung:
        """The last rung: all that the gym's plates (or the cap) allow."""
        return self.rungs[-1]

    @property
    def plated(self) -> bool:
        """Whether loads are made by putting plates on two ends."""
        # Of the heaviest, since an empty bar has no plates either.
        return bool(self.heaviest.side)

    def pick(self, target: Decimal, rounding: Rounding = Rounding.NEAREST, ties: Ties = Ties.LIGHTER) -> Rung:
        """The rung for `target` kg; under the lowest the lowest, over the highest the highest.

        `ties` speaks only where two rungs are equally near. Compare the rung's mass with the target
        to learn that the ladder was too short. A target within a `HAIR` of a rung is that rung.
        """
        # Without the hair a tested 90 kg came back from its own estimate as the load below: the last digits differ.
        place = bisect_left(self.rungs, target - HAIR, key=_mass)
        if place == 0:
            return self.lightest
        if place == len(self.rungs):
            return self.heaviest
        lower, upper = self.rungs[place - 1], self.rungs[place]
        if upper.mass <= target + HAIR or rounding is Rounding.UP:
            return upper
        if rounding is Rounding.DOWN:
            return lower
        nearer_up = (target - lower.mass) - (upper.mass - target)
        if abs(nearer_up) <= HAIR:
            return upper if ties is Ties.HEAVIER else lower
        return upper if nearer_up > 0 else lower

    def below(self, mass: Decimal) -> Rung | None:
        """The heaviest rung lighter than `mass` kg, if any."""
        place = bisect_left(self.rungs, mass, key=_mass)
        return self.rungs[place - 1] if place else None

    def at_most(self, mass: Decimal) -> Rung | None:
        """The heaviest rung of `mass` kg or less, if any."""
        place = bisect_right(self.rungs, mass, key=_mass)
        return self.rungs[place - 1] if place else None

    def next_above(self, mass: Decimal) -> Rung | None:
        """The lightest rung heavier than `mass` kg, if any."""
        place = bisect_right(self.rungs, mass, key=_mass)
        return self.rungs[place] if place < len(self.rungs) else None

    def between(self, low: Decimal, high: Decimal) -> tuple[Rung, ...]:
        """The rungs from `low` kg (included) to `high` kg (left out)."""
        places = self.places(low, high)
        return self.rungs[places.start : places.stop]

    def places(self, low: Decimal, high: Decimal) -> range:
        """Where among the rungs those from `low` kg (included) to `high` kg (left out) stand."""
        first = bisect_left(self.rungs, low, key=_mass)
        return range(first, bisect_left(self.rungs, high, first, key=_mass))

    def holds(self, mass: Decimal) -> bool:
        """Whether exactly `mass` kg can be made."""
        rung = self.at_most(mass)
        return rung is not None and rung.mass == mass


def barbell(
    name: str,
    bar: Decimal,
    collars: Decimal,
    pairs: Sequence[tuple[Plate, int]],
    most: Decimal = MOST_ON_A_BAR,
) -> Ladder:
    """Every total up to `most` kg of a bar, both `collars` together, and the `pairs` owned.

    `pairs` holds (plate, number of pairs). The empty bar with its collars is always a rung. Each
    total carries the fewest plates, the heavier ones first. Exact: see `fewest_plates`.
    """
    with exact_sums():
        empty = bar + collars
        room = max((most - empty) / 2, Decimal(0))
        # Cut off here and not in `_ends`: asked for the same whatever the bar weighs, that is worked out once for all
        # bars.
        ends = takewhile(lambda end: end.mass <= room, _ends(tuple(pairs), most / 2))
        return Ladder(name, tuple(Rung(OnBar(empty + 2 * end.mass), end.side, end.plates) for end in ends))


@lru_cache(maxsize=4)
def _ends(pairs: tuple[tuple[Plate, int], ...], most: Decimal) -> tuple[Rung, ...]:
    """What may hang on one end, whatever bar it is: all the bars of a gym share its plates."""
    return tuple(
        Rung(OnBar(mass), side, sum(count for _, count in side))
        for mass, side in fewest_plates(pairs, max(most, Decimal(0)))
    )


def dumbbells(masses: Iterable[Decimal], name: str = "dumbbells") -> Ladder:
    """The dumbbells on the rack, kg per hand, in any order."""
    return Ladder(name, _rungs(masses), per_hand=True)


def kettlebells(masses: Iterable[Decimal], name: str = "kettlebells") -> Ladder:
    """The kettlebells on the floor, kg per hand, in any order."""
    return Ladder(name, _rungs(masses), per_hand=True)


def stack(name: str, steps: Iterable[Decimal], add_ons: Iterable[Decimal] = ()) -> Ladder:
    """A machine's stack: every pin step (kg), alone and with any of the add-on pieces (kg each)."""
    fewest = dict.fromkeys(steps, 0)
    with exact_sums():
        for piece in add_ons:
            # A copy of what was there before the piece, which can be hung only once.
            for mass, pieces in list(fewest.items()):
                fewest[mass + piece] = min(pieces + 1, fewest.get(mass + piece, pieces + 1))
    return Ladder(name, tuple(Rung(OnBar(mass), plates=pieces) for mass, pieces in sorted(fewest.items())))


def bodyweight_plus(
    plates: Sequence[tuple[Plate, int]], most: Decimal, name: str = "bodyweight plus"
) -> Ladder:
    """Bodyweight (0 kg added) and every mass up to `most` kg that single plates hung from a belt make."""
    hung = fewest_plates(plates, most)
    return Ladder(name, tuple(Rung(OnBar(mass), plates=sum(count for _, count in kinds)) for mass, kinds in hung))


def side_text(rung: Rung) -> str:
    """The plates of one end as the lifter loads them, inside first: "25×2 + 10"; "" for none."""
    return " + ".join(_plates_text(label, count) for label, count in rung.side)


def _plates_text(label: str, count: int) -> str:
    if count == 1:
        return label
    return f"{label}×{count}" if label[-1:].isdigit() else f"{label} ×{count}"


def _rungs(masses: Iterable[Decimal]) -> tuple[Rung, ...]:
    return tuple(Rung(OnBar(mass)) for mass in sorted(set(masses)))
