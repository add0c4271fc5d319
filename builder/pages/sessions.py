"""Session pages: one page for plan and log where they fit, else a plan that faces its log or stands beside it.

One page is tried first: plan and log are then seen together without turning. A spread must begin on a left page,
which may leave one before it blank.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builder.pages.context import Context
from builder.pages.day import Session, about, cautions, section
from builder.pages.grid import ROWS, Grid, Shape, asked_marks, grids, note_width
from builder.pages.log import (
    HEADS,
    LogSlot,
    asked,
    asked_names,
    column_heads,
    log_slot,
    note_field,
    rows_of,
    session_fields,
    slot_fields,
)
from builder.pages.measures import LOG_COLUMNS, LOG_HEAD, LOG_HEAD_TITLED, LOG_NOTE_UP
from builder.pages.model import Edition, Layout, Section
from builder.pages.names import session_title, session_tone, week_anchor
from builder.pages.onepage import on_one_page, two_on_one_page
from builder.pages.paging import Run, shared_out
from builder.pages.planview import SlotView, note, note_lines, slot_view
from builder.pages.sheet import Density
from builder.pages.titles import Title, on_log, on_plan
from builder.plan.model import PlannedSession, PlannedWeek, WeekKind
from builder.values.fields import FieldSpec

NOTE_LEAST, NOTE_MOST = 9.6, 60.0
"""mm for the note under the log, its gap included."""
SPARE_MOST, SPARE_FEW, FEW = 5.0, 14.0, 3


@dataclass(frozen=True, slots=True)
class Band:
    """One slot as it stands on a page: its plan, its log, or both side by side."""

    plan: SlotView | None
    log: LogSlot | None


@dataclass(frozen=True, slots=True)
class SessionPage:
    """One page of a session. `part` is "1/2" when the session takes several; `note_mm` 0 means no note here."""

    title: Title
    titled: bool
    log_word: str
    kicker: str
    week: str
    week_link: str
    minutes: str
    tone: str
    badge: str
    about: str
    part: str
    density: str
    spare: float
    bands: tuple[Band, ...]
    cautions: tuple[str, ...]
    shape: str
    row: float
    tight: bool
    note_beside: float
    asked: tuple[str, ...]
    asked_marks: str
    columns: tuple[str, ...]
    note_head: str
    note_mark: str
    note_caption: str
    note_mm: float
    ramp_word: str
    caution_mark: str


def shared_page(ctx: Context, week: PlannedWeek, two: tuple[PlannedSession, ...]) -> tuple[Section, ...]:
    """One page for two sessions of a lighter week, where they fit; else none."""
    lighter = week.kind in (WeekKind.DELOAD, WeekKind.TAPER)
    # A full week has no two sessions that fit, and a spread or a log by itself has its own pages for each.
    if len(two) < 2 or not lighter or ctx.layout is Layout.SPREAD or ctx.edition is Edition.LOG:
        return ()
    upper, lower = (Session(ctx, week, one) for one in two)
    return two_on_one_page(upper, lower)


def session_sections(ctx: Context, week: PlannedWeek, session: PlannedSession) -> tuple[Section, ...]:
    """The pages of a training or deload session in the booklet's edition."""
    whole = Session(ctx, week, session)
    if not whole.numbers:
        return ()
    if ctx.edition is Edition.LOG:
        return tuple(_log_only(whole))
    alone = () if ctx.layout is Layout.SPREAD else tuple(on_one_page(whole))
    if 0 < len(alone) <= (2 if ctx.sheet.facing else 1):  # nothing takes less
        return alone
    # Made only where it could take fewer pages than the page of plan and log.
    spread = tuple(_facing(whole) if ctx.sheet.facing else _side_by_side(whole))
    return alone if 0 < len(alone) <= len(spread) else spread


@dataclass(frozen=True, slots=True)
class LogFit:
    """How the log of a run is set: the grid, the height of its rows in mm, and whether names sit tight."""

    grid: Grid
    row: float
    tight: bool


