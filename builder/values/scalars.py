"""How single values are written in the source files: text in, exact values out, and what to say when it fails.

Why so strict, when most of it could be guessed: a wrong guess is a wrong load on a bar. What is meant is nearly always
plain all the same, so the message writes it out (`slips`), and the person decides.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from typing import Annotated, Any, Literal, get_args

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, GetCoreSchemaHandler, WithJsonSchema
from pydantic_core import PydanticCustomError
from pydantic_core.core_schema import CoreSchema, no_info_before_validator_function

from builder.values import forms, slips
from builder.values.formats import SOURCE_FORMAT
from builder.values.lists import TrainingStatus
from builder.values.problem import did_you_mean, listing
from builder.values.quantity import OnBar, Unit, to_kg

_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")
_COMMA = re.compile(r"([+-]?\d+),(\d+)(.*)", re.DOTALL)
_UNIT_SLIPS = {
    "lbs": "lb",
    "pound": "lb",
    "pounds": "lb",
    "#": "lb",
    "kgs": "kg",
    "kilo": "kg",
    "kilos": "kg",
    "kilograms": "kg",
}
MOST_NAME, MOST_PROSE = 120, 20_000
"""Signs of one value, and of a text that may have several lines."""


class Part(BaseModel):
    """A frozen piece of a source file; keys that are not its own are problems."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True, populate_by_name=True)


def wrong(code: str, fact: str, help_: str, key: str = "") -> PydanticCustomError:
    """The error that the file reader turns into a located problem; `key` names the place below the checked value."""
    return PydanticCustomError(code, "{fact}", {"fact": fact, "help": help_, "key": key})


def one_word(value: Any, expected: str, most: int = MOST_NAME) -> str:
    """`value` when it is a single word of the file; a list or mapping is a problem, and so are over `most` signs."""
    if isinstance(value, bool | int | float | Decimal):
        return str(value)
    if isinstance(value, str):
        text = value.strip()
        if len(text) > most:
            line = "one line of " if most == MOST_NAME else ""
            raise wrong("long-text", f"the text has {len(text)} signs", f"Write {line}at most {most}.")
        return text
    inner = list(value.values()) if isinstance(value, dict) else value
    meant = inner[0] if isinstance(inner, list) and len(inner) == 1 and isinstance(inner[0], str) else None
    raise wrong("wrong-type", "one value is expected here, not a list or a mapping", _help(meant, expected))


def _help(meant: str | None, expected: str) -> str:
    """How to write what was meant, where that is plain; else what is expected."""
    return f'Write "{meant}".' if meant else f"Write {expected}."


def _comma(text: str) -> None:
    found = _COMMA.fullmatch(text)
    if not found:
        return
    whole, decimals, rest = found.groups()
    point = f"{whole}.{decimals.rstrip('0') or '0'}{rest}"
    help_ = f'Write "{point}", with a point.'
    # 1,200 may be twelve hundred: the help must not turn it into a small number.
    if len(decimals) == 3:
        help_ = f'Write "{whole}{decimals}{rest}" if the comma parts thousands, "{point}" if it parts decimals.'
    raise wrong("decimal-comma", f'"{text}" has a comma', help_)


def _decimal(text: str, expected: str) -> Decimal:
    _comma(text)
    if not _NUMBER.fullmatch(text) or len(text) > 12:
        raise wrong("not-a-number", f'"{text}" is not a number', _help(slips.whole(text), expected))
    return Decimal(text)


def _number(value: Any) -> Any:
    expected = "a number such as 2.5"
    return value if isinstance(value, Decimal) else _decimal(one_word(value, expected), expected)


def _whole(value: Any) -> Any:
    text = one_word(value, "a whole number such as 3")
    _comma(text)
    if not re.fullmatch(r"[+-]?\d{1,9}", text):
        help_ = _help(slips.whole(text) or slips.crossed(text), "a whole number such as 3")
        raise wrong("not-a-whole-number", f'"{text}" is not a whole number', help_)
    return int(text)


_MEANT = dict.fromkeys(("on", "y", "1", "with", "ja", "x"), "true") | dict.fromkeys(
    ("off", "n", "0", "without", "none", "nein"), "false"
)


