"""Makes the pages again whenever a file changes that they come from."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from pathlib import Path

from builder import places
from builder.given import Sources
from builder.intake import load
from builder.work.preview.desk import Desk
from builder.work.preview.page import PagesWanted, PreviewPages, preview
from builder.work.publish.assets import brand_folder, brand_names
from builder.work.publish.choices import Choices

REST = 0.3
"""Seconds between two looks at the files."""
State = tuple[tuple[str, int, int, int], ...]


def watch(
    files: Sequence[Path], choices: Choices, wanted: PagesWanted, desk: Desk, told: Callable[[PreviewPages], None]
) -> None:
    """Goes on until it is interrupted. `told` hears what came of each making; the desk keeps the last good pages."""
    named: tuple[Path, ...] = ()
    before: State | None = None
    while True:
        now = seen((*_written(files), *named, *_looks()))
        if now == before:
            time.sleep(REST)
            continue
        loaded = load(files)
        if loaded.sources is not None and (brought := _brought(loaded.sources)) != named:
            named = brought
            now = seen((*_written(files), *named, *_looks()))
        # It was taken before the work, so a change while the pages are made is not missed.
        before = now
        try:
            shown = preview(loaded, choices, wanted)
        except FileNotFoundError:
            # An editor was putting a file in place just then; what is still not there a moment later is our fault.
            time.sleep(REST)
            shown = preview(load(files), choices, wanted)
        desk.show(shown)
        told(shown)


def seen(files: Sequence[Path]) -> State:
    """What tells each file from itself after a change; one that is not there is told, too."""
    return tuple((str(path), *_facts(path)) for path in files)


def _facts(path: Path) -> tuple[int, int, int]:
    with suppress(OSError):
        state = path.stat()
        return state.st_ino, state.st_size, state.st_mtime_ns
    return 0, 0, 0


def _written(files: Sequence[Path]) -> Iterator[Path]:
    """What was named, and the files of a folder."""
    for path in files:
        yield path
        if path.is_dir():
            with suppress(OSError):
                yield from sorted(one for one in path.iterdir() if one.suffix in (".yaml", ".yml"))


def _brought(sources: Sources) -> tuple[Path, ...]:
    """Logo, fonts and pages of the brand, whether they are there or not."""
    if sources.brand is None:
        return ()
    folder = brand_folder(sources)
    return tuple(folder / name for name in brand_names(sources.brand.brand))


def _looks() -> Iterator[Path]:
    """Templates and style sheets, which somebody may have made their own."""
    yield from sorted(places.templates().rglob("*.j2"))
    yield from sorted(places.styles().rglob("*.css"))
