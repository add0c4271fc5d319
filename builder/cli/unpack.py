"""`loadleaf unpack`: the source files out of a booklet."""

from __future__ import annotations

import shlex
import shutil
import tempfile
from pathlib import Path

import click

from builder.cli.outcome import stop_at
from builder.values.problem import Problem


@click.command()
@click.argument("booklet", type=click.Path(path_type=Path))
@click.argument("folder", type=click.Path(path_type=Path))
def unpack(booklet: Path, folder: Path) -> None:
    """Take the source files that BOOKLET carries out into FOLDER, which must be new or empty.

    A booklet that was built with --no-sources has none.
    """
    from builder.pdf.fence import fenced
    from builder.pdf.forms.luggage import unpack

    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        stop_at([Problem("folder-taken", None, f"{folder} exists and is not empty", "Name a new or empty folder.")])
    luggage, problems = fenced(unpack, booklet)
    stop_at(problems)
    assert luggage is not None
    try:
        _put(folder, (*luggage.sources, *luggage.assets))
    except OSError as error:
        fact = f"{folder} cannot be written: {(error.strerror or 'unknown reason').lower()}"
        stop_at([Problem("output", None, fact, "Check the rights of the folder above it, and the free space.")])
    for name, _ in (*luggage.sources, *luggage.assets):
        click.echo(folder / name)
    for name in luggage.left_out:
        click.echo(f"{name} is not in the booklet: put the font file there yourself.", err=True)
    files = " ".join(shlex.quote(str(folder / name)) for name, _ in luggage.sources)
    click.echo(f"Build the booklet again with: loadleaf build {files}")


def _put(folder: Path, files: tuple[tuple[str, bytes], ...]) -> None:
    """All files at once: they are written beside the folder, which then takes their place."""
    with tempfile.TemporaryDirectory(prefix=".unpack-", dir=folder.absolute().parent) as beside:
        made = Path(beside, "made")
        made.mkdir()
        for name, data in files:
            target = made / name
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(data)
        if folder.exists():
            folder.rmdir()
        shutil.move(made, folder)
