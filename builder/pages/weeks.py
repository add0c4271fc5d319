"""Week openers on one page: what the week is for, its sessions as cards, and a strip to look back on it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from decimal import Decimal
from itertools import groupby
from typing import get_args

from builder.given.block import Phase
from builder.given.weeks import Deload
from builder.pages.context import Context
from builder.pages.measures import (
    CARD_SMALL,
    CARD_SMALL_ENLARGED,
    CARD_TITLE,
    CARD_TOP,
    CARD_WHEN,
    KICKER,
    KICKER_APART,
)
from builder.pages.model import Section
from builder.pages.names import session_anchor, session_title, session_tone, slot_name, week_anchor
from builder.pages.reasons import reason_sentence
from builder.pages.setlines import SetRun, load_text, planned_text, reps_text, scheme_text
from builder.pages.widths import POINT
from builder.plan.model import PlannedSession, PlannedSet, PlannedSlot, PlannedWeek, Role, WeekKind
from builder.values.fields import FieldSpec, WeekField, WeekPart, write
from builder.values.measure import shown
from builder.words import NARROW, Words, unbroken

OPENER_HEAD, PART_HEAD, VOLUME_LINE, STRIP_HEAD = 20.0, 17.0, 8.0, 21.0
"""mm on an opener for its title, for the name of a part, for the week's figures, and for the strip above its boxes."""
CARD, CARD_LINE, STAR = 14.4, 4.5, "\N{EM SPACE}"
"""mm of a session's card without its other lifts and of a line of these, and what is as wide as a star."""
BOX_LEAST, BOX_MOST = 11.0, 96.0
"""mm that the boxes to write in may be high; they take what the page has left."""
LARGER = 5.0
"""mm more for the head on large paper, or where letters are large."""
BADGE = 28.0
"""mm for the badge beside the dates."""
TOLD = ("resumed", "resumed-lighter", "paused", "paused-lighter", "away", "away-day", "re-entry")
"""Notes of the plan that belong to the opener of one week."""
ASKED: tuple[WeekPart, ...] = ("bodyweight", "sleep")
BOXES: tuple[WeekPart, ...] = ("good", "mend")


@dataclass(frozen=True, slots=True)
class Card:
    """One session of the week in short: its heaviest set large, the other lifts in running lines."""

    day: str
    title: str
    minutes: str
    anchor: str
    badge: str
    top: str
    lift: str
    note: str
    others: str


@dataclass(frozen=True, slots=True)
class StripBox:
    """One box of the strip: its caption and its field."""

    caption: str
    field: str


@dataclass(frozen=True, slots=True)
class WeekPage:
    """The opener of one week; `early` tells when the next week is to be a lighter one, unplanned."""

    title: str
    dates: str
    badge: str
    tone: str
    phase: str
    aim: str
    sentences: tuple[str, ...]
    cards: tuple[Card, ...]
    volume: str
    review: str
    early: str
    asked: tuple[StripBox, ...]
    boxes: tuple[StripBox, ...]
    box_mm: float


@dataclass(frozen=True, slots=True)
class PartPage:
    """The name of a part of the booklet, over its first page."""

    kicker: str
    title: str


def week_sections(ctx: Context, index: int, *, faced: bool = False) -> tuple[Section, ...]:
    """The opener of the week at `index` of the plan, the part's name before it where a phase begins.

    With `faced` the first session begins on a left page, and the opener stands on the right page before it.
    """
    week, words = ctx.plan.weeks[index], ctx.words
    before = ctx.plan.weeks[index - 1] if index else None
    begins = _begins(ctx, index)
    side = "right" if faced else "any"
    part = (_part_section(ctx, week, side),) if begins else ()
    title = words("week.outline", week=week.number, date=words.day(week.starts))
    if week.kind is not WeekKind.TRAINING:
        title = words("week.outline.kind", title=title, kind=words(f"tone.{week.kind}"))
    page = Section(
        anchor=week_anchor(week.number), title=title, template="week",
        data=_page(ctx, week, before, begins=begins),
        level=2, side="any" if part else side, tone=str(week.kind),  # type: ignore[arg-type]
        running=words("running.week", week=week.number, dates=_dates(week, words)),
        fields=tuple(_field(words, week, part) for part in (*ASKED, *BOXES)),
    )  # fmt: skip
    return (*part, page)


