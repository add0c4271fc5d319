"""`loadleaf start`: a folder with a client, a block and a brand that builds at once."""

from __future__ import annotations

from pathlib import Path

import click

from builder.cli.outcome import tell
from builder.cli.target import folder_guard, write_folder


@click.command(epilog="Example: loadleaf start mine")
@click.argument("folder", type=click.Path(path_type=Path))
def start(folder: Path) -> None:
    """Make FOLDER with example files to change: a client, a block, a brand and a page of the coach's own."""
    from builder import places
    from builder.work.schemas import for_editors

    starter = places.templates() / "starter"
    files = sorted(path for path in starter.rglob("*") if path.is_file())
    real = folder_guard(folder)
    texts = [(path.relative_to(starter).as_posix(), path.read_bytes()) for path in files]
    write_folder(folder, real, [*texts, *for_editors()])
    for path in files:
        tell(folder / path.relative_to(starter))
    tell("The schemas beside them help an editor to complete and check what you type.")
    tell(f"Now change the files, and build the booklet with: loadleaf build {folder}")
