"""`loadleaf report`: what filled booklets add up to, as a short PDF for the coach."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from builder.cli.doctor import native_libraries
from builder.cli.options import PAPERS, date_option, language_option, loaded
from builder.cli.outcome import stage, stop_at
from builder.cli.read import read_forms
from builder.cli.target import guard, write

if TYPE_CHECKING:
    from builder.given import Sources
    from builder.log.report import Block
    from builder.work.publish import Choices, Published


@click.command()
@click.argument("filled", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--client", "clients", multiple=True, type=click.Path(path_type=Path),
              help="The profile: its dated tests go into the charts. A brand beside it is used.")
@click.option("--brand", "brands", multiple=True, type=click.Path(path_type=Path),
              help="A brand, for the look of the pages.")
@click.option("-o", "--output", type=click.Path(path_type=Path),
              help="The PDF to write (default: a name from the lifter).")
@click.option("--paper", type=click.Choice(PAPERS, case_sensitive=False),
              help="Page size (default: the brand's, or A4).")
@language_option
@click.option("--theme", help="Look of the pages (default: the brand's).")
@click.option("--replace", is_flag=True, help="Overwrite a PDF even if it holds filled fields.")
@date_option
@click.pass_obj
def report(
    verbose: bool,
    filled: tuple[Path, ...],
    clients: tuple[Path, ...],
    brands: tuple[Path, ...],
    output: Path | None,
    paper: str | None,
    language: str | None,
    theme: str | None,
    replace: bool,
    on: date,
) -> None:
    """Make a short PDF for the coach from FILLED: booklets of one lifter that were filled in.

    Copies of one booklet merge; booklets of several blocks stand one after the other. A cell that cannot be read is a
    warning, stands in the report, and counts for nothing.
    """
    from builder.pages.model import Paper
    from builder.work.publish import Choices, file_name

    stage(verbose, "sources")
    sources = _sources(clients, brands)
    stage(verbose, "log")
    blocks = _blocks(filled, sources)
    target = output or Path(file_name(blocks[-1].log.manifest.client, "report"))
    guard(target, [*filled, *clients, *brands], replace=replace)
    choices = Choices(on, Paper(paper) if paper else None, theme, language=language)
    with native_libraries():
        done = _printed(blocks, sources, choices, verbose)
    stop_at(done.problems)
    assert done.pressed is not None
    write(target, done.pressed.pdf)
    pages = "1 page" if done.pressed.pages == 1 else f"{done.pressed.pages} pages"
    click.echo(f"{target}: {pages}, {len(done.pressed.pdf) / 1024:.0f} KiB")
    _tell_unread(sum(len(block.unread) for block in blocks))


def _sources(clients: Sequence[Path], brands: Sequence[Path]) -> Sources | None:
    """The profile and the brand, None when neither was named; the command ends when they have problems."""
    if not (clients or brands):
        return None
    need = [kind for kind, paths in (("client", clients), ("brand", brands)) if paths]
    return loaded([*clients, *brands], need).sources


def _blocks(filled: Sequence[Path], sources: Sources | None) -> tuple[Block, ...]:
    """The logs in order; unclear cells are shown as warnings, and what makes no report ends the command."""
    from builder.log.report import series

    client = sources.client if sources else None
    blocks, problems = series(read_forms(filled), client.client.name if client else None)
    stop_at(problems)
    return blocks


def _printed(blocks: tuple[Block, ...], sources: Sources | None, choices: Choices, verbose: bool) -> Published:
    """The report through the press, or the problems that stopped it."""
    from builder.log.report import ReportContext, make_report, profile_tests
    from builder.pages.model import Paper
    from builder.pdf import text_signs
    from builder.work.publish import dress, printed
    from builder.work.texts import DEFAULT_LANGUAGE, languages, load_words

    worn, problems = dress(sources, choices)
    stop_at(problems)
    newest = blocks[-1].log.manifest
    own = newest.language if newest.language in languages() else DEFAULT_LANGUAGE
    tests = profile_tests(sources.client, sources.movements) if sources and sources.client else ()
    stage(verbose, "report")
    context = ReportContext(
        blocks, tests, load_words(worn.language or own, newest.unit), worn.paper or Paper.A4,
        worn.theme, worn.look.accent, worn.brand, worn.assets.logo, choices.on, text_signs(),
    )  # fmt: skip
    pages = make_report(context)
    identifier = f"report-{'-'.join(block.log.manifest.code for block in blocks)}-{pages.paper}"
    return printed(pages, worn, choices, identifier, (), lambda name: stage(verbose, name))


def _tell_unread(count: int) -> None:
    if count:
        number = "1 cell is" if count == 1 else f"{count} cells are"
        rest = "It counts for nothing" if count == 1 else "They count for nothing"
        click.echo(f"{number} not clear. {rest}, and the report lists {'it' if count == 1 else 'them'}.", err=True)
