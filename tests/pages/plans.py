"""Plans that the samples do not have: a session that is too full, one that is nearly empty, files that ask much."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from pages.sample_pages import context, plain_context

from builder.intake import load
from builder.pages.context import Context
from builder.pages.model import Edition, Paper
from builder.pages.theme import theme
from builder.plan import make_plan
from builder.plan.model import PlannedSession, PlannedSlot
from builder.work.texts import load_texts, load_words


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


def odd(paper: Paper, look: str, language: str) -> Context:
    """Long names, long sides, loads with five digits, five tested lifts and six days a week."""
    sources = load([Path(__file__).parent / "odd"]).sources
    assert sources is not None
    plan = make_plan(sources)
    words, longer = load_words(language, plan.unit), load_texts(language)
    return replace(plain_context(plan, paper), theme=theme(look), words=words, texts=longer)
