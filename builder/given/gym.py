"""What the lifter's gym has: bars, plates, collars, dumbbells, stacks, kettlebells, rack pins, safeties."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, Discriminator, Field, Tag, model_validator

from builder.values.forms import Or
from builder.values.quantity import Rounding, Ties, Unit
from builder.values.scalars import LISTED, Amount, Load, Number, Part, Text, Whole, YesNo, _amount, wrong

USUAL_BAR = Decimal(20)
Count = Annotated[Whole, Field(ge=0, le=40)]
Spotter = Annotated[Literal["never", "sometimes", "always"], LISTED]
RoundingWord = Annotated[Rounding, LISTED]
TiesWord = Annotated[Ties, LISTED]


def _bar(value: Any) -> Any:
    return value if isinstance(value, dict | Bar) else {"weight": value}


class Bar(Part):
    """A bar with its own weight, and collars when they differ from the gym's."""

    weight: Load = Field(description="What the bare bar weighs.", examples=["20 kg"])
    collars: Load | None = Field(
        None,
        description="What one collar of this bar weighs.",
        examples=["2.5 kg"],
        json_schema_extra={"unset": "that of the gym"},
    )


class Steps(Part):
    """Weights that come in even steps, with small plates that may be added on top."""

    start: Load = Field(alias="from", description="The lightest.", examples=["2 kg"])
    to: Load = Field(description="The heaviest.", examples=["40 kg"])
    step: Load = Field(description="From one to the next.", examples=["2 kg"])
    add: tuple[Load, ...] = Field(
        (), max_length=5, description="Small pieces that can be added, each once.", examples=[["1 kg"]]
    )

    @model_validator(mode="after")
    def _rises(self) -> Steps:
        # From 5 lb to 20 kg in steps of 2.5 lb is no rack that anyone meant.
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

    first: Annotated[Number, Field(gt=0, le=250)] = Field(
        description="The height of hole 1 in cm from the floor.", examples=[25]
    )
    spacing: Annotated[Number, Field(gt=0, le=30)] = Field(
        description="The way from one hole to the next, in cm.", examples=[5]
    )
    holes: Annotated[Whole, Field(ge=2, le=60)] = Field(description="How many holes there are.", examples=[30])

    def height(self, hole: int) -> Decimal:
        """Height in cm of a hole, counted from 1 at the floor end."""
        return self.first + self.spacing * (hole - 1)


class Gym(Part):
    """Everything that can be lifted and what keeps the lifter safe."""

    bars: dict[Text, Annotated[Bar, BeforeValidator(_bar), Or(Load)]] = Field(
        min_length=1, max_length=24, description="Bars by name, each with its weight.", examples=[{"power bar": 20}]
    )
    usual_bar: Text | None = Field(
        None,
        description="The name of the bar for slots that name none.",
        examples=["power bar"],
        json_schema_extra={"unset": "the one nearest to 20 kg, of equals the first by name"},
    )
    pairs: Annotated[dict[Load, Count], BeforeValidator(_pairs), Field(max_length=40)] = Field(
        description="Plates and how many pairs there are of each.",
        examples=[{"20": 2, "10": 1, "5": 1, "2.5": 1, "1.25": 1}],
    )
    collars: Load = Field(
        Amount(Decimal(0)),
        description="What one collar weighs; two go on a bar, none on one that is pressed over the "
        "chest where `spotter` is `never`.",
        examples=["2.5 kg"],
    )
    dumbbells: StepsOrList | None = Field(
        None,
        description="Dumbbells by what one weighs, in even steps or each listed.",
        examples=[{"from": 2, "to": 40, "step": 2}],
    )
    kettlebells: StepsOrList | None = Field(
        None,
        description="Kettlebells by what one weighs, in even steps or each listed.",
        examples=[[8, 12, 16, 20, 24]],
    )
    stacks: dict[Text, StepsOrList] = Field(
        default_factory=dict,
        max_length=40,
        description="Machines by name, with the weights that can be picked.",
        examples=[{"cable tower": {"from": 5, "to": 100, "step": 5}}],
    )
    pins: PinRack | None = Field(
        None, description="The numbered holes of the rack.", examples=[{"first": 25, "spacing": 5, "holes": 30}]
    )
    step: Step | None = Field(
        None,
        description="How finely bars are loaded, counted from the empty bar.",
        examples=["2.5 kg"],
        json_schema_extra={"unset": "as finely as the plates allow"},
    )
    # What is not said is taken as not there: a caution too many costs a line, one too few may cost more.
    safeties: YesNo = Field(False, description="Whether there are safety bars.", examples=[True])
    spotter: Spotter = Field("never", description="Whether someone can spot.", examples=["sometimes"])
    rounding: RoundingWord = Field(
        Rounding.NEAREST, description="Which neighbour of a target is taken.", examples=["down"]
    )
    ties: TiesWord = Field(
        Ties.LIGHTER, description="Which one is taken when both are equally near.", examples=["heavier"]
    )

    def bar_for_all(self, unit: Unit) -> str:
        """The bar for slots that name none: the usual one, else the nearest to 20 kg, of equals the first by name."""
        off = {name: abs(bar.weight.kg(unit) - USUAL_BAR) for name, bar in self.bars.items()}
        # By name, and not by place in the file: the same bars in another order must give the same loads.
        return self.usual_bar or min(off, key=lambda name: (off[name], name))
