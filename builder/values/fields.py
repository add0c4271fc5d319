"""The one home of form-field names: what a field means, written as a short name and parsed back.

A name that was once printed comes back in filled booklets for years. So a name never gets another meaning, and new
kinds are added beside those that are there.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, get_args, get_type_hints

SetPart = Literal["load", "reps", "rir", "done", "did", "today"]
"""Four cells a set, or a tick and one field for all that was done; today's load stands once for sets that are alike."""
SessionPart = Literal["bodyweight", "sleep", "note", "started", "ended", "date", "place"]
WeekPart = Literal["bodyweight", "sleep", "good", "mend"]
AttemptPart = Literal["load", "good"]
ResultPart = Literal["load", "reps", "rir", "date", "note"]
RecordPart = Literal["load", "date"]
Form = Literal["licence", "screening"]
SignPart = Literal["name", "date", "signature"]
Answer = Literal["yes", "no"]
IntakeOnce = Literal[
    "name", "bodyweight", "born", "female", "male", "mon", "tue", "wed", "thu", "fri", "sat", "sun", "minutes",
    "starts", "months", "sessionwise", "weekwise", "monthwise", "collars", "safeties", "unsafe", "never", "sometimes",
    "always", "consent", "note",
]  # fmt: skip
IntakeList = Literal["lift", "bar", "plate", "bell", "stack", "pins", "limit"]
IntakePart = Literal[
    "name", "load", "reps", "rir", "date", "high", "low", "belt", "weight", "pairs", "from", "to", "step", "first",
    "spacing", "holes", "area", "avoid", "since",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class SetField:
    """One cell of a log row; slot and set count from 1 within their session and slot."""

    week: int
    day: int
    slot: int
    set: int
    part: SetPart


@dataclass(frozen=True, slots=True)
class SlotNote:
    """The note beside one slot of a session."""

    week: int
    day: int
    slot: int


@dataclass(frozen=True, slots=True)
class SessionField:
    """Something asked once a session."""

    week: int
    day: int
    part: SessionPart


@dataclass(frozen=True, slots=True)
class WeekField:
    """Something asked once a week, when it is over."""

    week: int
    part: WeekPart


@dataclass(frozen=True, slots=True)
class AttemptField:
    """One of the three attempts of a lift on test day."""

    lift: int
    attempt: int
    part: AttemptPart


@dataclass(frozen=True, slots=True)
class ResultField:
    """The outcome of a lift on test day, from which a retest is read."""

    lift: int
    part: ResultPart


@dataclass(frozen=True, slots=True)
class RetestNote:
    """The note under the whole retest form."""


@dataclass(frozen=True, slots=True)
class RecordField:
    """A new record of a lift at a number of reps, written in by hand."""

    lift: int
    reps: int
    part: RecordPart


@dataclass(frozen=True, slots=True)
class TrendField:
    """What the max of a lift seems to be in one week of the block."""

    lift: int
    week: int


@dataclass(frozen=True, slots=True)
class TrialField:
    """What is said of one way of doing a lift in a technique trial: once, or on one of its three days, its turn."""

    trial: int
    way: int
    criterion: int
    turn: int | None = None


@dataclass(frozen=True, slots=True)
class AnswerField:
    """One of the two ticks after a screening question."""

    question: int
    answer: Answer


@dataclass(frozen=True, slots=True)
class SignField:
    """Who agreed to the licence or answered the screening, and when."""

    form: Form
    part: SignPart


@dataclass(frozen=True, slots=True)
class IntakeField:
    """Something that an intake form asks once."""

    part: IntakeOnce


@dataclass(frozen=True, slots=True)
class IntakeRow:
    """One cell of a list in an intake form; rows count from 1."""

    list: IntakeList
    row: int
    part: IntakePart


Field = (
    SetField | SlotNote | SessionField | WeekField | AttemptField | ResultField
    | RetestNote | RecordField | TrendField | TrialField | AnswerField | SignField
    | IntakeField | IntakeRow
)  # fmt: skip

# Hyphens, because a period inside a partial field name is forbidden (ISO 32000-1, 12.7.3.2).
NAME = re.compile(r"[A-Za-z0-9]+(-[A-Za-z0-9]+)*")

_NAMES: tuple[tuple[str, type[Field]], ...] = (
    ("w{week:02}-d{day}-s{slot}-t{set}-{part}", SetField),
    ("w{week:02}-d{day}-s{slot}-note", SlotNote),
    ("w{week:02}-d{day}-{part}", SessionField),
    ("w{week:02}-{part}", WeekField),
    ("retest-l{lift}-a{attempt}-{part}", AttemptField),
    ("retest-l{lift}-{part}", ResultField),
    ("retest-note", RetestNote),
    ("record-l{lift}-r{reps}-{part}", RecordField),
    ("trend-l{lift}-w{week:02}", TrendField),
    # With a turn first: the first name is taken whose places can all be filled (`_spell`).
    ("trial{trial}-way{way}-c{criterion}-d{turn}", TrialField),
    ("trial{trial}-way{way}-c{criterion}", TrialField),
    ("screening-q{question}-{answer}", AnswerField),
    ("{form}-{part}", SignField),
    ("intake-{list}-r{row}-{part}", IntakeRow),
    ("intake-{part}", IntakeField),
)
"""How each kind is written and read: with all that the name has a place for."""
_PLACE = re.compile(r"{(\w+)[^}]*}")
_NUMBER = "[1-9][0-9]?"
_NUMBERS = {"week": "0[1-9]|[1-9][0-9]", "day": "[1-7]", "attempt": "[1-3]", "turn": "[1-3]"}


def _shape(name: str, kind: type[Field]) -> re.Pattern[str]:
    """The names that a kind may have: words are those of its lists, numbers as above."""
    groups = {}
    for key, hint in get_type_hints(kind).items():
        words = "|".join(word for word in get_args(hint) if isinstance(word, str))
        groups[key] = words or _NUMBERS.get(key, _NUMBER)
    return re.compile(_PLACE.sub(lambda place: f"({groups[place[1]]})", name))


_SHAPES: tuple[tuple[re.Pattern[str], Callable[..., Field]], ...] = tuple((_shape(*each), each[1]) for each in _NAMES)


def write(field: Field) -> str:
    """The name of `field`, ASCII and unique; ValueError when a number or part is out of its range."""
    name = _spell(field)
    try:
        # Read back at once: a name that another field could claim must not be printed.
        same = parse(name) == field
    except ValueError:
        same = False
    if not same:
        raise ValueError(f"no form field can stand for {field}")
    return name


def parse(text: str) -> Field:
    """The field that `write` named `text`; ValueError for any other text."""
    for shape, kind in _SHAPES:
        if match := shape.fullmatch(text):
            return kind(*(int(part) if part.isdigit() else part for part in match.groups()))
    raise ValueError(f"not the name of a form field: {text!r}")


def known(text: str) -> Field | None:
    """The field of this name; None for the name of a stranger."""
    try:
        return parse(text)
    except ValueError:
        return None


def part_of(name: str) -> str:
    """The part of the booklet that a field belongs to: "retest", "record", "screening"."""
    return name.partition("-")[0]


def _spell(field: Field) -> str:
    for name, kind in _NAMES:
        if isinstance(field, kind):
            values = {key: getattr(field, key) for key in _PLACE.findall(name)}
            if None not in values.values():
                return name.format(**values)
    raise ValueError(f"no form field can stand for {field}")


@dataclass(frozen=True, slots=True)
class FieldSpec:
    """How one form field behaves; the printed cell says where it lies and how large it is.

    `label` is spoken by screen readers; `value` is prefilled text, or for a tick any text at all means on;
    `font_size` is in points; `max_length` counts characters. ValueError when a part makes no sense.
    """

    name: str
    kind: Literal["text", "tick", "multiline"]
    label: str
    value: str = ""
    align: Literal["left", "center", "right"] = "left"
    max_length: int | None = None
    font_size: float = 10.0

    def __post_init__(self) -> None:
        if not NAME.fullmatch(self.name):
            raise ValueError(f"a field name has ASCII letters, digits and hyphens only: {self.name!r}")
        if not self.label.strip():
            raise ValueError(f"field {self.name} has no label for a screen reader")
        if self.max_length is not None and len(self.value) > self.max_length:
            raise ValueError(f"the value of field {self.name} is longer than {self.max_length} characters")
        if not 4 <= self.font_size <= 72:
            raise ValueError(f"field {self.name} has a font size of {self.font_size} pt")
