"""`loadleaf look`: the shipped look as files, to start one's own from."""

from __future__ import annotations

from pathlib import Path

import click

from builder.cli.options import language_option, theme_option
from builder.cli.outcome import tell
from builder.cli.target import folder_guard, write_folder


@click.command(epilog="Example: loadleaf look ours --theme default")
@click.argument("folder", type=click.Path(path_type=Path))
@theme_option
@language_option
def look(folder: Path, theme: str | None, language: str | None) -> None:
    """Make FOLDER with the style sheets, templates and words of a shipped look, to start your own from."""
    from builder.pages.theme import DEFAULT_THEME
    from builder.work.publish.own import shipped_look
    from builder.work.texts import DEFAULT_LANGUAGE

    files = shipped_look(theme or DEFAULT_THEME, language or DEFAULT_LANGUAGE)
    write_folder(folder, folder_guard(folder), files)
    tell(f"{folder}: {len(files)} files. Change those that you need, and name them in the brand file under look:")
