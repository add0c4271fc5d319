"""`loadleaf unpack`: the source files out of a booklet."""

from __future__ import annotations

import shlex
from pathlib import Path

import click

from builder.cli.outcome import got, say, tell
from builder.cli.target import folder_guard, write_folder


@click.command(epilog="Example: loadleaf unpack booklet.pdf sources")
@click.argument("booklet", type=click.Path(path_type=Path))
@click.argument("folder", type=click.Path(path_type=Path))
def unpack(booklet: Path, folder: Path) -> None:
    """Take the source files that BOOKLET carries out into FOLDER, which must be new or empty.

    A booklet that was built with --no-sources has none.
    """
    from builder.work import unpack as work

    real = folder_guard(folder)
    luggage = got(work.unpack(booklet))
    write_folder(folder, real, (*luggage.sources, *luggage.assets), [booklet])
    for name, _ in (*luggage.sources, *luggage.assets):
        tell(folder / name)
    for name in luggage.left_out:
        say(f"{name} is not in the booklet: put the font file there yourself.", err=True)
    files = " ".join(shlex.quote(str(folder / name)) for name, _ in luggage.sources)
    tell(f"Build the booklet again with: loadleaf build {files}")
