"""What one client does otherwise than the shared block has it: slots swapped, dropped, altered or added, by name."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, ConfigDict, Field, WithJsonSchema, model_validator

from builder.given.block import Slot
from builder.values.forms import one_key
from builder.values.scalars import MovementName, Part, Range, Text, Weeks, YesNo, wrong

Verb = Literal["swap", "drop", "alter", "add"]
VERBS: tuple[Verb, ...] = ("swap", "drop", "alter", "add")
NOT_ALTERED = {"movement": '"swap: …, to: …"', "drill": '"swap: …, to: …"', "name": "its name in the block"}
"""Keys of a slot that an alteration leaves alone, with what to write in their place."""


def _keys(value: Any) -> Any:
    """Keys of a slot with new values; they are checked together with the slot that they are laid over."""
    if not isinstance(value, dict):
        other = f'Write "to: {value}" for another movement, or keys' if isinstance(value, str) else "Write them"
        raise wrong("wrong-type", "keys of a slot are expected here", f'{other} in braces: "with: {{rest: 4 min}}".')
    for key, meant in NOT_ALTERED.items():
        if key in value:
            raise wrong("change", f'"{key}" is not altered this way', f"Write {meant}.", key)
    return value


Keys = Annotated[
    dict[str, Any],
    BeforeValidator(_keys),
    WithJsonSchema({"type": "object", "description": "keys of a slot with their new values"}),
]


class Change(Part):
    """One change for one client: exactly one of swap, drop, alter and add.

    The first three name a slot of the block, by its name or else by its movement.
    """

    model_config = ConfigDict(json_schema_extra=one_key("swap", "drop", "alter", "add"))

    swap: MovementName | None = Field(
        None, description="The slot whose movement is another one.", examples=["back squat"]
    )
    to: MovementName | None = Field(None, description="The movement that comes in its place.", examples=["front squat"])
    drop: MovementName | None = Field(None, description="The slot that is left out.", examples=["leg curl"])
    alter: MovementName | None = Field(None, description="The slot that has other values.", examples=["bench press"])
    with_: Keys | None = Field(
        None,
        alias="with",
        description="Its keys with new values, joined with the slot's own key by key; beside `alter` or `swap`.",
        examples=[{"rest": "4 min", "progression": {"sets": 4}}],
    )
    add: Slot | None = Field(
        None,
        description="A slot that the block does not have.",
        examples=[{"movement": "push-up", "progression": {"kind": "double", "reps": "8-12", "add": "2.5 kg"}}],
    )
    after: MovementName | None = Field(
        None, description="The slot that an added one comes after.", examples=["bench press"]
    )
    first: YesNo = Field(
        False, description="Whether an added slot comes first on its `day`; else it comes last.", examples=[True]
    )
    day: Text | None = Field(
        None,
        description="Only on the day with this title.",
        examples=["Squat, heavy"],
        json_schema_extra={"unset": "on every day with such a slot"},
    )
    weeks: Weeks | None = Field(
        None, description="Only in these weeks.", examples=["3-6"], json_schema_extra={"unset": "in every week"}
    )
    why: Text | None = Field(None, description="The reason, which is printed.", examples=["Kinder to her wrists."])

    @property
    def verb(self) -> Verb:
        """What is done."""
        return next(verb for verb in VERBS if getattr(self, verb) is not None)

    @property
    def target(self) -> str:
        """The slot that is changed, or that an added one comes after; "" for one that is added to a day."""
        return self.swap or self.drop or self.alter or self.after or ""

    @model_validator(mode="after")
    def _one_thing(self) -> Change:
        said = [verb for verb in VERBS if getattr(self, verb) is not None]
        if len(said) != 1:
            fact = f"this change says {' and '.join(said)}" if said else "this change says nothing to do"
            raise wrong("change", fact, 'Write one of "swap: …, to: …", "drop: …", "alter: …, with: {…}", "add: {…}".')
        for fault in _SHAPES[said[0]]:
            fault(self)
        return self


def _swaps(change: Change) -> None:
    if change.to is None:
        raise wrong("change", "a swap without what comes in its place", f'Add "to:": "swap: {change.swap}, to: …".')


def _alters(change: Change) -> None:
    if not change.with_:
        example = f'"alter: {change.alter}, with: {{rest: 4 min}}"'
        raise wrong("change", "an alteration without what is altered", f'Add "with:": {example}.')


def _adds(change: Change) -> None:
    if change.after is None and change.day is None:
        raise wrong("change", "an added slot without its place", 'Add "after:" with a slot, or "day:" with a title.')
    if change.after is not None and change.first:
        raise wrong("change", "an added slot with two places", 'Keep "after:" or "first: true".', "first")
    if change.add is not None and change.add.weeks is not None and change.weeks is not None:
        raise wrong("change", "the weeks of an added slot are given twice", 'Keep the "weeks:" beside "add:".', "weeks")


def _only(verbs: tuple[Verb, ...], *keys: str) -> Any:
    def check(change: Change) -> None:
        for key in keys:
            if getattr(change, key) not in (None, False):
                said = key.rstrip("_")
                fact = f'"{said}" does not go with "{change.verb}"'
                raise wrong("change", fact, f'It goes with {" and ".join(verbs)}: take "{said}:" out.', said)

    return check


_TO, _WITH, _PLACE = _only(("swap",), "to"), _only(("alter", "swap"), "with_"), _only(("add",), "after", "first")
_SHAPES: dict[Verb, tuple[Any, ...]] = {
    "swap": (_swaps, _PLACE),
    "drop": (_TO, _WITH, _PLACE),
    "alter": (_alters, _TO, _PLACE),
    "add": (_adds, _TO, _WITH),
}


@dataclass(frozen=True, slots=True)
class ChangeMade:
    """A change as it was made: the movement or drill that it met, what comes `by` it, on days of these titles.

    `weeks` is None where it holds for the whole block. `written` has the keys that an alteration changes.
    """

    verb: Verb
    movement: str
    by: str = ""
    days: tuple[str, ...] = ()
    weeks: Range | None = None
    why: str | None = None
    written: str = ""


@dataclass(frozen=True, slots=True)
class Variant:
    """A slot of the block as changed, by its place: which slot of the shared block it is, and the changes it has.

    What is the same slot in some weeks and another in others has one `origin`, so that its progress goes on.
    """

    place: tuple[int, int]
    origin: tuple[int, int] | None
    made: tuple[int, ...]


__all__ = ["NOT_ALTERED", "VERBS", "Change", "ChangeMade", "Variant", "Verb"]
