"""How effort is written: as reps in reserve, or as a rating, which is 10 less them (Zourdos 2016)."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, model_validator
from pydantic_core import PydanticCustomError

from builder.values import slips
from builder.values.forms import schema
from builder.values.scalars import LISTED, Part, _decimal, one_word, wrong

# As `scalars.Rir`, which takes 0 to 6, and `training.expected.MOST_RESERVE`.
LEAST_RATING, MOST_RATING = 4, 10
"""As many reps in reserve as may be written, 6 to none."""


def _rating(value: Any) -> Any:
    expected = 'a rating of the effort such as "8" or "8.5"'
    if isinstance(value, Decimal):
        return value
    text = one_word(value, expected)
    if meant := slips.rating(text):
        raise wrong("not-a-number", f'"{text}" is not a number', f'Write "{meant}".')
    rating = _decimal(text, expected)
    if not LEAST_RATING <= rating <= MOST_RATING:
        help_ = "Write a rating from 4 to 10: 10 is none in reserve, 8 is two."
        raise wrong("out-of-range", f"a rating of {text} is out of range", help_)
    return rating


Rating = Annotated[
    Decimal, BeforeValidator(_rating), Field(ge=LEAST_RATING, le=MOST_RATING), schema(r"\d+(\.\d+)?", "a rating: 8")
]
Effort = Annotated[Literal["rir", "rpe"], LISTED]
"""The word in which effort is told."""


def effort_words(part: Part) -> Iterator[str]:
    """The words, `rir` or `rpe`, in which a part and the parts inside it give an effort."""
    if isinstance(part, Rated) and "rir" in part.model_fields_set:
        yield "rpe" if "rpe" in part.model_fields_set else "rir"
    for value in dict(part).values():
        for inner in value if isinstance(value, tuple) else (value,):
            if isinstance(inner, Part):
                yield from effort_words(inner)


class Rated(Part):
    """A part whose `rir` may be written as `rpe`; both are kept."""

    @model_validator(mode="before")
    @classmethod
    def _as_reserve(cls, written: Any) -> Any:
        if not isinstance(written, dict) or "rpe" not in written:
            return written
        if "rir" in written:
            help_ = "Keep one of the two: they say the same in different numbers."
            raise wrong("effort-twice", "the effort is given as rir and as rpe", help_, "rpe")
        ratings = written["rpe"]
        try:
            reserve = [10 - _rating(one) for one in ratings] if isinstance(ratings, list) else 10 - _rating(ratings)
        except PydanticCustomError:
            # Told where it stands, when the key itself is checked.
            return written
        return {**written, "rir": reserve}