def _facing(whole: Session) -> Iterator[Section]:
    # Shared out by the tightest setting, which takes the fewest pages; each is then set as roomy as it can be.
    runs = shared_out(
        whole.numbers, whole.plan.slots, lambda run: max(_plan_fill(whole, run, Density.DENSE), _log_fill(whole, run))
    )
    for index, run in enumerate(runs):
        plan = _page(whole, runs, index, density=_density(whole, run))
        yield section(whole, "session", plan, index, side="left")
        log = _page(whole, runs, index, fit=_fit(whole, run))
        yield section(whole, "log", log, index, side="right", specs=_fields(whole, runs, index))


def _log_only(whole: Session) -> Iterator[Section]:
    runs = shared_out(whole.numbers, whole.plan.slots, lambda run: _log_fill(whole, run))
    for index, run in enumerate(runs):
        log = _page(whole, runs, index, fit=_fit(whole, run))
        yield section(whole, "log", log, index, specs=_fields(whole, runs, index), listed=True)


def _side_by_side(whole: Session) -> Iterator[Section]:
    grid = grids(whole.ctx.sheet, True)[0]

    def fill(run: Run, density: Density = Density.DENSE, row: float = ROWS[0]) -> float:
        return _band_heights(whole, run, density, row) / whole.ctx.sheet.height

    runs = shared_out(whole.numbers, whole.plan.slots, fill)
    for index, run in enumerate(runs):
        roomy = ((d, row) for d in Density for row in reversed(ROWS) if fill(run, d, row) <= 1)
        # A slot that is too long for any page gets one of its own in the tightest setting.
        density, row = next(roomy, (Density.DENSE, ROWS[0]))
        page = _page(whole, runs, index, density=density, fit=LogFit(grid, row, False))
        yield section(whole, "session_log", page, index, specs=_fields(whole, runs, index))


def _view(whole: Session, number: int, density: Density) -> SlotView:
    return slot_view(whole.ctx, whole.plan.slots[number - 1], number, density)


def _plan_fill(whole: Session, run: Run, density: Density) -> float:
    slots = sum(_view(whole, n, density).height for n in run)
    used = whole.ctx.sheet.lines(density).head + _around(whole) + slots
    return used / whole.ctx.sheet.height


def _density(whole: Session, run: Run) -> Density:
    return next((d for d in Density if _plan_fill(whole, run, d) <= 1), Density.DENSE)


def _around(whole: Session) -> float:
    """mm for the coach's note and the cautions over the slots."""
    page, faces, words = whole.ctx.sheet, whole.ctx.faces, whole.ctx.words
    told = page.about.height(faces.text, about(whole), page.width) + (1.5 if about(whole) else 0)
    for text in cautions(whole):
        told += note_lines(faces, note(words, "caution", text), page.caution.points, page.width) * page.caution.mm + 2.3
    return told


def _log_height(whole: Session, run: Run, fit: LogFit) -> float:
    """mm without the note at the foot."""
    slots = [whole.plan.slots[n - 1] for n in run]
    head, gap = HEADS[fit.tight]
    heads = 0.0
    for slot in slots:
        beside_name = fit.grid.shape is Shape.PAIRED and len(slot.work) % 2 == 0
        heads += (fit.row if beside_name else head) + gap
    own = LOG_HEAD_TITLED if whole.ctx.edition is Edition.LOG else LOG_HEAD
    return own + LOG_COLUMNS + heads + rows_of(slots, fit.grid.shape) * fit.row


def _log_fill(whole: Session, run: Run) -> float:
    tightest = LogFit(grids(whole.ctx.sheet, False)[-1], ROWS[0], True)
    return (_log_height(whole, run, tightest) + NOTE_LEAST) / whole.ctx.sheet.height


def _fit(whole: Session, run: Run) -> LogFit:
    """The roomiest way to set a log of its own that leaves space for the note."""
    room = whole.ctx.sheet.height - NOTE_LEAST
    ways = [
        LogFit(grid, row, tight)
        for grid in grids(whole.ctx.sheet, False)
        for tight in (False, True)
        for row in reversed(ROWS)
    ]
    return next((fit for fit in ways if _log_height(whole, run, fit) <= room), ways[-1])


