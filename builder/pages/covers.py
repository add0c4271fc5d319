"""The cover, and the contents page behind it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from builder.pages.context import Context
from builder.pages.figures.curve import block_curve, curve_drawing
from builder.pages.figures.draw import Drawing
from builder.pages.figures.qr import qr_drawing
from builder.pages.model import Edition, Section
from builder.pages.names import movement_title, session_anchor, week_anchor
from builder.pages.setlines import planned_text
from builder.pages.testday import tested_lifts
from builder.pages.titles import on_cover
from builder.plan.model import LiftNumbers, Plan, PlannedSet, PlannedSlot, Role

FILLED = ("rule", "spine")
"""Layouts whose curve is a ground that words stand on; in the others it is a line."""
CURVE, FRAMED = 0.36, 0.28
"""The share of the page's height that the curve takes, across the page and within a frame."""
MOST_AIRY = {True: 24, False: 44}
"""Entries of the contents that stand with air between them, on small paper and on large; more stand closer."""
HOW = (1, 2, 3, 4, 5)
"""The lines that tell how to use a booklet."""


@dataclass(frozen=True, slots=True)
class Cover:
    """What stands on the cover. `logo` is an address for the typesetter, `long` a title that needs smaller type.

    `goal` is the number that the block is about, with its caption; `curve` is drawn from the block's loads.
    """

    layout: str
    brand: str
    line: str
    logo: str | None
    logo_alt: str
    title: str
    long: bool
    subtitle: str
    made_for: str
    lifter: str
    goal: tuple[str, str] | None
    curve: Drawing | None
    facts: tuple[tuple[str, str], ...]
    contact: tuple[str, ...]
    copyright: str
    edition: str
    code: str


@dataclass(frozen=True, slots=True)
class ContentsLine:
    """One line of the contents; `days` are links to the sessions of a week."""

    anchor: str
    title: str
    level: int
    tone: str
    days: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Contents:
    """The contents page, with what to do with the booklet in a few lines."""

    title: str
    entries: tuple[ContentsLine, ...]
    tight: bool
    how_title: str
    how: tuple[str, ...]
    note: str


@dataclass(frozen=True, slots=True)
class BackCover:
    """The last page: whom to ask and where the filled booklet goes."""

    layout: str
    questions: str
    brand: str
    line: str
    contact: tuple[str, ...]
    qr: Drawing | None
    copyright: str
    code: str


def cover_section(ctx: Context) -> Section:
    """The first page."""
    words, plan, brand = ctx.words, ctx.plan, ctx.brand
    # What is read once belongs to no block: it has no goal, no curve and no dates.
    head, sessions, booklet = plan.block.block, plan.sessions(), ctx.edition is not Edition.HANDBOOK
    lift = main_lift(plan)
    facts = (
        (words("cover.weeks"), str(head.weeks)),
        (words("cover.from"), words.date(sessions[0].on)),
        (words("cover.to"), words.date(sessions[-1].on)),
        (words("cover.days"), str(len(plan.client.training.days))),
    )
    data = Cover(
        layout=brand.cover,
        brand=brand.name,
        line=brand.line or "",
        logo=ctx.logo,
        logo_alt=words("cover.logo", brand=brand.name),
        title=head.title,
        long=not on_cover(ctx.sheet).roomy(ctx.faces.bold, head.title),
        subtitle=words("cover.subtitle", count=head.weeks),
        made_for=words("cover.for"),
        lifter=plan.client.client.name,
        goal=_goal(ctx, lift) if booklet else None,
        curve=_curve(ctx, lift) if booklet else None,
        facts=facts if booklet else (),
        contact=_contact(ctx) if ctx.edition is Edition.POCKET else (),
        copyright=brand.legal.copyright or "",
        edition="" if ctx.edition is Edition.PERSONAL else words(f"edition.{ctx.edition}"),
        code=_code(ctx),
    )
    return Section("cover", words("cover.outline"), "cover", data, listed=False)


def main_lift(plan: Plan) -> LiftNumbers | None:
    """The lift that the block is about: the first that it tests, else the tested lift that it trains most."""
    tested = [one.slot.movement for one in tested_lifts(plan)]
    if tested and (numbers := plan.lift(tested[0])) is not None:
        return numbers
    sets = Counter(slot.movement for session in plan.sessions() for slot in session.slots for _ in slot.work)
    return max((numbers for numbers in plan.lifts), key=lambda one: sets[one.movement], default=None)