def _yes_no(value: Any) -> Any:
    text = one_word(value, "true or false").lower()
    if text in ("true", "yes"):
        return True
    if text in ("false", "no"):
        return False
    meant = _MEANT.get(text)
    help_ = f"Write {meant}." if meant else "Write true or false."
    raise wrong("not-yes-or-no", f'"{text}" is neither true nor false', help_)


@dataclass(frozen=True, slots=True)
class Amount:
    """A mass as written: the number, and the unit when one was given."""

    number: Decimal
    unit: Unit | None = None

    def kg(self, default: Unit) -> OnBar:
        """The mass in kg, exact; a bare number counts in `default`."""
        return OnBar(to_kg(self.number, self.unit or default))


def _amount(value: Any, expected: str = 'a load such as "140", "140 kg" or "315 lb"') -> Any:
    if isinstance(value, Amount):
        return value
    text = one_word(value, expected)
    _comma(text)
    found = re.fullmatch(r"([+-]?\d+(?:\.\d+)?)\s*([^\d\s.,][^\d]*)?", text)
    # So short that sums of plates stay within the digits of exact arithmetic (`training.plates.exact_sums`).
    if not found or len(found[1]) > 9:
        raise wrong("not-a-load", f'"{text}" is not a load', _help(slips.load(text), expected))
    word = (found[2] or "").strip().lower()
    if word and word not in set(Unit):
        slip = _UNIT_SLIPS.get(word.rstrip("."), "")
        meant = f"{found[1]} {slip}" if slip else slips.load(text)
        raise wrong("wrong-unit", f'"{found[2]}" is not a unit of load', _help(meant, expected))
    number = Decimal(found[1])
    if number < 0:
        raise wrong("out-of-range", f"a load of {text} cannot be", f'Write "{text[1:].strip()}", without the minus.')
    if number > 2000:
        raise wrong("out-of-range", f"a load of {text} cannot be", "Write a load from 0 to 2000.")
    return Amount(number, Unit(word) if word else None)


def _share(value: Any) -> Any:
    expected = 'a share such as "85 %"'
    if isinstance(value, Decimal):
        return value
    text = one_word(value, expected)
    _comma(text)
    found = re.fullmatch(r"([+-]?\d+(?:\.\d+)?)\s*%", text)
    if found and len(found[1]) <= 12:
        return Decimal(found[1]) / 100
    # 0.85 and 85 are both written for 85 %, and 1 may be all or a hundredth: the sign decides.
    if _NUMBER.fullmatch(text) and len(text) <= 12:
        number = Decimal(text)
        meant = number * 100 if abs(number) <= Decimal("1.5") else number
        raise wrong("share-without-sign", f'"{text}" has no % sign', f'Write "{meant.normalize():f} %".')
    raise wrong("not-a-share", f'"{text}" is not a share', _help(slips.share(text), expected))


def _load_or_share(value: Any) -> Any:
    if isinstance(value, Amount | Decimal):
        return value
    expected = 'a load such as "60 kg" or a share such as "75 %"'
    text = one_word(value, expected)
    if alone := re.fullmatch(r"load: (.+), reps: .*", slips.load(text) or ""):
        raise wrong("not-a-load", f'"{text}" is more than a load', f'Write "{alone[1]}".')
    return _share(text) if "%" in text else _amount(text, expected)


def _seconds(value: Any) -> Any:
    expected = 'a time such as "90 s" or "3 min"'
    several = isinstance(value, list) and len(value) > 1 and all(isinstance(one, str) for one in value)
    text = one_word("-".join(value) if several else value, expected).lower()
    _comma(text)
    if spread := re.fullmatch(r"\d+\s*[-–]\s*(\d+)", text):
        raise wrong("not-a-time", f'"{text}" is not one length of time', slips.bare_seconds(spread[1]))
    clock = re.fullmatch(r"(\d{1,2}):(\d{2})", text)
    if clock:
        seconds = int(clock[1]) * 60 + int(clock[2])
        raise wrong("clock-time", f'"{text}" reads as a time of day', f'Write "{seconds} s" for that long.')
    found = re.fullmatch(r"(\d+(?:\.\d+)?)\s*(s|sec|seconds?|min|minutes?)?", text)
    if not found or len(found[1]) > 6:
        raise wrong("not-a-time", f'"{text}" is not a length of time', _help(slips.seconds(text), expected))
    if not found[2]:
        raise wrong("time-without-unit", f'"{text}" has no unit', slips.bare_seconds(text))
    return int(Decimal(found[1]) * (1 if found[2].startswith("s") else 60))


