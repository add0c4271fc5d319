"""Made-up sources as data: masses that know their unit, the same files in the other unit, and all of it as YAML."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

import yaml
from hypothesis import strategies as st

Data = dict[Any, Any]

POUND = Decimal("0.45359237")
"""kg, exactly: NIST SP 811, App. B (references.md)."""
LONGEST_NUMBER = 9
"""Signs that a written load may have."""


@dataclass(frozen=True)
class Mass:
    """A mass as it is to be written: a number, its unit, and whether the unit is left out."""

    number: Decimal
    unit: str
    bare: bool = False

    @property
    def kg(self) -> Decimal:
        """Exactly, worked out here."""
        return self.number * POUND if self.unit == "lb" else self.number

    def __str__(self) -> str:
        number = format(self.number, "f")
        return number if self.bare else f"{number} {self.unit}"

    def elsewhere(self) -> Mass:
        """The same mass for a reader who counts in the other unit: in kg where that can be written out in full."""
        kilograms = Mass(self.kg.normalize(), "kg")
        short = len(format(kilograms.number, "f")) <= LONGEST_NUMBER
        return kilograms if self.unit == "lb" and short else replace(self, bare=False)


def mass(number: str | int, unit: str, *, bare: bool = True) -> Mass:
    """A mass of a profile that counts in `unit`."""
    return Mass(Decimal(number), unit, bare)


@dataclass(frozen=True)
class Made:
    """A profile and a block that belong together."""

    profile: Data
    block: Data

    @property
    def texts(self) -> tuple[str, str]:
        """Both as YAML."""
        return written(self.profile), written(self.block)

    def twin(self) -> Made:
        """The same lifter, gym and rules in the other unit."""
        client = self.profile["client"]
        other = {**client, "units": "lb" if client["units"] == "kg" else "kg"}
        return Made(_mapped({**self.profile, "client": other}, _elsewhere), _mapped(self.block, _elsewhere))


def _elsewhere(value: Any) -> Any:
    return value.elsewhere() if isinstance(value, Mass) else value


def _named(value: Any) -> Any:
    return replace(value, bare=False) if isinstance(value, Mass) else value


def _mapped(data: Any, change: Callable[[Any], Any]) -> Any:
    if isinstance(data, dict):
        if change is _elsewhere and "step" in data and "from" in data:
            change = _named  # Even steps keep to one unit.
        return {change(key): _mapped(value, change) for key, value in data.items()}
    return [_mapped(item, change) for item in data] if isinstance(data, list) else change(data)


class _Plain(str):
    """A text that is written without quotes, as a coach would."""


class _Writer(yaml.SafeDumper):
    """Writes bare numbers without quotes."""

    def ignore_aliases(self, data: Any) -> bool:
        return True


def _plain(dumper: yaml.SafeDumper, text: _Plain) -> yaml.Node:
    kind = "float" if "." in text else "int"
    return dumper.represent_scalar(f"tag:yaml.org,2002:{kind}", str(text))


_Writer.add_representer(_Plain, _plain)


def written(data: Data, *, flow: bool | None = None) -> str:
    """The data as one YAML file, in blocks or in braces."""
    return yaml.dump(
        _mapped(data, _as_text), Dumper=_Writer, sort_keys=False, allow_unicode=True, default_flow_style=flow, width=110
    )


def _as_text(value: Any) -> Any:
    if isinstance(value, Mass):
        return _Plain(value) if value.bare else str(value)
    return value


def one_in(number: int) -> st.SearchStrategy[bool]:
    """True about one time in so many."""
    return st.integers(1, number).map(lambda drawn: drawn == number)


def percents(low: int, high: int) -> st.SearchStrategy[str]:
    """Shares as they are written, half percents among them."""
    return st.integers(2 * low, 2 * high).map(lambda halves: f"{Decimal(halves) / 2:f} %")