def _heaviest(plan: Plan, movement: str) -> tuple[PlannedSlot, PlannedSet] | None:
    """The heaviest set of a lift that the block plans, the test's attempts among them."""
    found = [
        (slot, one)
        for session in plan.sessions()
        for slot in session.slots
        if slot.movement == movement and slot.drill is None
        for one in slot.work
        if one.rung is not None and one.role is not Role.HOLD
    ]
    return max(found, key=lambda pair: (pair[1].rung.mass, pair[1].reps), default=None)  # type: ignore[union-attr]


def _goal(ctx: Context, lift: LiftNumbers | None) -> tuple[str, str] | None:
    """The heaviest set that the block plans of its lift."""
    top = _heaviest(ctx.plan, lift.movement) if lift else None
    if lift is None or top is None:
        return None
    said = ctx.words("cover.goal", lift=movement_title(lift.movement, ctx.words), unit=ctx.words.unit)
    return planned_text(*top, ctx.words), said


def _curve(ctx: Context, lift: LiftNumbers | None) -> Drawing:
    """Filled where the layout leaves the foot of the page to it, a line where the title has a ground of its own."""
    values = block_curve(ctx.plan, lift.movement if lift else None)
    width, height = (side / ctx.sheet.zoom for side in ctx.paper.millimetres)
    said, layout = ctx.words("cover.curve"), ctx.brand.cover
    if layout == "frame":
        return curve_drawing(values, ctx.sheet.width, round(height * FRAMED, 1), ctx.accent, said, filled=False, past=0)
    filled = layout in FILLED and not ctx.theme.outlined
    return curve_drawing(values, width, round(height * CURVE, 1), ctx.accent, said, filled=filled)


def back_cover_section(ctx: Context) -> Section:
    """The last page, with a code for a phone where the brand has an address."""
    words, brand = ctx.words, ctx.brand
    web = brand.contact.web or (f"mailto:{brand.contact.email}" if brand.contact.email else None)
    data = BackCover(
        layout=brand.cover,
        questions=words("back.questions") if _contact(ctx) else "",
        brand=brand.name,
        line=brand.line or "",
        contact=_contact(ctx),
        qr=qr_drawing(words, web) if web else None,
        copyright=brand.legal.copyright or "",
        code=_code(ctx),
    )
    return Section("back", words("back.outline"), "back", data, listed=False)


def _contact(ctx: Context) -> tuple[str, ...]:
    brand = ctx.brand
    return tuple(filter(None, (brand.coach, brand.contact.web, brand.contact.email, brand.contact.phone)))


def _code(ctx: Context) -> str:
    return ctx.words("cover.code", code=ctx.code, revision=ctx.revision, date=ctx.words.date(ctx.made_on))


def contents_section(ctx: Context, sections: Sequence[Section]) -> Section:
    """Every listed section on one page: a line for each part and week, the days of a week beside it."""
    words, whole = ctx.words, ctx.edition.whole
    data = Contents(
        title=words("contents.title"),
        entries=(entries := tuple(_entries(ctx, sections))),
        tight=len(entries) > MOST_AIRY[ctx.sheet.facing],
        how_title=words("contents.how") if whole else "",
        how=tuple(words(f"contents.how.{n}") for n in HOW) if whole else (),
        note=words("contents.handbook") if ctx.edition is Edition.PERSONAL else "",
    )
    return Section("contents", data.title, "contents", data, running=data.title)


def _entries(ctx: Context, sections: Sequence[Section]) -> Iterator[ContentsLine]:
    days: dict[str, list[tuple[str, str]]] = {}
    for session in ctx.plan.sessions():
        label = ctx.words("contents.day", weekday=ctx.words.weekday(session.on), day=session.on.day)
        days.setdefault(week_anchor(session.week), []).append((session_anchor(session), label))
    for section in sections:
        if section.listed and section.level < 3:
            mine = tuple(days.get(section.anchor, ())) if section.template == "week" else ()
            yield ContentsLine(section.anchor, section.title, section.level, section.tone, mine)
