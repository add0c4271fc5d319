"""Week openers: what the week is for, what changes against the week before, and its sessions at a glance."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from decimal import Decimal

from builder.given.block import Phase
from builder.pages.context import Context
from builder.pages.model import Section
from builder.pages.names import movement_title, session_anchor, session_title, session_tone, slot_name, week_anchor
from builder.pages.reasons import reason_sentence
from builder.pages.setlines import hung_text, planned_text, set_lines
from builder.pages.sheet import text_lines
from builder.plan.model import LiftNumbers, PlannedSession, PlannedSet, PlannedSlot, PlannedWeek, WeekKind
from builder.training.records import Performance
from builder.words import NARROW, Words, unbroken

OPENER_HEAD, PART_HEAD, VOLUME_LINE, RULE = 52.0, 17.0, 32.0, 9.0
"""mm on an opener for its title and headings, for the name of a part, for the week's figures, and between lines."""
BADGE, KICKER = 28.0, 1.55
"""mm for the badge beside the dates, and for a letter of them."""
FEWEST_LINES = 3
LARGER = 16.0
"""mm more on large paper."""
ENLARGED = 14.0
"""mm more for what turns over where letters are large."""
SHORT = 0.5
"""A glance that takes less of its page than this has the lines for notes below it."""


@dataclass(frozen=True, slots=True)
class GlanceSession:
    """One session of the week in short; `lines` has sets, a tab and the name for each slot."""

    day: str
    title: str
    minutes: str
    anchor: str
    badge: str
    lines: str


@dataclass(frozen=True, slots=True)
class Change:
    """The heaviest set of a main lift this week, beside the week before and the record."""

    name: str
    now: str
    before: str
    best: str


@dataclass(frozen=True, slots=True)
class WeekPage:
    """The opener of one week; `spread` when it takes two facing pages, `run_in` when slots follow in running lines."""

    number: str
    title: str
    dates: str
    badge: str
    tone: str
    phase: str
    aim: str
    sentences: tuple[str, ...]
    changes: tuple[Change, ...]
    change_heads: tuple[str, ...]
    volume: tuple[tuple[str, str], ...]
    sessions: tuple[GlanceSession, ...]
    spread: bool
    run_in: bool
    ruled_mm: float
    ruled_last: bool
    headings: dict[str, str]


@dataclass(frozen=True, slots=True)
class PartPage:
    """The name of a part of the booklet, over its first page."""

    kicker: str
    title: str


def week_sections(ctx: Context, index: int) -> tuple[Section, ...]:
    """The opener of the week at `index` of the plan, the part's name before it where a phase begins."""
    week, words = ctx.plan.weeks[index], ctx.words
    before = ctx.plan.weeks[index - 1] if index else None
    begins = before is None or before.phase != week.phase
    part = (_part_section(ctx, week),) if begins else ()
    title = words("week.outline", week=week.number, date=words.day(week.starts))
    if week.kind is not WeekKind.TRAINING:
        title = words("week.outline.kind", title=title, kind=words(f"tone.{week.kind}"))
    page = Section(
        anchor=week_anchor(week.number), title=title, template="week", data=_page(ctx, week, before),
        level=2, side="any" if part else _side(ctx), tone=str(week.kind),  # type: ignore[arg-type]
        running=words("running.week", week=week.number, dates=_dates(week, words)),
    )  # fmt: skip
    return (*part, page)


def _side(ctx: Context) -> str:
    return "left" if ctx.sheet.facing else "any"


def _part_section(ctx: Context, week: PlannedWeek) -> Section:
    words = ctx.words
    title = words("part.phase", phase=week.phase) if week.phase else words("part.weeks")
    running = words("running.week", week=week.number, dates=_dates(week, words))
    data = PartPage(words("part.kicker"), title)
    return Section(
        f"part-{week.number}", title, "part", data, level=1, side=_side(ctx), tone=str(week.kind), running=running  # type: ignore[arg-type]
    )