def _begins(ctx: Context, index: int) -> bool:
    """Whether a part begins with a week; one without a phase, such as a deload between two, belongs to the last."""
    week, before = ctx.plan.weeks[index], ctx.plan.weeks[:index]
    named = [one.phase for one in before if one.phase]
    return not before or (week.phase is not None and week.phase != (named[-1] if named else None))


def _field(words: Words, week: PlannedWeek, part: WeekPart) -> FieldSpec:
    label = words(f"field.week.{part}", week=week.number, unit=words.unit)
    kind = "text" if part in ASKED else "multiline"
    return FieldSpec(write(WeekField(week.number, part)), kind, label)  # type: ignore[arg-type]


def _part_section(ctx: Context, week: PlannedWeek, side: str) -> Section:
    words = ctx.words
    title = words("part.phase", phase=week.phase) if week.phase else words("part.weeks")
    running = words("running.week", week=week.number, dates=_dates(week, words))
    data = PartPage(words("part.kicker"), title)
    return Section(
        f"part-{week.number}", title, "part", data, level=1, side=side, tone=str(week.kind), running=running  # type: ignore[arg-type]
    )


def _page(ctx: Context, week: PlannedWeek, before: PlannedWeek | None, *, begins: bool) -> WeekPage:
    words, phase = ctx.words, _phase(ctx, week)
    sentences = tuple(_sentences(ctx, week, before))
    cards = tuple(_card(ctx, week, session, before) for session in week.sessions)
    volume, early = " · ".join(_volume(week, before, words)), _early(ctx, week)
    used = _height(ctx, sentences, phase.aim or "" if phase else "", begins=begins)
    room = ctx.sheet.height - used - _told(ctx, early) - BOX_LEAST
    if sum(_card_height(ctx, card) for card in cards) > room:
        # The sessions have their own pages: what is told in short there gives way first, then what each week says.
        cards, volume, room = tuple(_bare(card) for card in cards), "", room + VOLUME_LINE
        if sum(_card_height(ctx, card) for card in cards) > room:
            early, room = "", room + _told(ctx, early)
    left = room + BOX_LEAST - sum(_card_height(ctx, card) for card in cards)
    if left < BOX_LEAST:
        # The strip then has the next page.
        left = ctx.sheet.height - STRIP_HEAD - LARGER
    asks = {part: StripBox(words(f"week.ask.{part}", unit=words.unit), write(WeekField(week.number, part)))
            for part in get_args(WeekPart)}  # fmt: skip
    return WeekPage(
        title=words("week.title", week=week.number),
        dates=_dates(week, words),
        badge=words(f"tone.{week.kind}") if week.kind is not WeekKind.TRAINING else "",
        tone=str(week.kind),
        phase=_phase_beside(ctx, week),
        aim=phase.aim or "" if phase else "",
        sentences=sentences,
        cards=cards,
        volume=volume,
        review=words("week.heading.review"),
        early=early,
        asked=tuple(asks[part] for part in ASKED),
        boxes=tuple(asks[part] for part in BOXES),
        box_mm=round(min(left, BOX_MOST), 1),
    )


def _height(ctx: Context, sentences: tuple[str, ...], aim: str, *, begins: bool) -> float:
    """mm that an opener takes without its cards and boxes."""
    sheet, said = ctx.sheet, sum(_told(ctx, sentence) for sentence in sentences)
    aimed = ctx.faces.semibold.lines(aim, 12, sheet.width) * 5.6 + 2.0 if aim else 0.0
    larger = 0.0 if sheet.facing and not sheet.enlarged else LARGER
    return OPENER_HEAD + larger + (PART_HEAD if begins else 0.0) + aimed + said + VOLUME_LINE + STRIP_HEAD


def _told(ctx: Context, sentence: str) -> float:
    """mm of a sentence, 0 for none."""
    return ctx.sheet.about.height(ctx.faces.text, sentence, ctx.sheet.width) + 1.4 if sentence else 0.0


