"""The signs and words that the sessions of a booklet use, each with what it means; none that it does not use."""

from __future__ import annotations

from collections.abc import Iterator

from builder.pages.context import Context
from builder.pages.planview import slot_notes
from builder.pages.sheet import Density
from builder.plan.model import PlannedSlot, WeekKind
from builder.words import Words

Sign = tuple[str, str]
"""A sign as it is printed, and its meaning."""

_NOTED = ("next", "caution", "effort", "pins", "swap", "cue")
"""Kinds of notes that begin with a sign of their own."""


def used_signs(ctx: Context) -> tuple[Sign, ...]:
    """Every sign of the booklet's sessions, in the order in which a reader meets them on a page."""
    words = ctx.words
    found = dict.fromkeys(code for code in _codes(ctx))
    return tuple((_printed(code, words), words(f"guide.sign.{code}")) for code in ORDER if code in found)


ORDER = (
    "milestone", "deload", "about", "record", "open", "by-feel", "superset", "tempo", "rep", "next", "caution",
    "effort", "pins", "swap", "cue",
)  # fmt: skip


def _printed(code: str, words: Words) -> str:
    if code in _NOTED:
        return words(f"mark.{code}")
    return words(f"guide.sign.{code}.as")


def _codes(ctx: Context) -> Iterator[str]:
    seen: set[tuple[object, ...]] = set()
    for week in ctx.plan.weeks:
        if week.kind is WeekKind.DELOAD:
            yield "deload"
        for session in week.sessions:
            if session.milestone:
                yield "milestone"
            for slot in session.slots:
                # A slot is trained week after week with the same notes, which take time to make.
                looks = (slot.movement, slot.kind, slot.drill, slot.superset, len(slot.outcomes), slot.accessory)
                if slot.attempts is None and looks not in seen:
                    seen.add(looks)
                    # At a density that leaves no kind of note out.
                    yield from (note.kind for note in slot_notes(ctx, slot, Density.NORMAL, by_feel=False))
                if slot.attempts is None:
                    yield from _of_slot(slot)
    if any(ctx.words.has(f"caution.session.{code}") for code in ctx.plan.cautions):
        yield "caution"


def _of_slot(slot: PlannedSlot) -> Iterator[str]:
    work = slot.work
    if slot.estimated and any(one.rung for one in work):
        yield "about"
    if any(one.mark for one in work):
        yield "record"
    if any(one.open_ended for one in work):
        yield "open"
    if any(one.rung is None for one in work) and not slot.unloaded:
        yield "by-feel"
    if slot.superset:
        yield "superset"
    if slot.tempo:
        yield "tempo"
    if slot.about.rep and not any(one.length for one in work):
        yield "rep"


__all__ = ["Sign", "used_signs"]