def _page(ctx: Context, week: PlannedWeek, before: PlannedWeek | None) -> WeekPage:
    words = ctx.words
    phase = _phase(ctx, week)
    sentences, changes = tuple(_sentences(ctx, week, before)), tuple(_changes(ctx, week, before))
    begins = before is None or before.phase != week.phase
    opener, glance = _opener_height(ctx, sentences, changes, begins=begins), _glance_height(ctx, week)
    run_in = ctx.sheet.enlarged and glance > ctx.sheet.height
    short = not ctx.sheet.facing or glance < ctx.sheet.height * SHORT
    used = opener + glance if not ctx.sheet.facing else glance if short else opener
    heads = ("changes", "sessions", "volume", "notes")
    return WeekPage(
        number=str(week.number),
        title=words("week.title", week=week.number),
        dates=_dates(week, words),
        badge=words(f"tone.{week.kind}") if week.kind is not WeekKind.TRAINING else "",
        tone=str(week.kind),
        phase=_phase_beside(ctx, week),
        aim=phase.aim or "" if phase else "",
        sentences=sentences,
        changes=changes,
        change_heads=tuple(words(f"week.head.{key}") for key in ("lift", "now", "before", "best")),
        volume=tuple(_volume(week, before, words)),
        sessions=tuple(_glance(ctx, week, session, run_in=run_in) for session in week.sessions),
        spread=ctx.sheet.facing,
        run_in=run_in,
        ruled_mm=_ruled(ctx, used),
        ruled_last=short,
        headings={key: words(f"week.heading.{key}") for key in heads},
    )


def _opener_height(
    ctx: Context, sentences: tuple[str, ...], changes: tuple[Change, ...], *, begins: bool
) -> float:
    """mm that the opener of a small booklet takes without the lines for notes."""
    said = sum(text_lines(sentence, ctx.sheet.width, 9) * 4.2 + 1.4 for sentence in sentences)
    larger = 0.0 if ctx.sheet.facing else LARGER
    return OPENER_HEAD + larger + (PART_HEAD if begins else 0.0) + said + len(changes) * 7.4 + VOLUME_LINE


def _glance_height(ctx: Context, week: PlannedWeek) -> float:
    """mm that the sessions at a glance take in two columns, or in one where letters are large."""
    if ctx.sheet.enlarged:
        return 10.0 + sum(13.0 + 5.2 * len(session.slots) for session in week.sessions)
    rows = [week.sessions[i : i + 2] for i in range(0, len(week.sessions), 2)]
    return 30.0 + sum(14.0 + 5.4 * max(len(session.slots) for session in row) for row in rows)


def _ruled(ctx: Context, used: float) -> float:
    """Height in mm of the lines for notes that fill up the page; none when there is room for few."""
    turned = ENLARGED if ctx.sheet.enlarged else 0.0
    lines = int((ctx.sheet.height - used - turned) / RULE)
    return lines * RULE if lines >= FEWEST_LINES else 0.0


def _dates(week: PlannedWeek, words: Words) -> str:
    return words("week.dates", first=words.day(week.starts), last=words.day(week.starts + timedelta(days=6)))


def _phase_beside(ctx: Context, week: PlannedWeek) -> str:
    """The phase beside the dates of a week, where both and the badge have room; the contents name it too."""
    if not week.phase:
        return ""
    told = ctx.words("part.phase", phase=week.phase)
    room = ctx.sheet.width - (BADGE if week.kind is not WeekKind.TRAINING else 0)
    return told if len(f"{_dates(week, ctx.words)} · {told}") * KICKER <= room else ""


def _phase(ctx: Context, week: PlannedWeek) -> Phase | None:
    return next((phase for phase in ctx.plan.block.block.phases if week.number in phase.weeks), None)


def _sentences(ctx: Context, week: PlannedWeek, before: PlannedWeek | None) -> Iterator[str]:
    """What is new this week, in words."""
    words = ctx.words
    for note in ctx.plan.notes:
        if note.step in ("resumed", "resumed-lighter") and dict(note.facts)["week"] == week.number:
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


