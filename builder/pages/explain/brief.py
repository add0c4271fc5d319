"""A plan at a glance for the terminal: lifts down and weeks across, or one lift session by session."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from builder.pages.setlines import effort_text, load_text, reps_text
from builder.plan import Plan, PlannedSet, PlannedSlot, PlannedWeek
from builder.words import Words

WIDE = 100
GAP = "  "


def brief_text(plan: Plan, words: Words, width: int = WIDE) -> Iterator[str]:
    """A line for each movement with its heaviest set of each week; as many weeks side by side as `width` has room."""
    names = list(dict.fromkeys(_key(slot) for session in plan.sessions() for slot in session.slots))
    labels = {key: _label(key, words) for key in names}
    first = max(map(len, labels.values()), default=0)
    heads = [words(f"explain.brief.{week.kind}", number=week.number) for week in plan.weeks]
    cells = {key: [_cell(week, key, words) for week in plan.weeks] for key in names}
    widths = [max(len(head), *(len(cells[key][i]) for key in names), 1) for i, head in enumerate(heads)]
    for part in _parts(widths, width - first):
        yield _row("", [heads[i] for i in part], [widths[i] for i in part], first)
        for key in names:
            if any(cells[key][i] for i in part):
                yield _row(labels[key], [cells[key][i] for i in part], [widths[i] for i in part], first)
        yield ""


def lift_text(plan: Plan, words: Words, movement: str) -> Iterator[str]:
    """Every set of one movement, of its drills and of what is loaded from it, a line for each session."""
    for session in plan.sessions():
        for slot in session.slots:
            if movement in (slot.movement, slot.lift):
                place = words("explain.lift.at", week=session.week, date=words.day(session.on))
                yield f"{place}{GAP}{_label(_key(slot), words)}: {sets_text(slot, words)}"


def sets_text(slot: PlannedSlot, words: Words) -> str:
    """The working sets in one line: "1 × 3 × 140 kg 1 RIR, 3 × 5 × 120 kg"."""
    told = (_set(slot, one, words) for one in slot.work)
    return ", ".join(f"{len(list(same))} × {text}" for text, same in groupby(told))


def _set(slot: PlannedSlot, one: PlannedSet, words: Words) -> str:
    load = load_text(slot, one.rung, words) or ("" if slot.unloaded else words("explain.by-feel"))
    unit = f" {words.unit}" if one.rung is not None and load[-1:].isdigit() else ""
    effort = effort_text(one, words)
    done = " × ".join(filter(None, (reps_text(one, words), load)))
    return f"{done}{unit}{' ' if effort else ''}{effort}"


def _key(slot: PlannedSlot) -> tuple[str, str]:
    return slot.movement, slot.drill or ""


def _label(key: tuple[str, str], words: Words) -> str:
    movement, drill = key
    name = words.movement(movement)
    return f"{words('drill.' + drill.replace(' ', '-'))} ({name})" if drill else name


def _cell(week: PlannedWeek, key: tuple[str, str], words: Words) -> str:
    """The heaviest working set of a movement in a week; "" where it is not trained."""
    done = [
        (slot, one) for session in week.sessions for slot in session.slots if _key(slot) == key for one in slot.work
    ]
    if not done:
        return ""
    slot, top = max(done, key=lambda each: (each[1].rung.mass if each[1].rung else 0, each[1].reps))
    load, reps = load_text(slot, top.rung, words), reps_text(top, words)
    return reps if slot.unloaded and top.length else f"{load or '~'}×{reps}"


def _parts(widths: Sequence[int], room: int) -> Iterator[list[int]]:
    """The places of the columns that fit beside each other, at least one at a time."""
    part, used = list[int](), 0
    for place, wide in enumerate(widths):
        if part and used + wide + len(GAP) > room:
            yield part
            part, used = [], 0
        part.append(place)
        used += wide + len(GAP)
    if part:
        yield part


def _row(label: str, cells: Sequence[str], widths: Sequence[int], first: int) -> str:
    shown = (cell.rjust(wide) for cell, wide in zip(cells, widths, strict=True))
    return (label.ljust(first) + GAP + GAP.join(shown)).rstrip()
