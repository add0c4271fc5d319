"""Plans that the samples do not have: a session that is too full, one that is nearly empty."""

from __future__ import annotations

from dataclasses import replace

from booklet.sample_pages import context

from builder.booklet.context import Context
from builder.booklet.model import Edition, Paper
from builder.plan.model import PlannedSession, PlannedSlot


def with_slots(paper: Paper, slots: tuple[PlannedSlot, ...], edition: Edition = Edition.PERSONAL) -> Context:
    """The advanced sample cut down to one week with one session of the given slots."""
    ctx = context("advanced", paper)
    week = ctx.plan.weeks[0]
    session: PlannedSession = replace(week.sessions[0], slots=slots, note=None)
    plan = replace(ctx.plan, weeks=(replace(week, sessions=(session,)),))
    return replace(ctx, plan=plan, edition=edition)


def busy(paper: Paper) -> Context:
    """Ten slots with 36 working sets."""
    days = context("advanced", paper).plan.weeks[0].sessions
    mains = (*days[0].slots[:3], *days[1].slots[:2], *days[3].slots[:5])
    slots = tuple(replace(slot, superset=None) for slot in mains)
    more = 36 - sum(len(slot.work) for slot in slots)
    last = slots[-1]
    return with_slots(paper, (*slots[:-1], replace(last, sets=(*last.sets, *(last.work[-1:] * more)))))


def sparse(paper: Paper) -> Context:
    """Two slots."""
    return with_slots(paper, context("advanced", paper).plan.weeks[0].sessions[1].slots[:2])