def _names(week: PlannedWeek, words: Words) -> set[str]:
    """What is trained; drills come and go by their own cadence."""
    return {slot_name(slot, words) for session in week.sessions for slot in session.slots if slot.drill is None}


def _changes(ctx: Context, week: PlannedWeek, before: PlannedWeek | None) -> Iterator[Change]:
    """One row for each tested lift that is trained under its own name this week."""
    words = ctx.words
    for numbers in ctx.plan.lifts:
        now = _heaviest(week, numbers.movement)
        if now is None:
            continue
        was = _heaviest(before, numbers.movement) if before else None
        best = max(numbers.performances, key=lambda done: (done.load, done.reps), default=None)
        record = _record(words, best, numbers) if best else ""
        yield Change(
            name=movement_title(numbers.movement, words),
            now=planned_text(*now, words),
            before=planned_text(*was, words) if was else words("field.none"),
            best=record or words("field.none"),
        )


def _record(words: Words, best: Performance, numbers: LiftNumbers) -> str:
    """The heaviest set that was done, as a planned one is written."""
    load = hung_text(best.load - numbers.own, words) if numbers.own else words.amount(best.load)
    return words("set.planned", load=load, reps=best.reps)


def _heaviest(week: PlannedWeek | None, movement: str) -> tuple[PlannedSlot, PlannedSet] | None:
    sets = [
        (slot, one)
        for session in (week.sessions if week else ())
        for slot in session.slots
        for one in slot.work
        if slot.movement == movement and slot.drill is None and one.rung is not None
    ]
    return max(sets, key=lambda pair: (pair[1].rung.mass, pair[1].reps), default=None)  # type: ignore[union-attr]


def _volume(week: PlannedWeek, before: PlannedWeek | None, words: Words) -> Iterator[tuple[str, str]]:
    """Figure and caption for sets, reps, tonnage and intensity."""
    now, was = week.total, before.total if before else None
    yield str(now.sets), _against(words, "sets", now.sets, was.sets if was else None)
    yield str(now.reps), _against(words, "reps", now.reps, was.reps if was else None)
    yield words.bulk(now.tonnage), _against(words, "tonnage", now.tonnage, was.tonnage if was else None)
    if now.intensity is not None:
        yield words.share(now.intensity), words("week.volume.intensity")


def _against(words: Words, key: str, now: Decimal | int, was: Decimal | int | None) -> str:
    caption = words(f"week.volume.{key}")
    if not was:
        return caption
    change = round((now / was - 1) * 100)
    sign = "+" if change > 0 else "\N{MINUS SIGN}" if change < 0 else "\N{PLUS-MINUS SIGN}"
    return words("week.volume.change", caption=caption, change=f"{sign}{abs(change)}{NARROW}%")


def _glance(ctx: Context, week: PlannedWeek, session: PlannedSession, *, run_in: bool) -> GlanceSession:
    words = ctx.words
    lines = [(_glance_sets(slot, words), slot_name(slot, words)) for slot in session.slots]
    tone = session_tone(week, session)
    return GlanceSession(
        day=words.day(session.on),
        title=session_title(session, words),
        minutes=words("session.minutes", minutes=session.minutes),
        anchor=session_anchor(session),
        badge=words("tone.milestone") if tone == "milestone" else "",
        lines=" · ".join(f"{name} {unbroken(sets)}" for sets, name in lines) if run_in
        else "\n".join(f"{sets}\t{name}" for sets, name in lines),
    )


def _glance_sets(slot: PlannedSlot, words: Words) -> str:
    if slot.kind == "attempts" and slot.attempts is not None:
        return words("week.opener", load=words.mass(slot.attempts.opener.mass))
    first = set_lines(slot, words)[0]
    key = "week.sets" if first.load else "week.sets.feel"
    return words(key, scheme=first.scheme, load=first.load)


__all__ = ["WeekPage", "week_sections"]
