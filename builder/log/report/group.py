"""The report over many lifters: one line for each log, with who trained, who missed sessions, and whose test is due."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from builder.log.model import SessionLog
from builder.log.report.context import ReportContext, document
from builder.log.report.series import BlockLog
from builder.log.report.tables import Table
from builder.pages.model import Booklet, Section

LATELY = timedelta(days=7)
"""How far back training counts as recent, and how far ahead a test as due."""
NAME_LETTERS, FILE_LETTERS, WHY_LETTERS = 40, 60, 160
MOST_NAMES = 12


@dataclass(frozen=True, slots=True)
class Standing:
    """How far a log has come on a day; `quiet` when sessions were due lately and nothing was done.

    `missed` counts sets of fewer reps than planned. `test` is the day of the first planned test without a result, or
    else of the last one with one.
    """

    recent_done: int
    recent_due: int
    done: int
    due: int
    missed: int
    last: date | None
    quiet: bool
    test: date | None
    test_due: bool
    test_done: bool


@dataclass(frozen=True, slots=True)
class GroupPage:
    """The page: sums in sentences, then a line for each log and each file that is none."""

    title: str
    made: str
    sums: tuple[str, ...]
    table: Table
    unread: Table


def standing(block: BlockLog, on: date) -> Standing:
    """Where a log stands on a day."""
    due = [session for session in block.log.sessions if session.on <= on]
    recent = [session for session in due if session.on > on - LATELY]
    done = [session for session in block.log.sessions if _done(session)]
    fresh = any(on - LATELY < session.when <= on for session in done)
    open_tests = [test.planned.on for test in block.log.tests if not test.written]
    tests = [test.when for test in block.log.tests if test.written]
    next_test = min(open_tests, default=None)
    return Standing(
        recent_done=sum(map(_done, recent)),
        recent_due=len(recent),
        done=sum(map(_done, due)),
        due=len(due),
        missed=block.sums.total.missed,
        last=max((session.when for session in done), default=None),
        # By the day that was planned and by the one that was written: who trained a day late is not quiet.
        quiet=bool(recent) and not fresh and not any(map(_done, recent)),
        test=next_test or max(tests, default=None),
        test_due=next_test is not None and next_test <= on + LATELY,
        test_done=next_test is None and bool(tests),
    )


def _done(session: SessionLog) -> bool:
    return any(entry.state == "done" for entry in session.entries)


def make_group(ctx: ReportContext, files: Sequence[str], unread: Sequence[tuple[str, str]]) -> Booklet:
    """The report over the logs of `ctx`, whose file names are `files`; `unread` has other files, and why."""
    words = ctx.words
    lines = sorted(zip(ctx.blocks, files, strict=True), key=lambda line: (_name(ctx, line[0]).casefold(), line[1]))
    title = words("report.group")
    return document(ctx, title, "", (Section("report", title, "report_group", _page(ctx, lines, unread)),))


def _page(ctx: ReportContext, lines: Sequence[tuple[BlockLog, str]], unread: Sequence[tuple[str, str]]) -> GroupPage:
    words = ctx.words
    told = [(_name(ctx, block), file, standing(block, ctx.made_on)) for block, file in lines]
    rows = tuple(_row(ctx, name, file, one) for name, file, one in told)
    lost = tuple((ctx.text(file, FILE_LETTERS), ctx.text(why, WHY_LETTERS)) for file, why in unread)
    head = ("lifter", "file", "recent", "so-far", "missed", "last", "test")
    return GroupPage(
        title=words("report.group"),
        made=words("report.made", day=words.date(ctx.made_on)),
        sums=tuple(_sums(ctx, [(name, one) for name, _, one in told])),
        table=_table(ctx, "group", head, rows),
        unread=_table(ctx, "unread-files", ("file", "why"), lost),
    )


def _table(ctx: ReportContext, kind: str, head: Sequence[str], rows: tuple[tuple[str, ...], ...]) -> Table:
    titles = tuple(ctx.words(f"report.{kind}.head.{name}") for name in head)
    return Table(kind, ctx.words(f"report.{kind}.title"), ctx.words(f"report.{kind}.lead"), titles, rows, "")


def _name(ctx: ReportContext, block: BlockLog) -> str:
    return ctx.text(block.log.manifest.client, NAME_LETTERS)


def _row(ctx: ReportContext, name: str, file: str, one: Standing) -> tuple[str, ...]:
    words, none = ctx.words, ctx.words("report.none")
    return (
        name,
        ctx.text(file, FILE_LETTERS),
        words("report.figure.sessions.value", done=one.recent_done, due=one.recent_due) if one.recent_due else none,
        words("report.figure.sessions.value", done=one.done, due=one.due),
        str(one.missed),
        words.date(one.last) if one.last else none,
        _test(ctx, one),
    )


def _test(ctx: ReportContext, one: Standing) -> str:
    if one.test is None:
        return ctx.words("report.none")
    kind = "done" if one.test_done else "due" if one.test_due else "later"
    return ctx.words(f"report.group.test.{kind}", day=ctx.words.date(one.test))


def _sums(ctx: ReportContext, told: Sequence[tuple[str, Standing]]) -> Iterator[str]:
    words = ctx.words
    asked = [one for _, one in told if one.recent_due]
    yield words("report.group.trained", done=sum(not one.quiet for one in asked), due=len(asked))
    for kind, names in (
        ("quiet", [name for name, one in told if one.quiet]),
        ("test-due", [name for name, one in told if one.test_due]),
    ):
        if names:
            shown, more = ", ".join(names[:MOST_NAMES]), len(names) - MOST_NAMES
            listed = words("report.group.more", names=shown, count=more) if more > 0 else shown
            yield words(f"report.group.{kind}", count=len(names), names=listed)


__all__ = ["Standing", "make_group", "standing"]
