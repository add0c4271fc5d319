"""Every printed word comes from here: a catalogue of sentences, and numbers and dates as the language writes them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date as Date  # noqa: N812  (the class has a method of that name)
from decimal import Decimal
from typing import Any

from builder.values.quantity import Unit, in_unit, plain, to_places

THIN = "\N{THIN SPACE}"
NARROW = "\N{NARROW NO-BREAK SPACE}"


@dataclass(frozen=True, slots=True)
class Words:
    """The words of one language. `unit` is the unit that masses are shown in, `rated` tells effort as RPE.

    `catalogue` maps a key to a sentence with {names}; "key.one" and "key.other" are chosen by `count`.
    `movements` maps a movement of the library to its name in this language, `cues` a sentence of the library to
    that of this language; what they lack is printed as it is written.
    """

    language: str
    catalogue: Mapping[str, str]
    unit: Unit
    movements: Mapping[str, str] = field(default_factory=dict)
    cues: Mapping[str, str] = field(default_factory=dict)
    rated: bool = False

    def __call__(self, key: str, **values: Any) -> str:
        """The sentence of `key` with its values written in; KeyError when the catalogue has none."""
        if "count" in values and key not in self.catalogue:
            key = f"{key}.{'one' if values['count'] == 1 else 'other'}"
        if self.rated and f"{key}.rated" in self.catalogue:
            key, rir = f"{key}.rated", values.get("rir")
            values = values if rir is None else {**values, "rpe": 10 - Decimal(rir)}
        return self.catalogue[key].format_map({name: self.value(name, value) for name, value in values.items()})

    def effort(self, rir: Decimal) -> str:
        """A reserve as the number in which effort is told: itself, or the rating, 10 less it (Zourdos 2016)."""
        return self.number(10 - rir if self.rated else rir)

    def has(self, key: str) -> bool:
        """Whether the catalogue has a sentence for `key`."""
        return key in self.catalogue

    def movement(self, name: str) -> str:
        """What a movement is called; one that a coach named keeps that name."""
        return self.movements.get(name, name)

    def cue(self, sentence: str) -> str:
        """A cue or caution of the library; one that a coach wrote stays as written."""
        return self.cues.get(sentence, sentence)

    def implement(self, name: str) -> str:
        """What the load is picked from; bars and stacks keep the name that the gym gives them."""
        return self.catalogue.get(f"implement.{name.replace(' ', '-')}", name)

    def plates(self, text: str) -> str:
        """The plates of one side, or one of them, with the language's decimal sign: "25 + 1.25"."""
        return text.replace(".", self.catalogue["decimal"])

    def value(self, name: str, value: Any) -> str:
        """A value as printed, by the ending of its name: `*_kg` is a mass, `*_share` a share, a date is a date."""
        if isinstance(value, Date):
            return self.date(value)
        if isinstance(value, Decimal):
            if name.endswith("_kg"):
                return self.mass(value)
            return self.share(value) if name.endswith("share") else self.number(value)
        return str(value)

    def number(self, value: Decimal | int, places: int | None = None) -> str:
        """A number with the language's decimal sign; rounded to `places` when given."""
        shown = Decimal(value) if places is None else to_places(Decimal(value), places)
        text = plain(shown) if places is None else format(shown, "f")
        return text.replace("-", "\N{MINUS SIGN}").replace(".", self.catalogue["decimal"])

    def amount(self, kg: Decimal, places: int = 1) -> str:
        """A mass in the lifter's unit without the unit's name: exact when it is short, else to `places`."""
        exact = in_unit(kg, self.unit).normalize()
        exponent = exact.as_tuple().exponent
        short = isinstance(exponent, int) and exponent >= -2
        return self.number(exact if short else to_places(exact, places))

    def mass(self, kg: Decimal, places: int = 1) -> str:
        """A mass with its unit after a narrow space: "122.5 kg"."""
        return f"{self.amount(kg, places)}{NARROW}{self.unit}"

    def bulk(self, kg: Decimal) -> str:
        """A large mass in whole units of the lifter: "12 480 kg"."""
        whole = int(to_places(in_unit(kg, self.unit), 0))
        return f"{whole:,}".replace(",", NARROW) + f"{NARROW}{self.unit}"

    def share(self, fraction: Decimal, places: int = 0) -> str:
        """A share in percent: "83 %"."""
        percent = to_places(fraction * 100, places)
        return f"{self.number(percent)}{NARROW}%"

    def weekday(self, on: Date) -> str:
        """The short name of the day of the week."""
        return self.catalogue["weekdays"].split()[on.weekday()]

    def month(self, on: Date) -> str:
        """The short name of the month."""
        return self.catalogue["months"].split()[on.month - 1]

    def date(self, on: Date) -> str:
        """A whole date: "11 Jan 2027"."""
        return self.catalogue["date"].format(day=on.day, month=self.month(on), year=on.year)

    def day(self, on: Date) -> str:
        """A date within the block: "Mon 11 Jan"."""
        return self.catalogue["day"].format(weekday=self.weekday(on), day=on.day, month=self.month(on))


def unbroken(text: str) -> str:
    """A text that stays on one line."""
    return text.replace(" ", "\N{NO-BREAK SPACE}")