def _card_height(ctx: Context, card: Card) -> float:
    """mm of a card with the gap above it."""
    sheet, face, title = ctx.sheet, ctx.faces.medium, ctx.faces.bold
    points = CARD_SMALL_ENLARGED if sheet.enlarged else CARD_SMALL
    beside = " · ".join(filter(None, (card.lift, card.note)))
    when = " · ".join(filter(None, (card.day, card.minutes, f"{STAR}{card.badge}" if card.badge else "")))
    lines = face.lines(card.others, points, sheet.width)
    right = face.lines(beside, points, sheet.width * CARD_TOP)
    left = face.lines(when, points, sheet.width * CARD_WHEN)
    left += title.lines(card.title, CARD_TITLE.points, sheet.width * CARD_WHEN) - 1
    return CARD + (lines + max(left, right) - 1) * CARD_LINE


def _bare(card: Card) -> Card:
    return Card(card.day, card.title, card.minutes, card.anchor, card.badge, card.top, card.lift, "", "")


def _dates(week: PlannedWeek, words: Words) -> str:
    return words("week.dates", first=words.day(week.starts), last=words.day(week.starts + timedelta(days=6)))


def _phase_beside(ctx: Context, week: PlannedWeek) -> str:
    """The phase beside the dates of a week, where both and the badge have room; the contents name it too."""
    if not week.phase:
        return ""
    told = ctx.words("part.phase", phase=week.phase)
    room = ctx.sheet.width - (BADGE if week.kind is not WeekKind.TRAINING else 0)
    line = f"{_dates(week, ctx.words)} · {told}"
    return told if ctx.faces.semibold.width(line, KICKER) + len(line) * KICKER * POINT * KICKER_APART <= room else ""


def _phase(ctx: Context, week: PlannedWeek) -> Phase | None:
    return next((phase for phase in ctx.plan.block.block.phases if week.number in phase.weeks), None)


def _sentences(ctx: Context, week: PlannedWeek, before: PlannedWeek | None) -> Iterator[str]:
    """What is new this week, in words."""
    words = ctx.words
    for note in ctx.plan.notes:
        if note.step in TOLD and dict(note.facts)["week"] == week.number:
            yield reason_sentence(words, note)
    if week.kind is not WeekKind.TRAINING:
        yield words(f"week.kind.{week.kind}")
    elif before is not None and before.kind is WeekKind.DELOAD:
        yield words("week.after_deload")
    trained = [w for w in ctx.plan.weeks[: week.number - 1] if w.kind is WeekKind.TRAINING]
    if week.kind is WeekKind.TRAINING and trained:
        now, then = _names(week, words), _names(trained[-1], words)
        for key, names in (("week.new", now - then), ("week.gone", then - now)):
            if names:
                yield words(key, names=", ".join(sorted(names)))
    for session in week.sessions:
        for slot in session.slots:
            mile = next((one for one in slot.work if one.milestone), None)
            if mile is not None and week.kind is WeekKind.TRAINING:
                planned = planned_text(slot, mile, words)
                yield words("week.milestone", day=words.day(session.on), lift=slot_name(slot, words), planned=planned)


def _early(ctx: Context, week: PlannedWeek) -> str:
    """When the next week is to be lighter although it is not planned so; "" where it is, or where none decides.

    Two lifts missed or three loads down at once are common practice, no source: one lift that stalls has its own rule,
    several that do so together speak of a tired lifter. How light is what the block has for its deloads.
    """
    following = next((one for one in ctx.plan.weeks if one.number == week.number + 1), None)
    deciding = {slot.movement for session in week.sessions for slot in session.slots if slot.outcomes}
    planned = (week, following) if following else ()
    if not planned or any(one.kind is not WeekKind.TRAINING for one in planned) or len(deciding) < 2:
        return ""
    light, words = ctx.plan.block.block.deload or Deload.model_construct(), ctx.words
    return words("week.early", sets=words.share(light.sets), load=words.share(light.load))


def _names(week: PlannedWeek, words: Words) -> set[str]:
    """What is trained; drills come and go by their own cadence."""
    return {slot_name(slot, words) for session in week.sessions for slot in session.slots if slot.drill is None}


