"""Session pages: a plan facing its log on small papers, plan and log side by side on large ones."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builder.booklet.context import Context
from builder.booklet.grid import ROWS, Grid, Shape, grids, note_width
from builder.booklet.log import (
    GAP,
    HEAD,
    Asked,
    LogSlot,
    asked,
    log_slot,
    note_field,
    rows_of,
    session_fields,
    slot_fields,
)
from builder.booklet.model import Edition, Section
from builder.booklet.names import page_code, running_head, session_anchor, session_title, session_tone, week_anchor
from builder.booklet.paging import Run, shared_out
from builder.booklet.planview import SlotView, slot_view
from builder.booklet.sheet import Density, sheet, text_lines
from builder.fields import FieldSpec
from builder.plan.model import PlannedSession, PlannedWeek, WeekKind

HEADER, LOG_HEADER, ASKED_LINE, COLUMNS = 24.0, 17.0, 11.0, 4.5
"""mm for the head of a plan, the head of a log, the line asked once a session and the names of the columns."""
NOTE_LEAST = {True: 14.0, False: 14.0}
NOTE_MOST = 46.0
NOTE_CAPTION = 5.0


@dataclass(frozen=True, slots=True)
class Band:
    """One slot as it stands on a page: its plan, its log, or both side by side."""

    plan: SlotView | None
    log: LogSlot | None


@dataclass(frozen=True, slots=True)
class SessionPage:
    """One page of a session. `part` is "1/2" when the session takes several; `note_mm` 0 means no note here."""

    title: str
    kicker: str
    week: str
    week_link: str
    minutes: str
    tone: str
    badge: str
    about: str
    part: str
    density: str
    bands: tuple[Band, ...]
    cautions: tuple[str, ...]
    shape: str
    row: float
    note_beside: float
    asked: tuple[Asked, ...]
    columns: tuple[str, ...]
    note_mark: str
    note_caption: str
    note_mm: float
    code: str


@dataclass(frozen=True, slots=True)
class Session:
    """A session of the plan on the way to its pages."""

    ctx: Context
    week: PlannedWeek
    plan: PlannedSession

    @property
    def numbers(self) -> Run:
        """Every slot that has a line on the pages; tested lifts have their own."""
        return tuple(n for n, slot in enumerate(self.plan.slots, 1) if slot.kind not in ("attempts", "rep_test"))


def session_sections(ctx: Context, week: PlannedWeek, session: PlannedSession) -> tuple[Section, ...]:
    """The pages of a training or deload session in the booklet's edition."""
    whole = Session(ctx, week, session)
    if not whole.numbers:
        return ()
    if ctx.edition is Edition.LOG:
        return tuple(_log_only(whole))
    return tuple(_facing(whole) if ctx.paper.small else _side_by_side(whole))


def _facing(whole: Session) -> Iterator[Section]:
    slots = whole.plan.slots
    runs = shared_out(slots, lambda run: max(_plan_fill(whole, run, Density.DENSE), _log_fill(whole, run)))
    for index, run in enumerate(runs):
        density = _density(whole, run)
        plan = _page(whole, run, index, len(runs), density=density)
        yield _section(whole, "session", plan, index, side="left")
        grid, row = _grid(whole, run, shared=False)
        log = _page(whole, run, index, len(runs), grid=grid, row=row)
        yield _section(whole, "log", log, index, side="right", specs=_fields(whole, run, index, len(runs)))


def _log_only(whole: Session) -> Iterator[Section]:
    runs = shared_out(whole.plan.slots, lambda run: _log_fill(whole, run))
    for index, run in enumerate(runs):
        grid, row = _grid(whole, run, shared=False)
        log = _page(whole, run, index, len(runs), grid=grid, row=row)
        yield _section(whole, "log", log, index, specs=_fields(whole, run, index, len(runs)), listed=True)


def _side_by_side(whole: Session) -> Iterator[Section]:
    grid = grids(whole.ctx.paper, True)[0]
    room = sheet(whole.ctx.paper).height

    def fill(run: Run, density: Density = Density.DENSE, row: float = ROWS[0]) -> float:
        return _band_heights(whole, run, density, row) / room

    runs = shared_out(whole.plan.slots, fill)
    for index, run in enumerate(runs):
        density, row = next(
            ((d, r) for d in Density for r in reversed(ROWS) if fill(run, d, r) <= 1), (Density.DENSE, ROWS[0])
        )
        page = _page(whole, run, index, len(runs), density=density, grid=grid, row=row)
        yield _section(whole, "session_log", page, index, specs=_fields(whole, run, index, len(runs)))


def _view(whole: Session, number: int, density: Density) -> SlotView:
    return slot_view(whole.ctx, whole.plan.slots[number - 1], number, whole.week.kind, density)


def _plan_height(whole: Session, run: Run, density: Density) -> float:
    page = sheet(whole.ctx.paper)
    about = text_lines(_about(whole), page.width, 9) * 4.2 + (1.5 if _about(whole) else 0)
    return HEADER + about + _caution_height(whole) + sum(_view(whole, n, density).height for n in run)


def _caution_height(whole: Session) -> float:
    width = sheet(whole.ctx.paper).width - 8
    return sum(text_lines(text, width, 8.5) * 3.9 for text in _cautions(whole)) + (3 if _cautions(whole) else 0)


def _plan_fill(whole: Session, run: Run, density: Density) -> float:
    return _plan_height(whole, run, density) / sheet(whole.ctx.paper).height


def _density(whole: Session, run: Run) -> Density:
    return next((d for d in Density if _plan_fill(whole, run, d) <= 0.97), Density.DENSE)


