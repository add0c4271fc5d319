"""What a booklet says about itself in `booklet.json`: where it came from, what its fields mean, what was planned.

Why so strict. A booklet comes back from devices of others, and what it says of itself may have been changed: so no key
is unknown, every number and length has a bound, and each name of a field is parsed. And why not the plan itself: a copy
to hand over carries neither plan nor sources, and its log is read all the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError
from pydantic_core import from_json, to_json

from builder.given import Equipment, Sources
from builder.pages.back import record_numbers
from builder.pages.testday import tested_lifts
from builder.plan import LiftNumbers, Plan, PlannedSession, PlannedSet, PlannedSlot, make_plan
from builder.training.estimate import Equation
from builder.training.records import Performance
from builder.values import fields
from builder.values.fields import FieldSpec
from builder.values.formats import BOOKLET_FORMAT, Formats
from builder.values.measure import LengthUnit, shown
from builder.values.quantity import OnBar, Unit, WithBody, with_body

Json = dict[str, Any]
MANIFEST = "booklet.json"
PLAN = "plan.json"

# Estimates travel with all of their 28 digits, so that records of the log compare as they did in the plan.
_MASS = Field(ge=0, le=10_000, max_digits=40)
Mass = Annotated[Decimal, _MASS]
Loaded = Annotated[OnBar, _MASS]
Lifted = Annotated[WithBody, _MASS]
Reps = Annotated[int, Field(ge=0, le=1000)]
Reserve = Annotated[Decimal, Field(ge=0, le=20, max_digits=6)]
Name = Annotated[str, Field(max_length=200)]


def _known(name: str) -> str:
    """The name of a form field; ValueError for any other text."""
    fields.parse(name)
    return name


FieldName = Annotated[str, AfterValidator(_known)]


class Piece(BaseModel):
    """A frozen part of the manifest, which refuses what it does not know."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class PlannedRow(Piece):
    """One row of a log page. Loads are kg; for a `bodyweight` movement the load that is added to the body.

    `lift` is the tested lift when the row trains that lift as it was tested, None for everything else. What is counted
    in `seconds` or `metres` has 1 rep.
    """

    week: Annotated[int, Field(ge=1, le=99)]
    day: Annotated[int, Field(ge=1, le=7)]
    on: date
    slot: Annotated[int, Field(ge=1, le=99)]
    set: Annotated[int, Field(ge=1, le=99)]
    movement: Name
    lift: Name | None
    bodyweight: bool
    load: Loaded | None
    reps: Reps
    open_ended: bool
    seconds: Annotated[int, Field(ge=0, le=10_000)] | None
    rir: Reserve | None
    metres: Annotated[int, Field(ge=0, le=100_000)] | None = None

    @property
    def unit(self) -> LengthUnit | None:
        """In what its sets are counted: seconds or metres, None for reps."""
        return "s" if self.seconds is not None else None if self.metres is None else "m"

    @property
    def planned(self) -> int:
        """How many reps, seconds or metres were planned."""
        return self.seconds if self.seconds is not None else self.reps if self.metres is None else self.metres

    def told(self, count: int) -> str:
        """A count as it is written here: "8", "45 s", "20 m"."""
        return str(count) if self.unit is None else shown(count, self.unit)


class Best(Piece):
    """A set that the lifter had done before the block; the load in kg counts the bodyweight that was lifted."""

    load: Lifted
    reps: Reps
    rir: Reserve
    on: date | None
    source: Name

    def performance(self) -> Performance:
        """The same as the record maths know it."""
        return Performance(self.load, self.reps, self.rir, self.on, self.source)


class LiftBefore(Piece):
    """A tested lift as it stood before the block. `own` is the bodyweight (kg) that its sets count."""

    movement: Name
    equation: Equation
    own: Mass
    estimate: Lifted
    bests: tuple[Best, ...]

    def whole(self, load: OnBar) -> WithBody:
        """All that is lifted with a load."""
        return with_body(load, self.own)


