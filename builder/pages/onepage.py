"""A session on one page: every lift with its load, its plates and a box a set, as roomy as the page allows.

All lifts of a page have one density, so that they are read alike; the loosest at which they fit is taken. What a page
has left then goes to the lifts, up to a bound, and the rest to the note at its foot.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from builder.pages.columns import (
    ASKED,
    ASKED_ENLARGED,
    ASKED_GAP,
    BETWEEN,
    DENSITIES,
    HEAD,
    HEAD_UP,
    NOTE_GAP,
    NOTE_LEAST,
    NOTE_MOST,
    NOTE_MOST_LARGE,
    Columns,
    columns,
)
from builder.pages.day import Session, about, cautions, lighter, section, shared_code
from builder.pages.lifts import LaidLift, with_note
from builder.pages.log import asked, asked_names, box_fields, jot_field, note_field, session_fields
from builder.pages.measures import ABOUT, CAUTION, GOES_ON, GOES_ON_UP
from builder.pages.model import Edition, Section
from builder.pages.names import session_title, session_tone, slot_name, week_anchor
from builder.pages.paging import Run, shared_out
from builder.pages.planview import note, note_lines
from builder.pages.sheet import Density, Sheet
from builder.pages.titles import Title, on_page
from builder.values.fields import FieldSpec, SetField, parse
from builder.words import Words

SPARE_MOST, AIR_MOST, FULL = 9.0, 1.2, 0.1
"""mm that a lift gets at most from what its page has left, of these above its boxes, and mm that are kept free."""
JOT_MOST = 24.0
"""mm that the note of a lift is high at most where it stands below the set boxes."""


@dataclass(frozen=True, slots=True)
class AskedBox:
    """Something asked once a session: its caption, its field and the width of its box in mm."""

    caption: str
    name: str
    width: float


@dataclass(frozen=True, slots=True)
class OnePage:
    """One page of a session with plan and log; `part` is "1/2" when it goes on, `note_mm` 0 means no note here.

    With `beside` the log stands beside the plan. `across` is how many cells a line with a load has. One that is `low`
    begins below another session. `callouts` number the parts of a lift by code; only in a guide, where nothing is
    `live`: its boxes are no fields.
    """

    title: Title
    kicker: str
    week: str
    week_link: str
    minutes: str
    tone: str
    badge: str
    part: str
    about: str
    lifts: tuple[LaidLift, ...]
    spare: float
    air: float
    cautions: tuple[str, ...]
    asked: tuple[AskedBox, ...]
    beside: bool
    across: int
    goes_on: str
    note: str
    note_mm: float
    said: dict[str, str]
    low: bool = False
    callouts: dict[str, int] = field(default_factory=dict)
    live: bool = True


@dataclass(frozen=True, slots=True)
class SessionRun:
    """What a page has of a session: its lifts, `index` of so many runs, in `room` mm at one density.

    `low` is a session that begins below another, `noted` one with a note at its foot, and `told` what it says of
    the whole session.
    """

    whole: Session
    runs: tuple[Run, ...]
    index: int
    room: float
    density: Density
    told: tuple[str, ...]
    noted: bool = True
    low: bool = False

    @property
    def run(self) -> Run:
        """Its lifts."""
        return self.runs[self.index]

    @property
    def first(self) -> bool:
        """Whether the session begins here."""
        return self.run[0] == self.whole.numbers[0]

    @property
    def last(self) -> bool:
        """Whether the session ends here."""
        return self.run[-1] == self.whole.numbers[-1]


def on_one_page(whole: Session) -> Iterator[Section]:
    """The page of a session; more than one where its lifts need them."""
    said, room = cautions(whole), _room(whole.ctx.sheet)
    # Shared out by the tightest setting, which takes the fewest pages; each is then set as roomy as it can be.
    tightest = SessionRun(whole, (), 0, room, DENSITIES[-1], said)
    runs = shared_out(
        whole.numbers, whole.plan.slots, lambda run: _height(replace(tightest, runs=(run,))) / room
    )
    for index, run in enumerate(runs):
        tried = (SessionRun(whole, (run,), 0, room, one, said) for one in DENSITIES)
        density = next((one.density for one in tried if _height(one) <= room), DENSITIES[-1])
        # No running head: the head of the page says the same.
        page = _page(SessionRun(whole, runs, index, room, density, said))
        yield replace(section(whole, "session_page", page, index, specs=_fields(whole, page)), running="")


def two_on_one_page(upper: Session, lower: Session) -> tuple[Section, ...]:
    """Two sessions one below the other; none where they do not fit. That it is a deload is told once, at the head."""
    if not (upper.numbers and lower.numbers) or any(_wordy(one) for one in (upper, lower)):
        return ()
    room, above = _room(upper.ctx.sheet), cautions(upper)
    below = tuple(text for text in cautions(lower) if text not in lighter(lower))
    # The lifts move together first; only then do the notes at the foot go.
    for noted in (True, False):
        for density in DENSITIES:
            parts = (
                SessionRun(upper, (upper.numbers,), 0, room, density, above, noted),
                SessionRun(lower, (lower.numbers,), 0, room, density, below, noted, low=True),
            )
            left = room - sum(map(_height, parts))
            if left >= 0:
                return tuple(_shared(parts, left))
    return ()


def _wordy(whole: Session) -> bool:
    """Whether its title may take more than two lines, for which a shared page has no room."""
    ctx = whole.ctx
    return not on_page(ctx.sheet).whole(ctx.faces.bold, session_title(whole.plan, ctx.words))


def _title(part: SessionRun, tone: str) -> Title:
    ctx, taken = part.whole.ctx, _asked_width(part.whole) if part.first else 0.0
    room = on_page(ctx.sheet, taken, tinted=tone == "deload")
    return room.fitted(ctx.faces.bold, session_title(part.whole.plan, ctx.words))


def _shared(parts: tuple[SessionRun, ...], left: float) -> Iterator[Section]:
    """The sections of sessions that share a page, which is known by the codes of all."""
    pages = [_page(replace(part, room=_height(part) + left / len(parts))) for part in parts]
    made = [
        section(part.whole, "session_page", page, 0, specs=_fields(part.whole, page))
        for part, page in zip(parts, pages, strict=True)
    ]
    # Both name both: whichever section the press takes for the margins, the page has the codes of both sessions.
    code = shared_code([part.whole for part in parts])
    for one, part in zip(made, parts, strict=True):
        yield replace(one, running="", code=code, side="on" if part.low else "any")


def _room(page: Sheet) -> float:
    return page.height - FULL


def _lifts(part: SessionRun) -> tuple[LaidLift, ...]:
    return tuple(part.whole.lift(number, part.density) for number in part.run)


def _with_notes(part: SessionRun, lifts: tuple[LaidLift, ...]) -> tuple[LaidLift, ...]:
    """The lifts of a page, each with a note of its own where a page has room for a row more in every lift."""
    at, left = columns(part.whole.ctx.sheet), part.room - _height(part)
    each = min(left / len(lifts) - max(one.under_mm for one in lifts), JOT_MOST)
    if at.beside or each < max(one.box_mm for one in lifts):
        return lifts
    return tuple(one if one.jot else with_note(one, part.whole.plan, each, at) for one in lifts)


def _height(part: SessionRun) -> float:
    """mm that the lifts take with the head, on the first page what holds for the whole session, on the last a note."""
    return _around(part) + sum(one.height for one in _lifts(part))


def _around(part: SessionRun) -> float:
    # Each page keeps room for what it prints itself: what holds for the session on its first, the note on its last.
    # Counted on all of them, it left the first page nearly empty.
    head = HEAD + BETWEEN if part.low else HEAD - HEAD_UP
    note = NOTE_GAP + NOTE_LEAST if part.noted and part.last else 0.0
    return head + (_told(part) if part.first else 0.0) + note + (GOES_ON.mm + GOES_ON_UP if _following(part) else 0.0)


def _told(part: SessionRun) -> float:
    """mm of the coach's note and of what holds for the whole session."""
    ctx, said = part.whole.ctx, about(part.whole)
    notes = [note(ctx.words, "caution", text) for text in part.told]
    told = sum(note_lines(ctx.faces, one, CAUTION.points, ctx.sheet.width) for one in notes)
    lines = ctx.faces.text.lines(said, ABOUT, ctx.sheet.width)
    return lines * ctx.sheet.about.mm + (1.0 if said else 0.0) + told * CAUTION.mm + 1.4 * len(notes)


