"""The gym as ladders of loads: one for each bar, the dumbbells, each stack, the kettlebells and the belt."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import lru_cache

from builder.given import Client, Equipment, Gym, Movement, Steps
from builder.training.loading import Ladder, Plate, Rung, barbell, bodyweight_plus, dumbbells, kettlebells, stack
from builder.training.norms import INCREASE
from builder.values.quantity import OnBar, Unit, plain
from builder.values.scalars import Amount

MOST_ON_A_BELT = Decimal(60)
FULL_SIZE = Decimal(20)
"""Plates from 20 kg (45 lb) up have the full diameter, so that the bar lies at its height on the floor."""


@dataclass(frozen=True, slots=True)
class Racks:
    """Every ladder of one gym, made once when first asked for."""

    client: Client
    _made: dict[str, Ladder | None] = field(init=False)

    def __post_init__(self) -> None:
        # By its text: a gym holds mappings, which have no hash. Three hundred buyers with one gym share its ladders.
        object.__setattr__(self, "_made", _ladders(repr((self.client.gym, self.client.unit))))

    def ladder(self, name: str, movement: Movement, bar: str | None, machine: str | None) -> Ladder | None:
        """The loads for a movement: its bar, machine or bells; None when the gym has nothing for it."""
        match movement.equipment:
            case Equipment.BARBELL:
                return self.bar(bar or self.client.gym.bar_for_all(self.client.unit), movement)
            case Equipment.STACK:
                return self._once(f"stack {machine or name}", lambda: self._stack(machine or name))
            case Equipment.DUMBBELL:
                return self._once("dumbbells", self._dumbbells)
            case Equipment.KETTLEBELL:
                return self._once("kettlebells", self._kettlebells)
        return self._once("belt", self._belt)

    def bar(self, name: str, movement: Movement) -> Ladder:
        """The ladder of a bar of the gym as a movement is loaded on it; KeyError for a bar it has not."""
        bare = collars_off(self.client.gym, movement)
        made = self._once(f"bare bar {name}" if bare else f"bar {name}", lambda: self._barbell(name, bare))
        assert made is not None
        return made

    def stepped(self, ladder: Ladder, step: Decimal | None) -> Ladder:
        """The loads of a bar in steps of `step` kg above the empty bar; the whole ladder where the plates make none."""
        if step is None or not ladder.plated:
            return ladder
        made = self._once(
            f"{ladder.name} from {ladder.lightest.mass} by {step}", lambda: _by_step(ladder, step)
        )
        assert made is not None
        return made

    def usual_step(self) -> Decimal | None:
        """How finely the gym's bars are usually loaded, in kg; None as finely as the plates allow."""
        step = self.client.gym.step
        return step.kg(self.client.unit) if step is not None else None

    def floor(self, ladder: Ladder) -> Decimal | None:
        """The lightest load of a bar that lies at full height: with a pair of full-size plates, if the gym has one."""
        full = [plate.mass for plate, pairs in self.plates() if pairs and plate.mass >= FULL_SIZE]
        return ladder.lightest.mass + 2 * min(full) if full and ladder.plated else None

    def full_size(self) -> frozenset[str]:
        """The labels of the plates that have the full diameter."""
        return frozenset(plate.label for plate, pairs in self.plates() if pairs and plate.mass >= FULL_SIZE)

    def plates(self) -> tuple[tuple[Plate, int], ...]:
        """Each kind of plate and its number of pairs; a plate of the other unit carries the unit in its label."""
        return tuple(
            (Plate(self._label(amount), amount.kg(self.client.unit)), pairs)
            for amount, pairs in self.client.gym.pairs.items()
        )

    def _label(self, amount: Amount) -> str:
        foreign = amount.unit is not None and amount.unit is not self.client.unit
        return f"{plain(amount.number)} {amount.unit}" if foreign else plain(amount.number)

    def _once(self, key: str, make: object) -> Ladder | None:
        if key not in self._made:
            self._made[key] = make()  # type: ignore[operator]
        return self._made[key]

    def _barbell(self, name: str, bare: bool) -> Ladder:
        bar, unit = self.client.gym.bars[name], self.client.unit
        collars = bar.collars if bar.collars is not None else self.client.gym.collars
        return barbell(name, bar.weight.kg(unit), Decimal(0) if bare else 2 * collars.kg(unit), self.plates())

    def _dumbbells(self) -> Ladder | None:
        steps = self.client.gym.dumbbells
        return self._bells(dumbbells(_masses(steps, self.client.unit)), steps) if steps is not None else None

    def _kettlebells(self) -> Ladder | None:
        steps = self.client.gym.kettlebells
        return self._bells(kettlebells(_masses(steps, self.client.unit)), steps) if steps is not None else None

    def _bells(self, plain_bells: Ladder, steps: Steps | tuple[Amount, ...]) -> Ladder:
        """The bells, and each with the small plates that may be added to it."""
        add = [amount.kg(self.client.unit) for amount in steps.add] if isinstance(steps, Steps) else []
        if not add:
            return plain_bells
        together = stack(plain_bells.name, [rung.mass for rung in plain_bells.rungs], add)
        return replace(together, per_hand=True)

    def _stack(self, name: str) -> Ladder | None:
        steps = self.client.gym.stacks.get(name)
        if steps is None:
            return None
        add = steps.add if isinstance(steps, Steps) else ()
        return stack(name, _masses(steps, self.client.unit), [amount.kg(self.client.unit) for amount in add])

    def _belt(self) -> Ladder:
        # On a belt plates hang one by one, so both of a pair may.
        return bodyweight_plus([(plate, 2 * pairs) for plate, pairs in self.plates()], MOST_ON_A_BELT)


@lru_cache(maxsize=16)
def _ladders(_gym: str) -> dict[str, Ladder | None]:
    """The ladders of a gym that is written so: all plans of it share them, and the ramps that were found on them."""
    return {}


def collars_off(gym: Gym, movement: Movement) -> bool:
    """Whether a bar is loaded without collars: over the chest where nobody ever spots."""
    # So that the plates can slide off after a miss (common practice, no source); the printed load leaves them out too,
    # as the bar then weighs less.
    return gym.spotter == "never" and movement.over_chest


def without_leap(ladder: Ladder, target: OnBar, rung: Rung) -> Rung:
    """The rung of a target (kg), or the one below where it is a leap: more above it than load is usually added."""
    below = ladder.below(rung.mass)
    leap = below is not None and target > 0 and rung.mass > target * (1 + INCREASE.high)
    return below if leap and below is not None else rung


def _by_step(ladder: Ladder, step: Decimal) -> Ladder:
    empty = ladder.lightest.mass
    # Counted from the empty bar, whose weight need be no multiple of the step.
    rungs = tuple(rung for rung in ladder.rungs if (rung.mass - empty) % step == 0)
    return Ladder(ladder.name, rungs) if len(rungs) > 1 else ladder


def _masses(steps: Steps | tuple[Amount, ...], unit: Unit) -> list[Decimal]:
    amounts = steps.amounts() if isinstance(steps, Steps) else steps
    return [amount.kg(unit) for amount in amounts]
