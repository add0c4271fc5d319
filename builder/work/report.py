"""The report for the coach: what the logs of one lifter add up to, as a short PDF."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from builder.given import Sources
from builder.log.filled import Form
from builder.log.report import (
    BlockLog,
    ReportContext,
    block_of,
    copies,
    make_group,
    make_report,
    profile_tests,
    series,
)
from builder.pages.model import Booklet, Paper
from builder.pdf import UnreadablePdfError, inside, text_signs
from builder.pdf.fence import Answer
from builder.values.problem import Problem, Severity, stops
from builder.work.publish import Choices, Published, dress, printed
from builder.work.read import forms_of, lent_by, worked
from builder.work.texts import DEFAULT_LANGUAGE, languages, load_words

MOST_FILES = 500
"""PDFs of a report over many lifters."""


def blocks_of(
    filled: Sequence[Path], originals: Sequence[Path] = (), sources: Sources | None = None
) -> Answer[tuple[BlockLog, ...]]:
    """The logs of one lifter, block after block; copies of one booklet merge. With a profile they must be its own."""
    lent, strange = lent_by(originals)
    if lent is None:
        return None, strange
    forms, problems = forms_of(filled, lent)
    if forms is None:
        return None, problems
    name = sources.client.client.name if sources and sources.client else None
    found, absurd = worked(lambda: series(forms, name), filled)
    blocks, more = found or (None, absurd)
    return blocks, (*strange, *problems, *more)


def report(
    blocks: tuple[BlockLog, ...],
    sources: Sources | None,
    choices: Choices,
    stage: Callable[[str], None] = lambda name: None,
) -> Published:
    """The pages of a report through the press; profile and brand of `sources` give its tests and its look."""
    identifier = f"report-{'-'.join(block.log.manifest.code for block in blocks)}"
    return _pressed(blocks, sources, choices, make_report, identifier, stage)


@dataclass(frozen=True, slots=True)
class GroupFiles:
    """The logs of many lifters with the names of their files; the files that cannot be read, with why; the others."""

    blocks: tuple[BlockLog, ...]
    files: tuple[str, ...]
    unread: tuple[tuple[str, str], ...]
    paths: tuple[Path, ...]


def group_of(folders: Sequence[Path], originals: Sequence[Path] = ()) -> Answer[GroupFiles]:
    """The log of every PDF in some folders, not below them. One that cannot be read is a warning, and the rest is done.

    Reports, print sheets and intake forms of ours are no logs and are passed over.
    """
    lent, strange = lent_by(originals)
    if lent is None:
        return None, strange
    try:
        paths = [path for folder in folders for path in sorted(folder.iterdir()) if path.suffix.lower() == ".pdf"]
    except OSError as error:
        fact = f"{error.filename} cannot be read: {(error.strerror or 'unknown reason').lower()}"
        return None, (Problem("unreadable", None, fact, "Check the name and the rights of the folder."),)
    if len(paths) > MOST_FILES:
        fact = f"there are more than {MOST_FILES} PDFs in {', '.join(map(str, folders))}"
        return None, (Problem("too-many-files", None, fact, "Part them into several folders."),)
    forms, unread, problems = list[Form](), list[tuple[str, str]](), [*strange]
    for path in paths:
        found, wrong = forms_of([path], lent)
        # Asked only of what is no log, since the file is opened once more for it.
        if found is None and _of_another_kind(path):
            continue
        forms += found or ()
        problems += [replace(problem, severity=Severity.WARNING) for problem in wrong]
        unread += [(path.name, wrong[0].fact)] if found is None else []
    blocks, files = list[BlockLog](), list[str]()
    for same in copies(forms):
        names = ", ".join(Path(form.file).name for form in same)
        told, absurd = worked(partial(block_of, same), [Path(form.file) for form in same])
        block, unclear = told or (None, absurd)
        problems += [replace(problem, severity=Severity.WARNING) for problem in unclear]
        if block is None:
            unread.append((names, absurd[0].fact))
        else:
            blocks.append(block)
            files.append(names)
    if blocks:
        read = tuple(dict.fromkeys(Path(form.file) for form in forms))
        return GroupFiles(tuple(blocks), tuple(files), tuple(unread), read), tuple(problems)
    fact = f"no filled booklet can be read in {', '.join(map(str, folders))}"
    return None, (*problems, Problem("report-empty", None, fact, "Name the folder where the filled booklets lie."))


def _of_another_kind(path: Path) -> bool:
    try:
        return inside(path).kind not in ("", "booklet")
    except (OSError, UnreadablePdfError):
        return False


def report_group(
    group: GroupFiles, sources: Sources | None, choices: Choices, stage: Callable[[str], None] = lambda name: None
) -> Published:
    """One page over all logs of a group."""
    codes = "-".join(sorted(block.log.manifest.code for block in group.blocks))
    # Digested, since a group may have hundreds of codes.
    identifier = f"report-{hashlib.sha256(codes.encode()).hexdigest()[:16]}"
    made = partial(make_group, files=group.files, unread=group.unread)
    return _pressed(group.blocks, sources, choices, made, identifier, stage)


def _pressed(
    blocks: tuple[BlockLog, ...],
    sources: Sources | None,
    choices: Choices,
    make: Callable[[ReportContext], Booklet],
    identifier: str,
    stage: Callable[[str], None],
) -> Published:
    worn, problems = dress(sources, choices)
    if stops(problems):
        return Published(None, None, problems)
    newest = blocks[-1].log.manifest
    own = newest.language if newest.language in languages() else DEFAULT_LANGUAGE
    tests = profile_tests(sources.client, sources.movements) if sources and sources.client else ()
    stage("report")
    context = ReportContext(
        blocks, tests, load_words(worn.language or own, newest.unit), worn.paper or Paper.A4,
        worn.theme, worn.look.accent, worn.brand, worn.assets.logo, choices.on, text_signs(),
    )  # fmt: skip
    pages, absurd = worked(lambda: make(context), [Path(block.log.manifest.code) for block in blocks])
    if pages is None:
        return Published(None, None, (*problems, *absurd))
    done = printed(pages, worn, choices, f"{identifier}-{pages.paper}", (), stage)
    return Published(done.pressed, done.booklet, (*problems, *done.problems))


__all__ = ["GroupFiles", "blocks_of", "group_of", "report", "report_group"]