class PlannedTest(Piece):
    """A lift of the test as its form fields count it. `opener` (kg) is None where a set of several reps is the test.

    For a bodyweight movement loads are what is added to the body.
    """

    movement: Name
    week: Annotated[int, Field(ge=1, le=99)]
    day: Annotated[int, Field(ge=1, le=7)]
    on: date
    opener: Loaded | None
    bodyweight: bool


class CarriedFile(Piece):
    """A file inside the booklet: its `name` as an attachment, the `path` to unpack it to, and its SHA-256."""

    name: Name
    path: Name
    sha256: Annotated[str, Field(pattern="^[0-9a-f]{64}$")]


class Protection(Piece):
    """What a copy keeps to itself and says of its owner, so that its successor does the same.

    `whole` when plan and sources travel in it, `locked` when only the holder of a password may change it.
    """

    whole: bool = True
    buyer: Annotated[str, Field(max_length=60)] = ""
    order: Annotated[str, Field(max_length=40)] = ""
    locked: bool = False


class Manifest(Piece):
    """All that is needed to read a log without the sources.

    `code`, which is printed on every log page, and `digest` are the plan's identity: they tie the fields to it.
    `sources` are in the order in which they were laid over each other.
    `left_out` names font files of the brand, which a licence seldom lets travel.
    `protection` is what the copy was made with. A copy that is not `whole` has no sources and no `lifts`: nothing of
    the client but the name.
    `effort` is the word in which the log asks for it; all planned figures are reserves.
    `tests` and `recorded` are the lifts that the numbers in field names count. `table` is the table from reps to
    shares of the max. `fields` has every form field in reading order.
    """

    # The newest alone: older ones are brought up to it before they are typed (`_upgraded`).
    format: Literal[2]
    version: Name
    code: Annotated[str, Field(pattern="^[A-Z2-7]{8}$")]
    digest: Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
    revision: Annotated[int, Field(ge=1)]
    made_on: date
    paper: Name
    edition: Name
    theme: Name
    language: Name
    client: Name
    title: Name
    unit: Unit
    sources: tuple[CarriedFile, ...]
    assets: tuple[CarriedFile, ...]
    left_out: tuple[Name, ...]
    protection: Protection = Protection()
    effort: Literal["rir", "rpe"] = "rir"
    table: tuple[tuple[int, Decimal], ...]
    lifts: tuple[LiftBefore, ...]
    tests: Annotated[tuple[PlannedTest, ...], Field(max_length=99)]
    recorded: Annotated[tuple[Name, ...], Field(max_length=99)]
    rows: Annotated[tuple[PlannedRow, ...], Field(max_length=20_000)]
    fields: Annotated[tuple[FieldName, ...], Field(max_length=50_000)]

    def lift(self, movement: str) -> LiftBefore | None:
        """A lift as it stood before the block, None for one that was not tested."""
        return next((lift for lift in self.lifts if lift.movement == movement), None)


def planned_rows(plan: Plan) -> tuple[PlannedRow, ...]:
    """A row for every working set that has one on a log page, in reading order."""
    return tuple(
        _row(session, number, count, slot, one)
        for session in plan.sessions()
        for number, slot in enumerate(session.slots, 1)
        # Attempts have fields of their own, on the page of the test.
        if slot.attempts is None
        for count, one in enumerate(slot.work, 1)
    )


def _row(session: PlannedSession, number: int, count: int, slot: PlannedSlot, one: PlannedSet) -> PlannedRow:
    # Only such a row speaks of the max: with a ratio, from the pins or timed it is another lift.
    as_tested = slot.lift == slot.movement and slot.drill is None and not slot.estimated and one.length is None
    return PlannedRow(
        week=session.week, day=session.day, on=session.on, slot=number, set=count,
        movement=slot.movement,
        lift=slot.movement if as_tested else None,
        bodyweight=slot.about.equipment is Equipment.BODYWEIGHT,
        load=one.rung.mass if one.rung else None,
        reps=one.reps, open_ended=one.open_ended, seconds=one.seconds, rir=one.left,
        metres=one.metres,
    )  # fmt: skip


