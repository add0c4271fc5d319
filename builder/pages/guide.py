"""How to read a session: the busiest main lift of the plan, its parts called out, and where its load comes from."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil

from builder.given import Equipment
from builder.pages.columns import columns
from builder.pages.context import Context
from builder.pages.figures.draw import Drawing
from builder.pages.figures.page import drawn
from builder.pages.figures.side import side_drawing
from builder.pages.lifts import LaidLift, lift
from builder.pages.model import Layout, Section
from builder.pages.names import movement_title
from builder.pages.numbers import LINE, numbers_end
from builder.pages.onepage import cells_across, said_once
from builder.pages.reasons import reason_sentences
from builder.pages.sheet import Density
from builder.pages.signs import Sign, used_signs
from builder.plan.ladders import Racks
from builder.plan.model import PlannedSession, PlannedSet, PlannedSlot, PlannedWeek, WeekKind
from builder.training.loading import Rung, side_text
from builder.words import Words

CALLOUT = 5.4
"""mm that the number of a load takes before it."""
LINE_SMALL = 4.2
"""mm of a line of running text on small paper that is not magnified."""
POINTS, ROOMY_POINTS = 9.0, 10.0
"""Of what explains the example, and of the same where it has a page to fill."""
WIDE_SMALL, WIDE_LARGE = 31, 44
"""mm beside the example; a bar that is longer stands below it, on facing pages and on large ones."""


@dataclass(frozen=True, slots=True)
class Callout:
    """One called-out part of the example: its number, what stands there, its name, and what it means."""

    number: int
    code: str
    value: str
    name: str
    meaning: str


@dataclass(frozen=True, slots=True)
class Specimen:
    """A lift as its session prints it, for the same template; it is not `live`: its boxes are no fields.

    `height` ends on a line of text.
    """

    lift: LaidLift
    height: float
    beside: bool
    across: int
    said: dict[str, str]
    callouts: dict[str, int]
    spare: float = 0.0
    air: float = 0.0
    live: bool = False


@dataclass(frozen=True, slots=True)
class GuidePage:
    """The worked example and its derivation."""

    title: str
    lead: str
    where: str
    lift: str
    spots: tuple[Callout, ...]
    side: Drawing | None
    side_wide: bool
    side_shown: bool
    side_caption: str
    specimen: Specimen | None
    signs_title: str
    signs: tuple[Sign, ...]
    why_title: str
    why: tuple[str, ...]
    missing: str
    alone: bool
    tight: bool


@dataclass(frozen=True, slots=True)
class Example:
    """A slot of the plan and the one set of it that is worked through."""

    week: PlannedWeek
    session: PlannedSession
    slot: PlannedSlot
    chosen: PlannedSet


def busiest(ctx: Context) -> Example | None:
    """The set with most to explain: a whole line, most reasons, the earliest; None without a loaded lift."""
    found = [
        Example(week, session, slot, planned)
        for week in ctx.plan.weeks
        if week.kind is WeekKind.TRAINING
        for session in week.sessions
        for slot in session.slots
        if slot.lift is not None and slot.drill is None and not slot.accessory
        for planned in slot.work
        if planned.rung is not None
    ]
    return max(found, key=_fullness, default=None)


def _fullness(example: Example) -> tuple[bool, int, int]:
    """How much a reader can learn from an example; one with ramp, side and mark shows the whole line."""
    chosen, slot = example.chosen, example.slot
    whole = bool(slot.ramp) and bool(chosen.rung and chosen.rung.side) and chosen.mark is not None
    extras = (chosen.bracket is not None, bool(slot.cues), bool(slot.tempo), chosen.milestone, len(slot.work) > 1)
    return whole, len(chosen.why), sum(extras)


def guide_section(ctx: Context) -> Section | None:
    """The guide, None when no lift of the plan has a computed load."""
    example = busiest(ctx)
    if example is None or example.chosen.rung is None:
        return None
    words = ctx.words
    rung = example.chosen.rung
    spots = _parts(ctx, example) if ctx.layout is Layout.PAGE else _spots(words, example)
    side = _side(ctx, rung) if rung.side else None
    specimen = _specimen(ctx, example, spots) if ctx.layout is Layout.PAGE else None
    why = reason_sentences(words, example.chosen.why)
    page = GuidePage(
        title=words("guide.title"),
        lead=words("guide.lead.page" if ctx.layout is Layout.PAGE else "guide.lead"),
        where=words("guide.where", week=example.week.number, day=example.session.day, on=words.day(example.session.on)),
        lift=movement_title(example.slot.movement, words),
        spots=spots,
        side=side,
        side_wide=side is not None and side.width > (WIDE_SMALL if ctx.sheet.facing else WIDE_LARGE),
        side_shown=columns(ctx.sheet).beside or ctx.sheet.enlarged,
        side_caption=words("guide.side", load_kg=rung.mass, implement=words.implement(example.slot.implement)),
        specimen=specimen,
        signs_title=words("guide.signs"),
        signs=used_signs(ctx),
        why_title=words("guide.why"),
        why=why,
        missing=words("guide.feel"),
        alone=specimen is not None and _alone(ctx, specimen, spots, why),
        tight=specimen is not None and _tight(ctx, specimen, spots, why),
    )
    return Section("guide", page.title, "guide", page)


def _tight(ctx: Context, specimen: Specimen, spots: tuple[Callout, ...], why: tuple[str, ...]) -> bool:
    """Whether lines of running text are too high for all of the guide on one page of small paper."""
    if not ctx.sheet.facing or ctx.sheet.enlarged:
        return False
    half = (ctx.sheet.width - 5) / 2
    legend = sum(ctx.faces.strong.lines(f"{spot.name} {spot.meaning}", POINTS, half - 5) for spot in spots) / 2 + 1
    signs = sum(ctx.faces.strong.lines(f"{sign} {meaning}", POINTS, half) for sign, meaning in used_signs(ctx)) / 2 + 1
    lines = sum(ctx.faces.strong.lines(text, POINTS, ctx.sheet.width - 5) for text in why)
    return specimen.height + LINE_SMALL * (6.5 + legend + signs + lines) > ctx.sheet.height


def _alone(ctx: Context, specimen: Specimen, spots: tuple[Callout, ...], why: tuple[str, ...]) -> bool:
    """Whether the guide has a page of large paper to fill: none of the room below the numbers, and enough on a page."""
    if ctx.sheet.facing:
        return False
    width, half, face = ctx.sheet.width, (ctx.sheet.width - 8) / 2, ctx.faces.strong
    signs = [f"{sign} {meaning}" for sign, meaning in used_signs(ctx)]
    parts = [f"{spot.name} {spot.meaning}" for spot in spots]
    # As if all were bold, since two columns are seldom as long as each other.
    legend, listed = (sum(face.lines(one, points, half - 7) for one in parts) / 2 for points in (POINTS, ROOMY_POINTS))
    small = 10 + legend + ceil(len(signs) / 3) + 1 + max(len(why), 8)
    apart = (len(parts) / 2 + len(signs) / 2 + len(why)) / 2
    lines = sum(face.lines(text, ROOMY_POINTS, half) for text in signs) / 2
    lines += sum(face.lines(text, ROOMY_POINTS, width - 60) for text in why)
    room = (ctx.sheet.height - specimen.height) / LINE
    return numbers_end(ctx) / LINE + small > room and 14 + listed + lines + apart <= room


def _shown(ctx: Context, example: Example) -> LaidLift:
    """The lift with room for the numbers on its parts, of which sets, mark and ramp share a line."""
    number = example.session.slots.index(example.slot) + 1
    whole = lift(ctx, example.session, number, Density.SNUG, marks=3 * CALLOUT)
    return replace(whole, name_mm=whole.name_mm - CALLOUT)


def _parts(ctx: Context, example: Example) -> tuple[Callout, ...]:
    """The parts of the printed lift, each with its number, in reading order."""
    shown, words = _shown(ctx, example), ctx.words
    first, slot = shown.lines[0], example.slot
    there = {
        "load": True, "side": bool(first.side), "today": bool(first.today), "work": True,
        "ramp": bool(slot.ramp), "mark": bool(first.record), "box": True,
        "next": any(note.kind == "next" for note in shown.notes), "bracket": example.chosen.bracket is not None,
    }  # fmt: skip
    codes = [code for code, found in there.items() if found]
    return tuple(
        Callout(number, code, "", words(f"guide.{code}.name"), words(f"guide.{code}.means{_variant(slot, code)}"))
        for number, code in enumerate(codes, 1)
    )


def _specimen(ctx: Context, example: Example, spots: tuple[Callout, ...]) -> Specimen:
    at = columns(ctx.sheet)
    numbers = {spot.code: spot.number for spot in spots}
    shown, half = _shown(ctx, example), (LINE_SMALL if ctx.sheet.facing and not ctx.sheet.enlarged else LINE) / 2
    return Specimen(
        shown, round(ceil(shown.height / half) * half, 2), at.beside, cells_across(at), said_once(ctx.words), numbers
    )


def _side(ctx: Context, rung: Rung) -> Drawing:
    plates = {plate.label: plate.mass for plate, _ in Racks(ctx.plan.client).plates()}
    height = 26.0
    return drawn(side_drawing(ctx.words, rung, plates, height, ctx.brand.colours.plates), ctx.theme)


def _spots(words: Words, example: Example) -> tuple[Callout, ...]:
    """The parts that this example has, in reading order."""
    slot, chosen = example.slot, example.chosen
    same = sum(1 for s in slot.work if s.rung == chosen.rung and s.reps == chosen.reps and s.role is chosen.role)
    assert chosen.rung is not None
    parts = {
        "ramp": " · ".join(f"{words.amount(s.rung.mass)}×{s.reps}" for s in slot.ramp if s.rung),
        "load": words.mass(chosen.rung.mass),
        "sets": words("guide.sets", sets=same, reps=chosen.reps),
        "rir": _left(words, chosen),
        "side": words.plates(side_text(chosen.rung))
        or (words("side.none") if slot.about.equipment is Equipment.BARBELL else ""),
        "rest": words("guide.rest", minutes=_minutes(words, chosen.rest)) if chosen.rest else "",
        "bracket": _bracket(words, chosen),
        "mark": words("guide.mark", reps=chosen.mark.reps) if chosen.mark else "",
        "tempo": slot.tempo or "",
        "cue": words.cue(slot.cues[0]) if slot.cues else "",
    }
    shown = [(code, value) for code, value in parts.items() if value]
    return tuple(
        Callout(number, code, value, words(f"guide.{code}.name"), words(f"guide.{code}.means{_variant(slot, code)}"))
        for number, (code, value) in enumerate(shown, 1)
    )


def _variant(slot: PlannedSlot, code: str) -> str:
    """Which meaning of the load holds for what the slot is loaded with."""
    if code != "load" or slot.about.equipment is Equipment.BARBELL:
        return ""
    return ".hand" if slot.per_hand else ".other"


def _left(words: Words, chosen: PlannedSet) -> str:
    if chosen.left is None:
        return ""
    return words("guide.rir" if chosen.aimed else "guide.rir.about", rir=chosen.left)


def _bracket(words: Words, chosen: PlannedSet) -> str:
    if chosen.bracket is None:
        return ""
    low, high = chosen.bracket
    return words("guide.bracket", low=words.amount(low.mass), high=words.mass(high.mass))


def _minutes(words: Words, seconds: int) -> str:
    return f"{seconds // 60}:{seconds % 60:02d}"
