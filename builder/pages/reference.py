"""What is read once or after the block: words, sources, where the filled booklet goes, and how the next is made."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from builder.pages.coach_pages import Flow, flow
from builder.pages.context import Context
from builder.pages.model import Edition, Section
from builder.words import Words

TOPICS = ("max", "effort", "progress", "deload", "squat", "health")
"""What the sources are for, in the order of the short list."""


@dataclass(frozen=True, slots=True)
class Term:
    """A word with its meaning, or a source."""

    term: str
    text: str


@dataclass(frozen=True, slots=True)
class ReferencePage:
    """Glossary and sources in full, flowing on from one to the next."""

    title: str
    glossary_title: str
    glossary: tuple[Term, ...]
    sources_title: str
    sources_lead: str
    sources: tuple[Term, ...]


@dataclass(frozen=True, slots=True)
class AgainPage:
    """How the next edition is made from the files; the coach's matter."""

    title: str
    again: Flow
    made_title: str
    made: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class AfterPage:
    """What the lifter does when the block is done, and in short what the booklet relies on."""

    title: str
    steps: tuple[str, ...]
    sources_title: str
    sources_lead: str
    sources: tuple[tuple[str, str], ...]
    made: str


def reference_section(ctx: Context) -> Section:
    """Glossary and sources; the coach's copy says besides how each source is known."""
    words, data = ctx.words, ctx.texts.data
    page = ReferencePage(
        words("reference.title"),
        words("glossary.title"),
        tuple(Term(row["term"], row["text"]) for row in _rows(data.get("glossary"), "terms")),
        words("sources.title"),
        words("sources.lead"),
        tuple(Term(row["id"], _told(ctx, row)) for row in _rows(data.get("sources"), "sources")),
    )
    return Section("reference", page.title, "reference", page)


def _told(ctx: Context, row: Mapping[str, str]) -> str:
    if ctx.edition is Edition.COACH and "known" in row:
        return ctx.words("sources.known", source=row["text"], known=row["known"])
    return row["text"]


def again_section(ctx: Context) -> Section:
    """How the next edition is made, and the facts of this one."""
    words = ctx.words
    page = AgainPage(
        words("again.title"),
        flow(words, "regenerate", ctx.texts.markdown["regenerate"]),
        words("made.title"),
        _made(ctx, words),
    )
    return Section("again", page.title, "again", page)


def _made(ctx: Context, words: Words) -> tuple[tuple[str, str], ...]:
    facts = (
        ("code", ctx.code),
        ("revision", str(ctx.revision)),
        ("date", words.date(ctx.made_on)),
        ("version", ctx.version),
        ("sources", ", ".join(ctx.sources)),
    )
    return tuple((words(f"made.{key}"), value) for key, value in facts if value)


def after_section(ctx: Context) -> Section:
    """Where the filled booklet goes, and the sources by author and year."""
    words, contact = ctx.words, ctx.brand.contact
    address = contact.email or contact.web or contact.phone
    send = words("after.send", address=address.removeprefix("https://")) if address else words("after.give")
    rows = _rows(ctx.texts.data.get("sources"), "sources")
    page = AfterPage(
        title=words("after.title"),
        steps=(words("after.test"), send, words("after.next"), words("after.keep")),
        sources_title=words("sources.title"),
        sources_lead=words("sources.short"),
        sources=tuple(
            (words(f"sources.{topic}"), "; ".join(row["short"] for row in rows if row["for"] == topic))
            for topic in TOPICS
        ),
        made=words("cover.code", code=ctx.code, revision=ctx.revision, date=words.date(ctx.made_on)),
    )
    return Section("after", page.title, "after", page)


def _rows(data: object, key: str) -> tuple[Mapping[str, str], ...]:
    """The entries of a list of mappings in a text file; none where there is no such list."""
    rows = data.get(key) if isinstance(data, Mapping) else None
    return tuple(rows) if isinstance(rows, Sequence) else ()