def _volume(week: PlannedWeek, before: PlannedWeek | None, words: Words) -> Iterator[str]:
    """Sets, reps, tonnage, time, distance and intensity, with the change of the tonnage against the week before."""
    now, was = week.total, before.total if before else None
    yield unbroken(words("week.volume.sets", count=now.sets))
    yield unbroken(words("week.volume.reps", count=now.reps))
    yield unbroken(_against(words, words.bulk(now.tonnage), now.tonnage, was.tonnage if was else None))
    if now.seconds:
        yield unbroken(shown(now.seconds, "s"))
    if now.metres:
        yield unbroken(shown(now.metres, "m"))
    if now.intensity is not None:
        yield unbroken(words("week.volume.intensity", mean_share=now.intensity))


def _against(words: Words, told: str, now: Decimal, was: Decimal | None) -> str:
    if not was:
        return told
    change = round((now / was - 1) * 100)
    sign = "+" if change > 0 else "\N{MINUS SIGN}" if change < 0 else "\N{PLUS-MINUS SIGN}"
    return words("week.volume.change", told=told, change=f"{sign}{abs(change)}{NARROW}%")


def _card(ctx: Context, week: PlannedWeek, session: PlannedSession, before: PlannedWeek | None) -> Card:
    words = ctx.words
    main = _main(session)
    top = max(main.work, key=_weight)
    others = (f"{slot_name(slot, words)} {_sets(slot, words)}" for slot in session.slots if slot is not main)
    return Card(
        day=words.day(session.on),
        title=session_title(session, words),
        minutes=words("session.minutes", minutes=session.minutes),
        anchor=session_anchor(session),
        badge=words("tone.milestone") if session_tone(week, session) == "milestone" else "",
        top=planned_text(main, top, words),
        lift=words("week.card.lift", lift=slot_name(main, words), sets=_sets(main, words)),
        note=unbroken(_before(main, before, words)),
        others=" · ".join(others),
    )


def top_text(session: PlannedSession, words: Words) -> str:
    """The heaviest set of the lift that a session is about, in its narrow form: "122.5×4"."""
    main = _main(session)
    return planned_text(main, max(main.work, key=_weight), words, "set.cell")


def _main(session: PlannedSession) -> PlannedSlot:
    """The lift that a session is about: the first that is neither drill, accessory nor conditioning."""
    slots = session.slots
    return next((slot for slot in slots if not (slot.drill or slot.accessory or slot.conditioning)), slots[0])


def _weight(planned: PlannedSet) -> tuple[bool, Decimal, int]:
    """How heavy a set is; of a test the opener counts, which alone is sure to come."""
    return planned.role is not Role.ATTEMPT, planned.rung.mass if planned.rung else Decimal(0), planned.reps


def _before(slot: PlannedSlot, before: PlannedWeek | None, words: Words) -> str:
    """The heaviest set of the same lift in the week before, "" without one or where loads are found by feel."""
    sets = [
        (other, one)
        for session in (before.sessions if before else ())
        for other in session.slots
        if other.movement == slot.movement and other.drill is None
        for one in other.work
        if one.rung is not None and one.role is not Role.HOLD
    ]
    if not sets:
        return ""
    return words("week.card.before", planned=planned_text(*max(sets, key=lambda pair: _weight(pair[1])), words))


def _sets(slot: PlannedSlot, words: Words) -> str:
    """Every working set of a slot, equal ones together; of a test the opener."""
    if slot.kind == "attempts" and slot.attempts is not None:
        return words("week.opener", load=words.mass(slot.attempts.opener.mass))
    runs = groupby(slot.work, key=lambda one: (reps_text(one, words), load_text(slot, one.rung, words)))
    return " + ".join(_run(slot, list(sets), load, words) for (_, load), sets in runs)


def _run(slot: PlannedSlot, sets: list[PlannedSet], load: str, words: Words) -> str:
    """Equal sets in a row: "3 × 5 · 122.5"; of the body alone without a word of load."""
    scheme = scheme_text(SetRun(len(sets), sets[0]), words)
    if slot.unloaded:
        return unbroken(scheme)
    return unbroken(words("week.sets" if load else "week.sets.feel", scheme=scheme, load=load))


__all__ = ["WeekPage", "top_text", "week_sections"]
