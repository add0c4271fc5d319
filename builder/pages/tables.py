"""The load table, share by share down to the plates of a side, and the effort table."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from builder.pages.bars import training_ladder
from builder.pages.context import Context
from builder.pages.faces import Faces
from builder.pages.measures import LOADS_GAP, LOADS_SHARE
from builder.pages.model import Section
from builder.pages.names import movement_title
from builder.pages.reasons import exact_share
from builder.plan.model import LiftNumbers
from builder.plan.numbers import carried
from builder.training.effort import effort_table, rpe_of
from builder.training.estimate import DEFAULT
from builder.training.loading import Ladder, Rung, side_text
from builder.values.quantity import NOTHING, on_bar
from builder.words import Words

SHARES = tuple(Decimal(n) / 1000 for n in range(400, 1051, 25))
"""40 % to 105 % in steps of 2.5 %."""
MOST_REPS, MOST_RIR = 12, 4
FEWEST_MM = 20.0
"""mm that a side has at least."""
# In print no plates are smaller than 12 points: 10 of the design come out at 12.5 or 16.
POINTS, ENLARGED_POINTS, NOTE_POINTS = 12.0, 10.0, 8.5
"""Sizes of loads and plates, of the same in a design that is magnified, and of the words in the place of plates."""
STRONG = Decimal("0.05")
"""Every fifth percent is set stronger, so that the eye finds its line."""


@dataclass(frozen=True, slots=True)
class LoadRow:
    """The load of one share in two parts that align at the point, and the plates of one side.

    `note` is a word in the place of plates, or behind the heaviest.
    """

    whole: str
    fraction: str
    side: str
    note: str


@dataclass(frozen=True, slots=True)
class LoadTable:
    """The loads of one lift; `load` and `side` are the widths in mm that its columns need."""

    lift: str
    basis: str
    head: tuple[str, ...]
    rows: tuple[LoadRow, ...]
    places: int
    load: float
    side: float


@dataclass(frozen=True, slots=True)
class LoadPages:
    """Load tables, as many side by side as the paper bears; `shares` are the rows that they have in common."""

    title: str
    lead: str
    corner: str
    shares: tuple[tuple[str, bool], ...]
    pages: tuple[tuple[LoadTable, ...], ...]


@dataclass(frozen=True, slots=True)
class EffortRow:
    """A number of reps with the share of the max for each number left in reserve."""

    reps: str
    shares: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class EffortPage:
    """Reps and reps in reserve to a share of the max, and what each effort feels like."""

    title: str
    lead: str
    corner: str
    over: str
    head: tuple[tuple[str, str], ...]
    rows: tuple[EffortRow, ...]
    note: str
    scale_title: str
    scale_head: tuple[str, str, str]
    scale: tuple[tuple[str, str, str], ...]


def load_section(ctx: Context) -> Section | None:
    """The load tables of the tested lifts; None when there is none."""
    if not ctx.plan.lifts:
        return None
    words = ctx.words
    tables = tuple(load_table(ctx, numbers) for numbers in ctx.plan.lifts)
    page = LoadPages(
        words("loads.title"),
        words("loads.lead"),
        words("loads.share"),
        tuple((exact_share(words, share), share % STRONG == 0) for share in SHARES),
        _paged(tables, ctx.sheet.width - LOADS_SHARE),
    )
    return Section("loads", page.title, "loads", page)


def _paged(tables: tuple[LoadTable, ...], room: float) -> tuple[tuple[LoadTable, ...], ...]:
    """The tables on as few pages as have `room` in mm for them, about as many on each, spread over its width."""
    # One more at a time: with the last count each table has a page, which has room for one.
    for count in range(1, len(tables) + 1):
        each = -(-len(tables) // count)
        pages = [tables[i : i + each] for i in range(0, len(tables), each)]
        if all(sum(one.load + one.side for one in page) <= room for page in pages):
            break
    return tuple(tuple(_spread(page, room)) for page in pages)


def _spread(page: tuple[LoadTable, ...], room: float) -> Iterator[LoadTable]:
    """The tables of a page over its whole width, as wide as each other where none needs more."""
    even, spare = room / len(page), (room - sum(one.load + one.side for one in page)) / len(page)
    alike = all(one.load + one.side <= even for one in page)
    for one in page:
        yield replace(one, side=round(even - one.load if alike else one.side + spare, 2))


def _widest_load(faces: Faces, rows: tuple[LoadRow, ...], points: float) -> float:
    """mm of the widest load; all stand at one point."""
    parts = ([row.whole for row in rows], [row.fraction for row in rows])
    return sum(max(faces.bold.width(one, points) for one in part) for part in parts)


def _side_width(faces: Faces, row: LoadRow, points: float) -> float:
    """mm of plates, which stand close together, and of the word behind them."""
    note = faces.medium.width(f" {row.note}", NOTE_POINTS) if row.note else 0.0
    return faces.close.width(row.side.replace(" + ", "+"), points) + note


def load_table(ctx: Context, numbers: LiftNumbers) -> LoadTable:
    """The table of one lift on the bar it is trained on, rounded as the gym rounds.

    A bodyweight lift shows what hangs from the belt.
    """
    words, ladder = ctx.words, training_ladder(ctx.plan, numbers)
    own = carried(ctx.plan.client, numbers.about)
    # A share that is less than the lifter's own weight leaves nothing to hang on.
    targets = (max(on_bar(numbers.working_max, own, share), NOTHING) for share in SHARES)
    rows = tuple(_load_row(ctx, ladder, target) for target in targets)
    faces, points = ctx.faces, ENLARGED_POINTS if ctx.sheet.enlarged else POINTS
    column = "side" if ladder.plated else "per-hand" if ladder.per_hand else "pieces"
    head = (words("loads.load"), words(f"loads.{column}"))
    return LoadTable(
        movement_title(numbers.movement, words),
        words("loads.basis", working_kg=numbers.working_max, implement=words.implement(ladder.name)),
        head,
        rows,
        max(len(row.fraction) for row in rows),
        round(2 * LOADS_GAP + max(_widest_load(faces, rows, points), faces.medium.width(head[0], NOTE_POINTS)), 2),
        max(FEWEST_MM, *(_side_width(faces, row, points) for row in rows)),
    )


def _load_row(ctx: Context, ladder: Ladder, target: Decimal) -> LoadRow:
    words, gym = ctx.words, ctx.plan.client.gym
    rung = ladder.pick(target, gym.rounding, gym.ties)
    plates = words.plates(side_text(rung))
    over = words("loads.over") if target > ladder.heaviest.mass else ""
    notes = ("" if plates else _note(words, ladder, target, rung), over)
    # In two parts, since a column of loads is read by its decimal points.
    whole, point, digits = words.amount(rung.mass).partition(words("decimal"))
    return LoadRow(whole, point + digits, plates, " ".join(filter(None, notes)))


def _note(words: Words, ladder: Ladder, target: Decimal, rung: Rung) -> str:
    """What stands in the place of plates: empty bar, bodyweight alone, or lightest below the first piece."""
    if ladder.plated:
        return words("side.none")
    if rung.mass == 0:
        return words("loads.bodyweight")
    return words("loads.under") if target < rung.mass and rung == ladder.lightest else ""


def effort_section(ctx: Context) -> Section:
    """The effort table of the client's own equation."""
    words, plan = ctx.words, ctx.plan
    equation = plan.client.equation or DEFAULT
    others = tuple(words.movement(n.movement) for n in plan.lifts if n.equation is not equation)
    key = "effort.others" if others else "effort.note"
    note = words(key, equation=words(f"equation.{equation}"), lifts=", ".join(others))
    page = EffortPage(
        title=words("effort.title"),
        lead=words("effort.lead"),
        corner=words("effort.reps"),
        over=words("effort.over"),
        head=tuple((str(left), words("effort.rpe", rpe_number=rpe_of(left))) for left in range(MOST_RIR + 1)),
        rows=_effort_rows(words, effort_table(equation, MOST_REPS, MOST_RIR, plan.rows)),
        note=note,
        scale_title=words("effort.scale"),
        scale_head=(words("effort.rir"), words("effort.rpe-word"), words("effort.means")),
        scale=tuple((words.number(rir), words.number(rpe_of(rir)), _meaning(words, rir)) for rir in _STEPS),
    )
    return Section("effort", page.title, "effort", page)


_STEPS = tuple(Decimal(half) / 2 for half in (0, 1, 2, 3, 4, 5, 6, 8))
"""Reps in reserve that the scale explains."""


def _effort_rows(words: Words, table: tuple[tuple[Decimal | None, ...], ...]) -> tuple[EffortRow, ...]:
    return tuple(
        EffortRow(str(reps), tuple(exact_share(words, s) if s is not None else words("figure.none") for s in shares))
        for reps, shares in enumerate(table, 1)
    )


def _meaning(words: Words, rir: Decimal) -> str:
    key = f"effort.feels.{str(rir).replace('.', '-')}"
    return words(key)