def _band_heights(whole: Session, run: Run, density: Density, row: float) -> float:
    mm = whole.ctx.sheet.lines(density)
    bands = sum(max(_view(whole, n, density).height, len(whole.plan.slots[n - 1].work) * row + mm.gap) for n in run)
    return mm.head + LOG_COLUMNS + _around(whole) + bands + NOTE_LEAST


def _page(
    whole: Session, runs: tuple[Run, ...], index: int, *, density: Density | None = None, fit: LogFit | None = None
) -> SessionPage:
    ctx, session, words = whole.ctx, whole.plan, whole.ctx.words
    run, first, last = runs[index], index == 0, index == len(runs) - 1
    tone, titled = session_tone(whole.week, session), ctx.edition is Edition.LOG
    narrow = ctx.sheet.enlarged and density is None and len(runs) > 1
    return SessionPage(
        title=(on_log if titled else on_plan)(ctx.sheet).fitted(ctx.faces.bold, session_title(session, words)),
        titled=titled,
        log_word=words("log.title"),
        kicker=words.day(session.on),
        week=words("week.title", week=session.week),
        week_link=week_anchor(session.week) if ctx.edition.whole else "",
        minutes=words("session.minutes", minutes=session.minutes),
        tone=tone,
        badge=words(f"tone.{tone}") if tone != "training" and not narrow else "",
        about=about(whole) if first and density else "",
        part=words("session.part.short" if narrow else "session.part", part=index + 1, parts=len(runs))
        if len(runs) > 1
        else "",
        density=str(density) if density else "",
        spare=_spare(whole, run, density, fit) if density else 0,
        bands=tuple(_band(whole, n, density, fit) for n in run),
        cautions=cautions(whole) if first and density else (),
        shape=str(fit.grid.shape) if fit else "",
        row=fit.row if fit else 0,
        tight=bool(fit and fit.tight),
        note_beside=note_width(ctx.sheet, fit.grid, density is not None) if fit else 0,
        asked=asked(words),
        asked_marks=asked_marks(ctx.sheet, asked_names(session)) if fit and first else "",
        columns=column_heads([session.slots[n - 1] for n in run], words),
        note_head=words("log.column.note"),
        note_mark=note_field(session, words).name if fit and last else "",
        note_caption=words("log.note"),
        note_mm=_note_mm(whole, run, density, fit) if fit and last else 0,
        ramp_word=words("session.ramp"),
        caution_mark=words("mark.caution"),
    )


def _band(whole: Session, number: int, density: Density | None, fit: LogFit | None) -> Band:
    return Band(
        _view(whole, number, density) if density else None,
        log_slot(whole.ctx, whole.plan, number, fit.grid, fit.row) if fit else None,
    )


def _spare(whole: Session, run: Run, density: Density, fit: LogFit | None) -> float:
    """What a page has left goes under its slots, within reason."""
    if fit is None:
        used = _plan_fill(whole, run, density)
    else:
        used = _band_heights(whole, run, density, fit.row) / whole.ctx.sheet.height
    left = (1 - used) * whole.ctx.sheet.height - 2
    return round(min(max(left / len(run), 0), SPARE_FEW if len(run) <= FEW else SPARE_MOST), 1)


def _note_mm(whole: Session, run: Run, density: Density | None, fit: LogFit) -> float:
    """The note takes what the rows leave, within reason."""
    if density is None:
        used = _log_height(whole, run, fit)
    else:
        used = _band_heights(whole, run, density, fit.row) - NOTE_LEAST
        used += _spare(whole, run, density, fit) * len(run)
    left = whole.ctx.sheet.height - used - LOG_NOTE_UP
    return round(min(max(left, NOTE_LEAST - LOG_NOTE_UP), NOTE_MOST), 1)


def _fields(whole: Session, runs: tuple[Run, ...], index: int) -> tuple[FieldSpec, ...]:
    session, words = whole.plan, whole.ctx.words
    specs = list(session_fields(session, words)) if index == 0 else []
    for number in runs[index]:
        specs += slot_fields(session, number, words)
    if index == len(runs) - 1:
        specs.append(note_field(session, words))
    return tuple(specs)


__all__ = ["Band", "SessionPage", "session_sections", "shared_page"]
