"""What a slot's loads stand on: the max it takes shares of, the ladder it is loaded on, and how both came about.

Why two steps. All but what is expected on the day is the same whenever a slot is trained: test, ratio, gear, ladder. So
that is worked out once a slot (`UndatedBasis`), and each day only moves the belief on.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from math import hypot

from builder.given import Block, ChangeMade, Client, Movement, Movements, Slot, Variant
from builder.given.careful import LIKELY_LEFT, careful
from builder.given.weeks import Gear
from builder.plan.ladders import Racks
from builder.plan.model import LiftNumbers, Reason, because
from builder.plan.numbers import carried
from builder.plan.outlook import Outlook, Reach
from builder.training.estimate import DEFAULT, Equation, Rows, share
from builder.training.expected import shifted
from builder.training.loading import Ladder
from builder.training.norms import BELT_GAIN, LOW_BAR_GAIN, SLEEVES_GAIN
from builder.training.variation import GEAR_DOUBT, UNTESTED_RATIO
from builder.values.quantity import NOTHING, OnBar, Rounding, Ties, Unit, WithBody, on_bar, with_body
from builder.values.scalars import Amount


@dataclass(frozen=True, slots=True)
class Basis:
    """`full` is the max in kg that shares are taken of, bodyweight (`own`, kg) included; None: loads found by feel.

    `reach` is what is expected of the movement on the day, None where nothing is known of it; `beyond` when the block
    lets the slot go beyond. `keeps` are the reps in reserve that must be expected to stay.
    """

    movement: str
    about: Movement
    full: WithBody | None
    numbers: LiftNumbers | None
    equation: Equation
    rows: Rows
    ladder: Ladder | None
    unit: Unit
    own: Decimal = Decimal(0)
    rounding: Rounding = Rounding.NEAREST
    ties: Ties = Ties.LIGHTER
    estimated: bool = False
    why: tuple[Reason, ...] = ()
    reach: Reach | None = None
    beyond: bool = False
    keeps: int = 0

    def effort_share(self, reps: int, rir: Decimal) -> Decimal:
        """Share of the max for `reps` with `rir` left; ValueError past what the equations cover."""
        return share(reps + rir, self.equation, self.rows)

    @property
    def body(self) -> dict[str, Decimal]:
        """What a reason tells of the body where it counts, as a fact `own_kg`; nothing where it does not."""
        return {"own_kg": self.own} if self.own else {}

    def load_at(self, part: Decimal) -> OnBar:
        """The load for a share of the max, which must be known; never below nothing."""
        if self.full is None:
            raise ValueError("no max is known")
        return max(self.load_of(self.full, part), NOTHING)

    def whole(self, load: OnBar) -> WithBody:
        """All that is lifted with a load."""
        return with_body(load, self.own)

    def load_of(self, whole: WithBody, part: Decimal = Decimal(1)) -> OnBar:
        """The load for a part of all that is lifted; below nothing where the body alone is more."""
        return on_bar(whole, self.own, part)


@dataclass(frozen=True, slots=True)
class Ground:
    """What every slot of a plan is worked out from; `machines` names the stack of movements trained on one.

    `variants` are the slots that are `made` otherwise for this client, by their place.
    """

    client: Client
    block: Block
    library: Movements
    racks: Racks
    lifts: tuple[LiftNumbers, ...]
    rows: Rows
    cautions: tuple[str, ...]
    machines: Mapping[str, str]
    outlook: Outlook
    variants: Mapping[tuple[int, int], Variant]
    made: tuple[ChangeMade, ...]
    _standing: dict[tuple[int, str, bool], tuple[Slot, UndatedBasis]] = field(default_factory=dict)

    def numbers(self, movement: str | None) -> LiftNumbers | None:
        """The numbers of a tested lift."""
        return next((n for n in self.lifts if n.movement == movement), None)

    def standing(self, slot: Slot, movement: str, replaced: bool) -> UndatedBasis:
        """What a slot stands on whatever the day, worked out once; it is kept, so that no other takes its place."""
        key = id(slot), movement, replaced
        if key not in self._standing:
            self._standing[key] = slot, _standing(self, slot, movement, replaced)
        return self._standing[key][1]


@dataclass(frozen=True, slots=True)
class UndatedBasis:
    """A basis without its day, and how the belief of the tested lift becomes its own: a factor with a doubt, if any."""

    basis: Basis
    factor: float | None = None
    doubt: float = 0.0


def basis_for(ground: Ground, slot: Slot, movement: str, on: date, *, replaced: bool = False) -> Basis:
    """The basis of a slot that trains `movement` on a day. A replacement takes nothing from the slot's own relation."""
    standing = ground.standing(slot, movement, replaced)
    basis = standing.basis
    if basis.numbers is None:
        return basis
    belief = ground.outlook.on(basis.numbers, on)
    if standing.factor is not None:
        belief = shifted(belief, standing.factor, standing.doubt)
    return replace(basis, reach=Reach(belief, basis.numbers.curve, basis.own))