def _log_height(whole: Session, run: Run, grid: Grid, row: float) -> float:
    slots = [whole.plan.slots[n - 1] for n in run]
    heads = 0.0
    for slot in slots:
        beside = grid.shape is Shape.PAIRED and len(slot.work) % 2 == 0
        heads += (row if beside else HEAD) + GAP
    return LOG_HEADER + ASKED_LINE + COLUMNS + heads + rows_of(slots, grid.shape) * row + NOTE_CAPTION


def _log_fill(whole: Session, run: Run) -> float:
    tightest = grids(whole.ctx.paper, False)[-1]
    height = _log_height(whole, run, tightest, ROWS[0]) + NOTE_LEAST[whole.ctx.paper.small]
    return height / sheet(whole.ctx.paper).height


def _grid(whole: Session, run: Run, *, shared: bool) -> tuple[Grid, float]:
    """The roomiest grid and row height that fit the run."""
    room = sheet(whole.ctx.paper).height - NOTE_LEAST[whole.ctx.paper.small]
    for grid in grids(whole.ctx.paper, shared):
        for row in reversed(ROWS):
            if _log_height(whole, run, grid, row) <= room:
                return grid, row
    return grids(whole.ctx.paper, shared)[-1], ROWS[0]


def _band_heights(whole: Session, run: Run, density: Density, row: float) -> float:
    page = sheet(whole.ctx.paper)
    gap = page.lines(density).gap
    about = text_lines(_about(whole), page.width, 9) * 4.2 + (1.5 if _about(whole) else 0)
    bands = 0.0
    for number in run:
        rows = len(whole.plan.slots[number - 1].work) * row
        bands += max(_view(whole, number, density).height, rows + gap)
    return (
        HEADER + about + _caution_height(whole) + ASKED_LINE + COLUMNS + bands + NOTE_CAPTION + NOTE_LEAST[False]
    )


def _page(
    whole: Session,
    run: Run,
    index: int,
    count: int,
    *,
    density: Density | None = None,
    grid: Grid | None = None,
    row: float = ROWS[0],
) -> SessionPage:
    ctx, session, words = whole.ctx, whole.plan, whole.ctx.words
    bands = tuple(
        Band(
            _view(whole, n, density) if density else None,
            log_slot(session, n, grid, row, words) if grid else None,
        )
        for n in run
    )
    tone = session_tone(whole.week, session)
    first, last = index == 0, index == count - 1
    shared = density is not None and grid is not None
    return SessionPage(
        title=session_title(session, words),
        kicker=words.day(session.on),
        week=words("week.title", week=session.week),
        week_link=week_anchor(session.week) if ctx.edition is Edition.PERSONAL else "",
        minutes=words("session.minutes", minutes=session.minutes),
        tone=tone,
        badge=words(f"tone.{tone}") if tone != "training" else "",
        about=_about(whole) if first and density else "",
        part=words("session.part", part=index + 1, parts=count) if count > 1 else "",
        density=str(density) if density else "",
        bands=bands,
        cautions=_cautions(whole) if last and density else (),
        shape=str(grid.shape) if grid else "",
        row=row,
        note_beside=note_width(ctx.paper, grid, shared) if grid else 0,
        asked=asked(session, words) if grid and first else (),
        columns=tuple(words(f"log.column.{part}") for part in ("load", "reps", "rir", "done")),
        note_mark=note_field(session, words).name if grid and last else "",
        note_caption=words("log.note"),
        note_mm=_note_mm(whole, run, density, grid, row) if grid and last else 0,
        code=words("code.page", code=ctx.code, page=f"{page_code(session)}.{index + 1}"),
    )


def _note_mm(whole: Session, run: Run, density: Density | None, grid: Grid, row: float) -> float:
    """The note takes what the rows leave, within reason."""
    room = sheet(whole.ctx.paper).height
    if density is None:
        used = _log_height(whole, run, grid, row)
    else:
        used = _band_heights(whole, run, density, row) - NOTE_LEAST[False]
    return round(min(max(room - used - 2, NOTE_LEAST[whole.ctx.paper.small] - 2), NOTE_MOST), 1)


def _about(whole: Session) -> str:
    return whole.plan.note or ""


def _cautions(whole: Session) -> tuple[str, ...]:
    """What holds for the whole session, in short."""
    words = whole.ctx.words
    codes = [code for code in whole.ctx.plan.cautions if words.has(f"caution.session.{code}")]
    risky = any(slot.about.overhead_risk and not slot.accessory for slot in whole.plan.slots)
    lighter = (words("caution.deload"),) if whole.week.kind is WeekKind.DELOAD else ()
    return (*lighter, *(words(f"caution.session.{code}") for code in codes if risky))


def _fields(whole: Session, run: Run, index: int, count: int) -> tuple[FieldSpec, ...]:
    session, words = whole.plan, whole.ctx.words
    specs = list(session_fields(session, words)) if index == 0 else []
    for number in run:
        specs += slot_fields(session, number, words)
    if index == count - 1:
        specs.append(note_field(session, words))
    return tuple(specs)


def _section(
    whole: Session,
    template: str,
    page: SessionPage,
    index: int,
    *,
    side: str = "any",
    specs: tuple[FieldSpec, ...] = (),
    listed: bool | None = None,
) -> Section:
    session, words = whole.plan, whole.ctx.words
    leads = index == 0 and template != "log" if listed is None else index == 0 and listed
    suffix = "" if leads else f"-{template}-{index + 1}"
    return Section(
        anchor=session_anchor(session) + suffix,
        title=words("session.outline", day=words.day(session.on), title=session_title(session, words)),
        template=template,
        data=page,
        level=3,
        side=side,  # type: ignore[arg-type]
        tone=page.tone,  # type: ignore[arg-type]
        running=running_head(session, words),
        listed=leads,
        fields=specs,
    )


__all__ = ["Band", "SessionPage", "session_sections"]