def _following(part: SessionRun) -> int | None:
    """The lift with which the session goes on another page."""
    return next((number for number in part.whole.numbers if number > part.run[-1]), None)


def _goes_on(part: SessionRun) -> str:
    number, words = _following(part), part.whole.ctx.words
    if number is None:
        return ""
    return words("session.goes-on", number=number, name=slot_name(part.whole.plan.slots[number - 1], words))


def _page(part: SessionRun) -> OnePage:
    whole, run = part.whole, part.run
    ctx, session, words = whole.ctx, whole.plan, whole.ctx.words
    at = columns(ctx.sheet)
    lifts = _with_notes(part, _lifts(part))
    left = max(part.room - _around(part) - sum(one.height for one in lifts), 0.0)
    spare = round(min(left / len(run), SPARE_MOST), 2)
    air = 0.0 if at.beside else round(min(spare / 3, AIR_MOST), 2)
    tone = session_tone(whole.week, session)
    most = NOTE_MOST_LARGE if at.beside else NOTE_MOST
    noted = part.last and part.noted
    return OnePage(
        title=_title(part, tone),
        kicker=words.day(session.on),
        week=words("week.title", week=session.week),
        week_link=week_anchor(session.week) if ctx.edition is Edition.PERSONAL else "",
        minutes=words("session.minutes", minutes=session.minutes),
        tone=tone,
        badge=words(f"tone.{tone}") if tone != "training" else "",
        part="" if part.first and part.last
        else words("session.part.short", part=part.index + 1, parts=len(part.runs)),
        about=about(whole) if part.first else "",
        lifts=lifts,
        spare=round(spare - air, 2),
        air=air,
        cautions=part.told if part.first else (),
        asked=_asked(whole, words) if part.first else (),
        beside=at.beside,
        across=cells_across(at),
        goes_on=_goes_on(part),
        note=note_field(session, words).name if noted else "",
        note_mm=round(min(NOTE_LEAST + left - spare * len(run), most), 2) if noted else 0,
        said=said_once(words),
        low=part.low,
    )


