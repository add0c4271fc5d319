"""`loadleaf preview`: a few pages to look at, once or after each change of the files."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from builder.cli.machines import native_libraries
from builder.cli.options import FILES, AnyCase, date_option, language_option, loaded, theme_option
from builder.cli.outcome import WRONG_USAGE, Stopped, say, show, stop_at, tell
from builder.cli.target import guard, write
from builder.values.lists import EDITIONS, LAYOUTS, PAPERS
from builder.values.problem import Problem

if TYPE_CHECKING:
    from builder.work.preview import PagesWanted, PreviewPages
    from builder.work.publish import Choices

PNG_HELP = "Install it with: pip install pypdfium2. Or install Poppler's pdftoppm, or name a .pdf after -o."


@click.command(epilog="Example: loadleaf preview client.yaml block.yaml brand --week 3 --day 1 --watch")
@FILES
@click.option("--week", type=click.IntRange(min=1), help="A session of this week (default: the first that there is).")
@click.option("--day", type=click.IntRange(min=1), help="Of this day of the week (counted from 1).")
@click.option("--page", metavar="NAME", help="No session but the pages of this name, such as cover, week or loads.")
@click.option("-o", "--output", type=click.Path(path_type=Path),
              help="The .pdf or .png to write (default: a PDF with a name from lifter and block).")
@click.option("--watch", is_flag=True, help="Show them in a browser, and make them again after each change.")
@click.option("--port", type=click.IntRange(0, 65535), help="With --watch: the port (default: one that is free).")
@click.option("--paper", type=AnyCase(PAPERS), help="Page size (default: the brand's, or A4).")
@click.option("--layout", type=click.Choice(LAYOUTS), help="Sessions: one page where they fit, or with room "
              "(default: the brand's, or page).")  # fmt: skip
@language_option
@theme_option
@click.option("--edition", type=click.Choice(EDITIONS), help="Which pages (default: the brand's, or personal).")
@click.option("--replace", is_flag=True, help="Overwrite a file of another kind; never filled fields.")
@date_option
def preview(
    files: tuple[Path, ...],
    week: int | None,
    day: int | None,
    page: str | None,
    output: Path | None,
    watch: bool,
    port: int | None,
    replace: bool,
    on: date,
    **look: Any,
) -> None:
    """Make one session of the booklet, or another of its pages, to look at while you write the files."""
    if watch and output is not None:
        raise click.UsageError("--watch shows the pages in a browser and writes no file: leave -o out.")
    if port is not None and not watch:
        raise click.UsageError("--port is for --watch.")
    from builder.pages.model import Edition, Layout, Paper
    from builder.work.preview import PagesWanted
    from builder.work.publish import Choices

    choices = Choices(
        on, Paper(look["paper"]) if look["paper"] else None, look["theme"],
        Edition(look["edition"]) if look["edition"] else None, language=look["language"],
        layout=Layout(look["layout"]) if look["layout"] else None,
    )  # fmt: skip
    wanted = PagesWanted(page, week, day)
    with native_libraries():
        if watch:
            _watched(files, choices, wanted, port or 0)
        else:
            _written(files, choices, wanted, output, replace=replace)


def _written(
    files: Sequence[Path], choices: Choices, wanted: PagesWanted, output: Path | None, *, replace: bool
) -> None:
    """The pages as one file."""
    from builder.pdf.raster import can_draw, picture_of
    from builder.work.preview import preview
    from builder.work.publish import file_name

    drawn = output is not None and output.suffix.lower() == ".png"
    if drawn and not can_draw():
        stop_at([Problem("png-program", None, "there is no program here that draws a PDF as a PNG", PNG_HELP)])
    result = loaded(files)
    assert result.sources is not None and result.sources.client is not None and result.sources.block is not None
    usual = file_name(result.sources.client.client.name, result.sources.block.block.title, "preview")
    inputs = [Path(name) for name, _ in result.texts]
    target = guard(output, usual, inputs, kind="preview", replace=replace)
    shown = preview(result, choices, wanted)
    told = [problem for problem in shown.problems if problem not in result.problems]
    if any(problem.code == "preview-page" for problem in told):
        show(told)
        raise Stopped(WRONG_USAGE)
    stop_at(told)
    data = picture_of(shown.pdf) if drawn else shown.pdf
    assert data is not None
    write(target, data, inputs)
    tell(f"{target.named}: {_facts(shown)}")


def _watched(files: Sequence[Path], choices: Choices, wanted: PagesWanted, port: int) -> None:
    """The pages in a browser, until Ctrl-C."""
    from builder.door import said
    from builder.work.preview import Desk
    from builder.work.preview import watch as watch_files

    try:
        desk = Desk(port)
    except OSError as error:
        fact = f"port {port} of 127.0.0.1 cannot be used: {said(error)}"
        stop_at([Problem("port", None, fact, "Name another one, or leave --port out for one that is free.")])
        raise
    try:
        with desk:
            say(desk.address)
            tell("Open it in a browser. Ctrl-C ends the preview.")
            watch_files(files, choices, wanted, desk, _tell)
    except KeyboardInterrupt:
        tell("The preview has ended.")


def _tell(shown: PreviewPages) -> None:
    show(shown.problems)
    if shown.pdf:
        tell(_facts(shown))


def _facts(shown: PreviewPages) -> str:
    return f"{shown.title}, {'1 page' if shown.pages == 1 else f'{shown.pages} pages'}"