def _standing(ground: Ground, slot: Slot, movement: str, replaced: bool) -> UndatedBasis:
    about, client = ground.library.movements[movement], ground.client
    # The slot's bar was chosen for the movement that is replaced.
    ladder = ground.racks.ladder(movement, about, None if replaced else slot.barbell, slot.stack)
    if ladder is not None:
        ladder = ground.racks.stepped(ladder, _step(client, slot, ground.racks))
    numbers, ratio = _source(ground, slot, movement, about, replaced)
    bare = Basis(
        movement=movement, about=about, full=None, numbers=None, equation=client.equation or DEFAULT,
        rows=ground.rows, ladder=ladder, unit=client.unit, own=carried(client, about), beyond=slot.beyond == "allow",
        rounding=slot.rounding or client.gym.rounding, ties=client.gym.ties,
        keeps=LIKELY_LEFT.get(careful(client, about) or "", 0),
    )  # fmt: skip
    if numbers is None:
        return UndatedBasis(bare)
    reasons = [*_from_test(numbers)]
    full, doubt = numbers.working_max, 0.0
    if ratio is not None:
        full = WithBody(full * ratio)
        reasons.append(because("ratio", movement=movement, of=numbers.movement, ratio_share=ratio, max_kg=full))
        # A ratio is a rule of thumb, so what comes from it is less sure than the tested lift.
        doubt = UNTESTED_RATIO
    # What a slot says of belt and bar is said of its own movement.
    aids = () if replaced else _gear(numbers, slot, ground.block.block.gear, varied=ratio is not None)
    for step, factor in aids:
        full = WithBody(full * factor)
        # Doubts that have nothing to do with each other add as variances.
        doubt = hypot(doubt, GEAR_DOUBT)
        reasons.append(because(step, factor_share=factor, max_kg=full))
    estimated = len(reasons) > len(_from_test(numbers))
    basis = replace(
        bare, full=full, numbers=numbers, equation=numbers.equation, estimated=estimated, why=tuple(reasons)
    )
    return UndatedBasis(basis, float(full / numbers.working_max) if estimated else None, doubt)


def _step(client: Client, slot: Slot, racks: Racks) -> Decimal | None:
    """How finely a slot's bar is loaded, in kg: its own step, else the gym's unless the rule adds in finer ones."""
    if slot.step is not None:
        return slot.step.kg(client.unit)
    usual = racks.usual_step()
    if usual is None:
        return None
    add = getattr(slot.progression, "add", None)
    # On the gym's steps such an addition would be rounded away in some weeks and doubled in others.
    return None if isinstance(add, Amount) and add.kg(client.unit) % usual else usual


def _source(
    ground: Ground, slot: Slot, movement: str, about: Movement, replaced: bool
) -> tuple[LiftNumbers | None, Decimal | None]:
    """The tested lift that a movement's load comes from, and its ratio to it; no ratio when it was tested itself."""
    # Neither `of` nor `ratio` goes over to a replacement: both were said of the movement that it stands for.
    named = ground.library.named(slot.of) if slot.of and not replaced else None
    if named is not None and named != movement:
        ratio = slot.ratio or (about.ratio if about.of == named else None)
        return (ground.numbers(named), ratio) if ratio else (None, None)
    own = ground.numbers(movement)
    if own is not None:
        # The library's parent, or none: a lift that was tested itself needs no ratio to another.
        return own, None
    parent = ground.library.named(about.of) if about.of else None
    ratio = about.ratio if replaced else slot.ratio or about.ratio
    return (ground.numbers(parent), ratio) if parent and ratio else (None, None)


def _from_test(numbers: LiftNumbers) -> tuple[Reason, ...]:
    test = numbers.chosen.test
    tested = because(
        "test", movement=numbers.movement, load_kg=numbers.chosen.load, reps=test.reps, rir=test.rir, day=test.day
    )
    working = because("working-max", working_share=numbers.working_share, working_kg=numbers.working_max)
    return tested, estimated_max(numbers), working


def estimated_max(numbers: LiftNumbers) -> Reason:
    """What the chosen test is worth by the lift's equation, and the spread over all of them."""
    return because(
        "estimate", equation=str(numbers.equation), estimate_kg=numbers.estimate,
        low_kg=numbers.spread.low, high_kg=numbers.spread.high,
    )  # fmt: skip


def _gear(numbers: LiftNumbers, slot: Slot, gear: Gear, *, varied: bool) -> Iterator[tuple[str, Decimal]]:
    """Each condition that differs between the test and training, where both are stated, with its factor on the max.

    The gains are common practice, no source (`training.norms`), unless the block gives its own. A variant's ratio
    (`varied`) has its bar position in it already.
    """
    tested, trained = numbers.chosen.test, slot.trained
    conditions = (
        ("belt", tested.belt, trained.belt, gear.belt, BELT_GAIN),
        ("sleeves", tested.sleeves, trained.sleeves, gear.sleeves, SLEEVES_GAIN),
        ("low-bar", _low(tested.bar), None if varied else _low(trained.bar), gear.low_bar, LOW_BAR_GAIN),
    )
    for word, then, now, own_gain, usual in conditions:
        if then is not None and now is not None and then != now:
            gain = 1 + (usual if own_gain is None else own_gain)
            yield (f"{word}-on", gain) if now else (f"{word}-off", 1 / gain)


def _low(bar: str | None) -> bool | None:
    return None if bar is None else bar == "low"