def _asked(whole: Session, words: Words) -> tuple[AskedBox, ...]:
    return tuple(
        AskedBox(caption, name, width)
        for caption, name, width in zip(asked(words), asked_names(whole.plan), _asked_widths(whole), strict=True)
    )


def _asked_widths(whole: Session) -> tuple[float, ...]:
    return ASKED_ENLARGED if whole.ctx.sheet.enlarged else ASKED


def _asked_width(whole: Session) -> float:
    """mm that the boxes take beside the title, with the gaps before them."""
    return sum(_asked_widths(whole)) + ASKED_GAP * len(_asked_widths(whole))


def cells_across(at: Columns) -> int:
    """How many cells a line with a load has: plates beside the plan have a line of their own."""
    return 4 if at.beside else 5


def said_once(words: Words) -> dict[str, str]:
    """The words that every lift has."""
    keys = {
        "caution": "mark.caution", "today": "log.today", "load": "log.load",
        "jot": "log.column.note", "note": "log.note",
    }  # fmt: skip
    return {key: words(word) for key, word in keys.items()}


def _fields(whole: Session, page: OnePage) -> tuple[FieldSpec, ...]:
    session, words = whole.plan, whole.ctx.words
    # In the order of the page, which becomes the order of the tab key.
    specs = list(session_fields(session, words)) if page.asked else []
    for one in page.lifts:
        today = [place.set for line in one.lines if line.today and isinstance(place := parse(line.today), SetField)]
        specs += box_fields(session, one.number, today, words)
        specs += [jot_field(session, one.number, words)] if one.jot else []
    if page.note:
        specs.append(note_field(session, words))
    return tuple(specs)


__all__ = ["ASKED_GAP", "OnePage", "on_one_page", "two_on_one_page"]
