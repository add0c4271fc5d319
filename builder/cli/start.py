"""`loadleaf start`: a folder with a client, a block and a brand that builds at once."""

from __future__ import annotations

import shutil
from pathlib import Path

import click

from builder.cli.outcome import stop_at
from builder.values.problem import Problem


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
def start(folder: Path) -> None:
    """Make FOLDER with example files to change: a client, a block, a brand and a page of the coach's own."""
    from builder import places

    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        stop_at([Problem("folder-taken", None, f"{folder} exists and is not empty", "Name a new or empty folder.")])
    try:
        shutil.copytree(places.templates() / "starter", folder, dirs_exist_ok=True, copy_function=shutil.copyfile)
    except OSError as error:
        fact = f"{folder} cannot be written: {(error.strerror or 'unknown reason').lower()}"
        stop_at([Problem("output", None, fact, "Check the rights of the folder above it.")])
    for path in sorted(p for p in folder.rglob("*") if p.is_file()):
        click.echo(path)
    click.echo(f"Now change the files, and build the booklet with: loadleaf build {folder}")