@dataclass(frozen=True, slots=True)
class Range:
    """Whole numbers from `low` to `high`, both counted in."""

    low: int
    high: int

    def __contains__(self, number: int) -> bool:
        return self.low <= number <= self.high


def _range(value: Any, expected: str = '"5" or "4-6"') -> Any:
    if isinstance(value, Range):
        return value
    if isinstance(value, list) and (listed := slips.spread(", ".join(map(str, value))[:MOST_NAME])):
        raise wrong("wrong-type", "one value is expected here, not a list", f'Write "{listed}".')
    text = one_word(value, expected)
    found = re.fullmatch(r"(\d{1,3})(?:\s*[-–]\s*(\d{1,3}))?", text)
    meant = slips.spread(text) or (slips.reps(text) if expected != _SOME_WEEKS else None)
    if not found:
        raise wrong("not-a-range", f'"{text}" is not a number or a range', _help(meant, expected))
    low, high = int(found[1]), int(found[2] or found[1])
    if low < 1 or high < low:
        help_ = _help(meant if low and high else None, f"{expected}, the smaller number first")
        raise wrong("not-a-range", f'"{text}" does not rise from 1 or more', help_)
    return Range(low, high)


_SOME_WEEKS = '"3" or "1-4"'


@dataclass(frozen=True, slots=True)
class Every:
    """A cadence: every `count` weeks or exposures."""

    count: int
    of: Literal["weeks", "exposures"]


def _every(value: Any) -> Any:
    expected = '"2 weeks" or "3 exposures"'
    if isinstance(value, Every):
        return value
    text = one_word(value, expected).lower()
    found = re.fullmatch(r"(\d{1,2})\s+(weeks?|exposures?)", text)
    if found and int(found[1]) > 0:
        return Every(int(found[1]), "weeks" if found[2].startswith("week") else "exposures")
    counted = re.fullmatch(r"0*[1-9]\d*", text)
    hint = f'Write "{text} weeks" or "{text} exposures".' if counted else _help(slips.cadence(text), expected)
    raise wrong("not-a-cadence", f'"{text}" is not a cadence', hint)


def _name(value: Any) -> Any:
    first = value[0] if isinstance(value, list) and value and isinstance(value[0], str) else None
    text = one_word(value, f'one of them, such as "{first}"' if first else "a text")
    if not text:
        raise wrong("empty-text", "the text is empty", "Write it, or leave the key out.")
    if "\n" in text:
        raise wrong("long-text", "the text has several lines", f"Write one line of at most {MOST_NAME}.")
    return text


def _prose(value: Any) -> Any:
    return one_word(value, "a text", MOST_PROSE)


def _rir(value: Any) -> Any:
    expected = 'the reps in reserve, such as "2" or "1.5"'
    if isinstance(value, Decimal):
        return value
    text = one_word(value, expected)
    if meant := slips.rir(text):
        raise wrong("not-a-number", f'"{text}" is not a number', f'Write "{meant}", the reps in reserve.')
    return _decimal(text, expected)


def _web(value: Any) -> Any:
    text = _name(value)
    if not re.fullmatch(r"https://\S+", text):
        bare = re.fullmatch(r"(?:http://)?([\w.-]+\.\w+\S*)", text)
        help_ = _help(f"https://{bare[1]}" if bare else None, "an address that starts with https://")
        raise wrong("wrong-form", f'"{text}" has the wrong form', help_)
    return text


def is_mail(text: str) -> bool:
    """Whether a text can be an address for mail: one @, a domain with a dot, no space (RFC 5321, 4.1.2, in short)."""
    return re.fullmatch(r"[^@\s]+@[^@\s.]+(\.[^@\s.]+)+", text) is not None


