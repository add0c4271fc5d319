"""Makes the booklet: gathers the sections of an edition in their order and checks the form fields."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from builder.pages.back import back_sections
from builder.pages.context import Context
from builder.pages.covers import back_cover_section, contents_section, cover_section
from builder.pages.front import front_sections, handbook_sections
from builder.pages.model import Booklet, Edition, Section
from builder.pages.sessions import session_sections, shared_page
from builder.pages.testday import test_sections
from builder.pages.weeks import week_sections
from builder.plan.model import PlannedWeek


def make_booklet(ctx: Context) -> Booklet:
    """The booklet of one client in the context's edition; pure. ValueError when two fields or anchors share a name."""
    sections = tuple(_sections(ctx))
    fields = tuple(spec for section in sections for spec in section.fields)
    # Of two fields of one name, programs fill the one and read the other: a value would be lost.
    _unique("form fields", [spec.name for spec in fields])
    _unique("anchors", [section.anchor for section in sections])
    head, words = ctx.plan.block.block, ctx.words
    return Booklet(
        title=words("booklet.title", block=head.title, lifter=ctx.plan.client.client.name),
        author=ctx.brand.coach or ctx.brand.name,
        subject=words("booklet.subject", count=head.weeks, brand=ctx.brand.name),
        brand=ctx.brand.name,
        language=words.language,
        paper=ctx.paper,
        edition=ctx.edition,
        theme=ctx.theme.name,
        facing=ctx.sheet.facing,
        zoom=ctx.sheet.zoom,
        code=ctx.code,
        sections=sections,
        fields=fields,
        stamp=_stamp(ctx),
    )


def _stamp(ctx: Context) -> str:
    """Whose copy it is, "" for a copy of nobody."""
    told = {"buyer": ctx.buyer, "order": ctx.order}
    known = [name for name, value in told.items() if value]
    return ctx.words(f"stamp.{'-'.join(known)}", **told) if known else ""


def _sections(ctx: Context) -> Iterator[Section]:
    if ctx.edition is Edition.HANDBOOK:
        texts = handbook_sections(ctx)
        yield from (cover_section(ctx), contents_section(ctx, texts), *texts, back_cover_section(ctx))
        return
    if not ctx.edition.whole:
        cover = (cover_section(ctx),) if ctx.edition is Edition.POCKET else ()
        yield from cover
        for section in _training(ctx):
            # Without parts and weeks above them, sessions are the next headings after the cover's.
            yield replace(section, level=1 + len(cover))
        return
    body = (*front_sections(ctx), *_training(ctx), *back_sections(ctx))
    yield cover_section(ctx)
    yield contents_section(ctx, body)
    yield from body
    yield back_cover_section(ctx)


def _training(ctx: Context) -> Iterator[Section]:
    """Every week: its opener (in the whole booklet only), then its sessions."""
    for index, week in enumerate(ctx.plan.weeks):
        sessions = tuple(_sessions(ctx, week))
        if ctx.edition.whole:
            yield from week_sections(ctx, index, faced=any(section.side == "left" for section in sessions[:1]))
        yield from sessions


def _sessions(ctx: Context, week: PlannedWeek) -> Iterator[Section]:
    """Every session of a week in order; in a lighter week two share a page where they fit."""
    waiting = week.sessions
    while waiting:
        tests = test_sections(ctx, week, waiting[0])
        both = () if tests else shared_page(ctx, week, waiting[:2])
        yield from both or (*tests, *session_sections(ctx, week, waiting[0]))
        waiting = waiting[2 if both else 1 :]


def _unique(what: str, names: list[str]) -> None:
    twice = [name for name, count in Counter(names).items() if count > 1]
    if twice:
        raise ValueError(f"{what} with one name: {', '.join(twice)}")