def knowing(manifest: Manifest, sources: Sources) -> Manifest:
    """With what the lifter had done before, which a copy to hand over does not carry."""
    if manifest.protection.whole:
        return manifest
    return manifest.model_copy(update={"lifts": lifts_before(make_plan(sources))})


def lifts_before(plan: Plan) -> tuple[LiftBefore, ...]:
    """Every tested lift with what the lifter had done before the block."""
    return tuple(_before(numbers) for numbers in plan.lifts)


def _before(numbers: LiftNumbers) -> LiftBefore:
    # All that was done, and not the best of it: what a set of the log beats depends on its load.
    bests = tuple(
        Best(load=done.load, reps=done.reps, rir=done.rir, on=done.on, source=done.source)
        for done in numbers.performances
    )
    return LiftBefore(
        movement=numbers.movement, equation=numbers.equation, own=numbers.own, estimate=numbers.estimate, bests=bests
    )


def planned_tests(plan: Plan) -> tuple[PlannedTest, ...]:
    """The lifts of the test in the order in which their form fields count them from 1."""
    return tuple(
        PlannedTest(
            movement=one.slot.movement,
            week=one.session.week,
            day=one.session.day,
            on=one.session.on,
            opener=one.slot.attempts.opener.mass if one.slot.attempts else None,
            bodyweight=one.slot.about.equipment is Equipment.BODYWEIGHT,
        )
        # Asked of the pages, which number the fields: a second count here could go apart from theirs.
        for one in tested_lifts(plan)
    )


def recorded_names(plan: Plan) -> tuple[str, ...]:
    """The lifts of the record tables in the order in which their form fields count them from 1."""
    numbers = record_numbers(plan)
    return tuple(sorted(numbers, key=numbers.__getitem__))


def field_names(specs: Sequence[FieldSpec]) -> tuple[str, ...]:
    """The names of the form fields, in reading order."""
    return tuple(spec.name for spec in specs)


class NewerFormatError(ValueError):
    """What a newer version of ours wrote."""


def _from_1(told: Json) -> Json:
    """Format 1 took the digest from the plan told in words; it ties together what it did before."""
    return {**told, "format": 2}


BOOKLETS: Formats[Json] = Formats((_from_1,))
"""A step gets the JSON that was carried."""
# The number is written where all formats stand, the steps where they are understood.
assert BOOKLETS.newest == BOOKLET_FORMAT


def _upgraded(data: bytes) -> bytes:
    """What a booklet says of itself in our format; what is of none of ours as it is."""
    told = from_json(data)
    given = told.get("format") if isinstance(told, dict) else None
    # What is of no format is left for the model to refuse, which names the place.
    if not isinstance(given, int) or given < 1 or given == BOOKLETS.newest:
        return data
    if given > BOOKLETS.newest:
        raise NewerFormatError(f"it is of format {given}, and this loadleaf reads formats up to {BOOKLETS.newest}")
    return to_json(BOOKLETS.upgraded(told, given))


def as_bytes(manifest: Manifest) -> bytes:
    """The manifest as JSON in UTF-8, the same bytes for the same manifest; masses are decimal strings in kg."""
    return manifest.model_dump_json(indent=1).encode() + b"\n"


def from_bytes(data: bytes) -> Manifest:
    """The manifest that `as_bytes` wrote, now or in an older format; ValueError for anything else."""
    try:
        return Manifest.model_validate_json(_upgraded(data))
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False)[0]
        place = ".".join(map(str, first["loc"])) or "its beginning"
        raise ValueError(f"{MANIFEST} is not understood at {place}: {first['msg'].lower()}") from error
