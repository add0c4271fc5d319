"""Filled booklets of one lifter, in the order of their days: each a log with its sums and its unclear cells."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import combinations

from builder.log import Log, Progress, merge, progress, read_log
from builder.log.filled import Form
from builder.values import fields
from builder.values.fields import Field
from builder.values.problem import Cell, Problem, Severity


@dataclass(frozen=True, slots=True)
class Unread:
    """A cell that counts for nothing, with the texts that stand in it: none where it should not be blank."""

    field: Field
    page: int
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BlockLog:
    """One booklet's log, merged from all of its copies."""

    log: Log
    sums: Progress
    unread: tuple[Unread, ...]

    @property
    def first(self) -> date:
        """The first day that was planned; that of the making where none was."""
        return min(self._days(), default=self.log.manifest.made_on)

    @property
    def last(self) -> date:
        """The last day that was planned, tests included."""
        return max(self._days(), default=self.log.manifest.made_on)

    @property
    def written(self) -> bool:
        """Whether there is anything to report on."""
        log = self.log
        sessions = any(s.written or s.note or s.notes for s in log.sessions)
        return bool(sessions or any(test.written for test in log.tests) or log.note or self.unread)

    def _days(self) -> list[date]:
        manifest = self.log.manifest
        return [*(row.on for row in manifest.rows), *(test.on for test in manifest.tests)]


def series(forms: Sequence[Form], client: str | None) -> tuple[tuple[BlockLog, ...], tuple[Problem, ...]]:
    """The blocks that the forms tell, first things first; none where a problem among the others is an error.

    Copies of one booklet merge. Each cell that is not clear is a warning. Errors: booklets of several lifters, or of
    another one than `client` when it is given, and two booklets that both tell of the same session.
    """
    told = [block_of(group) for group in copies(forms)]
    blocks = sorted((block for block, _ in told), key=lambda block: (block.first, block.last))
    # A report of most of the log is worth having; what could not be read stands in a table of its own.
    unclear = [replace(problem, severity=Severity.WARNING) for _, problems in told for problem in problems]
    errors = (*_strangers(forms, client), *_twice(blocks))
    return () if errors else tuple(blocks), (*unclear, *errors)


def copies(forms: Sequence[Form]) -> tuple[tuple[Form, ...], ...]:
    """The forms of each booklet, in the order of the first of each."""
    return tuple(
        tuple(form for form in forms if form.manifest.digest == code)
        for code in dict.fromkeys(form.manifest.digest for form in forms)
    )


def block_of(forms: Sequence[Form]) -> tuple[BlockLog, tuple[Problem, ...]]:
    """The block that copies of one booklet tell; each cell that is not clear is a problem."""
    answers, conflicts = merge(forms)
    assert answers is not None, "forms of one digest merge"
    log, unclear = read_log(answers)
    problems = (*conflicts, *unclear)
    return BlockLog(log, progress(log), tuple(_unread(forms, problems))), problems


def _unread(forms: Sequence[Form], problems: Iterable[Problem]) -> Iterator[Unread]:
    meant = {name for form in forms for name in form.manifest.fields}
    cells = {p.span.field: p.span for p in problems if isinstance(p.span, Cell) and p.span.field in meant}
    for name, cell in cells.items():
        texts = dict.fromkeys(value.text for form in forms for value in form.values if value.name == name)
        yield Unread(fields.parse(name), cell.page, tuple(texts))


def _strangers(forms: Sequence[Form], client: str | None) -> Iterator[Problem]:
    """A problem for each file that is not about the same person as the profile, or else the first file."""
    name = client or forms[0].manifest.client
    whose = "the profile is" if client else f"{forms[0].file} is"
    for form in forms:
        if form.manifest.client != name:
            fact = f'{form.file} is the booklet of "{form.manifest.client}", and {whose} that of "{name}"'
            yield Problem("report-other", None, fact, "A report is about one lifter: make one for each.")


def _twice(blocks: Sequence[BlockLog]) -> Iterator[Problem]:
    """A problem for each pair of booklets with entries for a session on the same planned day."""
    for one, other in combinations(blocks, 2):
        # A booklet that was made half-way holds the entries of the one before it.
        shared = _written(one) & _written(other)
        if shared:
            mine, its = one.log.manifest, other.log.manifest
            fact = f"the booklets {mine.code} and {its.code} both tell of the session planned for {min(shared)}"
            help_ = "Entries that moved into a newer booklet would count twice: leave the older one out."
            yield Problem("report-twice", None, fact, help_)


def _written(block: BlockLog) -> set[date]:
    return {session.on for session in block.log.sessions if session.written}