def _mail(value: Any) -> Any:
    text = _name(value)
    if not is_mail(text):
        raise wrong("wrong-form", f'"{text}" is no address for mail', _help(None, MAIL_HELP))
    return text


MAIL_HELP = "an address such as desk@northrack.example"


def _word(words: tuple[str, ...], value: Any) -> str:
    text = one_word(value, " or ".join(words))
    if text in words:
        return text
    meant = slips.word(text, words)
    help_ = f'Write "{meant}".' if meant else did_you_mean(text, words) or f"Write {listing(words)}."
    raise wrong("unknown-word", f'"{text}" is not known here', help_)


class _Listed:
    """The validator of a word out of a closed list: that of the `Literal` or enumeration beside which it stands."""

    def __get_pydantic_core_schema__(self, listed: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        words = tuple(map(str, get_args(listed) or listed))
        return no_info_before_validator_function(partial(_word, words), handler(listed))


LISTED = _Listed()


Text = Annotated[str, BeforeValidator(_name), WithJsonSchema(forms.TEXT)]
MovementName = Annotated[Text, forms.offered("movements")]
Web = Annotated[
    str, BeforeValidator(_web), WithJsonSchema({"type": "string", "pattern": r"^\s*https://\S+\s*$", "maxLength": 120})
]
Mail = Annotated[
    str, BeforeValidator(_mail), WithJsonSchema({**forms.TEXT, "pattern": r"^\s*[^@\s]+@[^@\s]+\.[^@\s]+\s*$"})
]
Prose = Annotated[str, BeforeValidator(_prose), WithJsonSchema({**forms.TEXT, "minLength": 0, "maxLength": MOST_PROSE})]
Number = Annotated[Decimal, BeforeValidator(_number), forms.schema(r"[+-]?\d+(\.\d+)?", "a number")]
Whole = Annotated[
    int, BeforeValidator(_whole), WithJsonSchema({"type": ["integer", "string"], "pattern": r"^\s*[+-]?\d{1,9}\s*$"})
]
YesNo = Annotated[
    bool,
    BeforeValidator(_yes_no),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "boolean"},
                {"type": "string", "pattern": f"^{forms.words('yes', 'no', 'true', 'false')}$"},
            ]
        }
    ),
]
Load = Annotated[
    Amount, BeforeValidator(_amount), forms.schema(forms.MASS, "a load: 140, 140 kg or 315 lb", minimum=0, maximum=2000)
]
Share = Annotated[
    Decimal, BeforeValidator(_share), forms.schema(forms.PERCENT, "a share: 85 %", bare=False, written="share")
]
LoadOrShare = Annotated[
    Amount | Decimal,
    BeforeValidator(_load_or_share),
    forms.schema(
        f"({forms.MASS}|{forms.PERCENT})", "a load such as 60 kg, or a share such as 75 %", minimum=0, maximum=2000
    ),
]
Seconds = Annotated[
    int,
    BeforeValidator(_seconds),
    forms.schema(forms.LENGTH, "a length of time: 90 s or 3 min", bare=False, written="seconds"),
]
Reps = Annotated[Range, BeforeValidator(_range), forms.schema(forms.SPREAD, "a number or a range: 5 or 4-6", minimum=1)]
Weeks = Annotated[
    Range, BeforeValidator(partial(_range, expected=_SOME_WEEKS)),
    forms.schema(forms.SPREAD, "a week or weeks: 3 or 1-4", minimum=1),
]
Cadence = Annotated[Every, BeforeValidator(_every), forms.schema(forms.TURNS, "a cadence: 2 weeks", bare=False)]
Rir = Annotated[Decimal, BeforeValidator(_rir), Field(ge=0, le=6), forms.schema(r"\d+(\.\d+)?", "reps in reserve: 2")]
Format = Annotated[
    str,
    BeforeValidator(partial(_word, (str(SOURCE_FORMAT),))),
    WithJsonSchema({"enum": [SOURCE_FORMAT, str(SOURCE_FORMAT)]}),
]
Status = Annotated[TrainingStatus, LISTED]
