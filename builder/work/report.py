"""The report for the coach: what the logs of one lifter add up to, as a short PDF."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from builder.given import Sources
from builder.log.report import Block, ReportContext, make_report, profile_tests, series
from builder.pages.model import Paper
from builder.pdf import text_signs
from builder.pdf.fence import Answer
from builder.values.problem import stops
from builder.work.publish import Choices, Published, dress, printed
from builder.work.read import forms_of, lent_by, worked
from builder.work.texts import DEFAULT_LANGUAGE, languages, load_words


def blocks_of(
    filled: Sequence[Path], originals: Sequence[Path] = (), sources: Sources | None = None
) -> Answer[tuple[Block, ...]]:
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
    blocks: tuple[Block, ...],
    sources: Sources | None,
    choices: Choices,
    stage: Callable[[str], None] = lambda name: None,
) -> Published:
    """The pages of a report through the press; profile and brand of `sources` give its tests and its look."""
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
    pages, absurd = worked(lambda: make_report(context), [Path(block.log.manifest.code) for block in blocks])
    if pages is None:
        return Published(None, None, (*problems, *absurd))
    identifier = f"report-{'-'.join(block.log.manifest.code for block in blocks)}-{pages.paper}"
    done = printed(pages, worn, choices, identifier, (), stage)
    return Published(done.pressed, done.booklet, (*problems, *done.problems))


__all__ = ["blocks_of", "report"]
