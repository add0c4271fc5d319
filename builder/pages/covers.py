"""The cover, and the contents page behind it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from builder.pages.context import Context
from builder.pages.model import Edition, Section
from builder.pages.names import session_anchor, week_anchor

LONG_TITLE, LONG_WORD = 32, 13
"""Letters in a title, and in its longest word, that the largest type has room for on every paper and layout."""


@dataclass(frozen=True, slots=True)
class Cover:
    """What stands on the cover. `logo` is an address for the typesetter, `long` a title that needs smaller type."""

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
    facts: tuple[tuple[str, str], ...]
    contact: tuple[str, ...]
    copyright: str
    edition: str
    code: str


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the contents; `days` are links to the sessions of a week."""

    anchor: str
    title: str
    level: int
    tone: str
    days: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Contents:
    """The contents page."""

    title: str
    entries: tuple[Entry, ...]


def cover_section(ctx: Context) -> Section:
    """The first page."""
    words, plan, brand = ctx.words, ctx.plan, ctx.brand
    head, sessions = plan.block.block, plan.sessions()
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
        long=len(head.title) > LONG_TITLE or max(map(len, head.title.split())) > LONG_WORD,
        subtitle=words("cover.subtitle", count=head.weeks),
        made_for=words("cover.for"),
        lifter=plan.client.client.name,
        facts=facts,
        contact=tuple(filter(None, (brand.coach, brand.contact.web, brand.contact.email, brand.contact.phone))),
        copyright=brand.legal.copyright or "",
        edition="" if ctx.edition is Edition.PERSONAL else words(f"edition.{ctx.edition}"),
        code=words("cover.code", code=ctx.code, revision=ctx.revision, date=words.date(ctx.made_on)),
    )
    return Section("cover", words("cover.outline"), "cover", data, listed=False)


def contents_section(ctx: Context, sections: Sequence[Section]) -> Section:
    """Every listed section on one page: a line for each part and week, the days of a week beside it."""
    data = Contents(ctx.words("contents.title"), tuple(_entries(ctx, sections)))
    return Section("contents", data.title, "contents", data, running=data.title)


def _entries(ctx: Context, sections: Sequence[Section]) -> Iterator[Entry]:
    days: dict[str, list[tuple[str, str]]] = {}
    for session in ctx.plan.sessions():
        label = ctx.words("contents.day", weekday=ctx.words.weekday(session.on), day=session.on.day)
        days.setdefault(week_anchor(session.week), []).append((session_anchor(session), label))
    for section in sections:
        if section.listed and section.level < 3:
            mine = tuple(days.get(section.anchor, ())) if section.template == "week" else ()
            yield Entry(section.anchor, section.title, section.level, section.tone, mine)
