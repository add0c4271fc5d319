"""What the lifter's gym has: bars, plates, collars, dumbbells, stacks, kettlebells, rack pins, safeties."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, Discriminator, Field, Tag, model_validator

from builder.values.quantity import Rounding, Ties, Unit
from builder.values.scalars import Amount, Load, Number, Part, Text, Whole, YesNo, _amount, one_of, wrong

USUAL_BAR = Decimal(20)
Count = Annotated[Whole, Field(ge=0, le=40)]
Spotter = Annotated[Literal["never", "sometimes", "always"], one_of("never", "sometimes", "always")]
RoundingWord = Annotated[Rounding, one_of(*Rounding)]
TiesWord = Annotated[Ties, one_of(*Ties)]


def _bar(value: Any) -> Any:
    return value if isinstance(value, dict | Bar) else {"weight": value}


class Bar(Part):
    """A bar with its own weight, and collars when they differ from the gym's."""

    weight: Load
    collars: Load | None = None


class Steps(Part):
    """Weights that come in even steps, with small plates that may be added on top."""

    start: Load = Field(alias="from")
    to: Load
    step: Load
    add: tuple[Load, ...] = Field((), max_length=5)

    @model_validator(mode="after")
    def _rises(self) -> Steps:
        if len({self.start.unit, self.to.unit, self.step.unit}) > 1:
            raise wrong("mixed-units", "these steps mix units", "Write from, to and step in the same unit.")
        low, high, step = self.start.number, self.to.number, self.step.number
        if step <= 0 or high < low or (high - low) / step > 400:
            raise wrong(
                "not-rising",
                "these steps do not rise",
                "Write from below to, and a step above 0 that fits between.",
            )
        return self

    def amounts(self) -> tuple[Amount, ...]:
        """Every weight from first to last, without the added plates."""
        low, step = self.start.number, self.step.number
        count = int((self.to.number - low) / step)
        return tuple(Amount(low + step * i, self.start.unit) for i in range(count + 1))


def _form(value: Any) -> str:
    return "list" if isinstance(value, list | tuple) else "steps"


StepsOrList = Annotated[
    Annotated[Steps, Tag("steps")] | Annotated[tuple[Load, ...], Field(min_length=1, max_length=400), Tag("list")],
    Discriminator(_form),
]
"""Weights in even steps, or each one listed."""


def _pairs(value: Any) -> Any:
    if isinstance(value, dict):
        seen: dict[Amount, str] = {}
        for key in value:
            amount = _amount(key)
            if amount.number == 0:
                raise wrong("out-of-range", "a plate of 0 weighs nothing", "Write what it weighs, or delete it.", key)
            if amount in seen:
                fact = f'the plates "{seen[amount]}" and "{key}" are the same'
                raise wrong("duplicate-plate", fact, "Keep one and add the pairs.", key)
            seen[amount] = key
    return value


def _above_zero(amount: Amount) -> Amount:
    if amount.number <= 0:
        raise wrong("out-of-range", "a step of 0 leads nowhere", 'Write a step such as "2.5 kg".')
    return amount


Step = Annotated[Load, AfterValidator(_above_zero)]
"""How finely a bar is loaded, above the empty bar."""


class PinRack(Part):
    """The numbered holes of the rack's uprights; heights are centimetres from the floor."""

    first: Annotated[Number, Field(gt=0, le=250)]
    spacing: Annotated[Number, Field(gt=0, le=30)]
    holes: Annotated[Whole, Field(ge=2, le=60)]

    def height(self, hole: int) -> Decimal:
        """Height in cm of a hole, counted from 1 at the floor end."""
        return self.first + self.spacing * (hole - 1)


class Gym(Part):
    """Everything that can be lifted and what keeps the lifter safe."""

    bars: dict[Text, Annotated[Bar, BeforeValidator(_bar)]] = Field(min_length=1, max_length=24)
    usual_bar: Text | None = None
    pairs: Annotated[dict[Load, Count], BeforeValidator(_pairs), Field(max_length=40)]
    collars: Load = Amount(Decimal(0))
    dumbbells: StepsOrList | None = None
    kettlebells: StepsOrList | None = None
    stacks: dict[Text, StepsOrList] = Field(default_factory=dict, max_length=40)
    pins: PinRack | None = None
    step: Step | None = None
    safeties: YesNo = False
    spotter: Spotter = "never"
    rounding: RoundingWord = Rounding.NEAREST
    ties: TiesWord = Ties.LIGHTER

    def bar_for_all(self, unit: Unit) -> str:
        """The bar for slots that name none: the usual one, else the nearest to 20 kg, of equals the first by name."""
        off = {name: abs(bar.weight.kg(unit) - USUAL_BAR) for name, bar in self.bars.items()}
        return self.usual_bar or min(off, key=lambda name: (off[name], name))
