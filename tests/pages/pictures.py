"""Chosen pages of each pressed booklet as small pictures, in colour and in grey, for looking at after a run."""

from __future__ import annotations

import os
from pathlib import Path

from pages.layout import Book

DPI = 60
FOLDER = Path(os.environ.get("LOADLEAF_PICTURES") or Path(__file__).parents[2] / ".pictures")
SESSIONS = ("session", "session_log", "session_page")
"""Templates of a session's plan: on the left of its log, beside it, or on one page with it."""


def chosen(book: Book) -> dict[str, int]:
    """What is looked at, with the page, from 1, that shows it; a booklet without a test has no picture of one."""
    first: dict[str, int] = {}
    for page, sections in sorted(book.starts.items()):
        for section in sections:
            first.setdefault(section.template, page)
            if section.tone == "deload" and section.code:
                first.setdefault("deload", page)
    busy = max((leaf for leaf in book.leaves.pages if book.on(leaf.number)[0].template in SESSIONS),
               key=lambda leaf: len(leaf.text)).number  # fmt: skip
    facing = {"log": busy + 1} if book.on(busy)[0].template == "session" else {}
    wanted = ("cover", "numbers", "week", "deload", "test_lift", "records")
    pages = {name: first[name] for name in wanted if name in first}
    return {**pages, "busy": busy, **facing, "last": len(book.leaves.pages)}


def keep(book: Book, name: str) -> list[Path]:
    """Write the pictures of a booklet and say where they are."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    paths = []
    for what, page in chosen(book).items():
        for colour in ("colour", "grey"):
            path = FOLDER / f"{name}-{what}-{colour}.png"
            book.leaves.picture(page - 1, DPI, grey=colour == "grey").save(path)
            paths.append(path)
    return paths
