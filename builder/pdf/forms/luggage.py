"""The source files that a booklet carries, taken out again; a stranger's file may not choose where they go."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from builder.log.manifest import CarriedFile
from builder.pdf.forms.form import manifest_of
from builder.pdf.forms.found import Refused, attached, opened
from builder.values.problem import Problem

ENDINGS = (".yaml", ".yml", ".md", ".svg", ".png")
MOST_FILES = 60


@dataclass(frozen=True, slots=True)
class Luggage:
    """Path and bytes of each file: the sources in the order of their overlay, then what the brand names."""

    sources: tuple[tuple[str, bytes], ...]
    assets: tuple[tuple[str, bytes], ...]
    left_out: tuple[str, ...]


def unpack(path: Path) -> tuple[Luggage | None, tuple[Problem, ...]]:
    """What a booklet carries, each file checked against the digest that the booklet names, or why it cannot be had."""
    try:
        with opened(path) as pdf:
            manifest = manifest_of(pdf, path)
            if not manifest.sources:
                help_ = "It is a copy to hand over: build the next one from the coach's own files."
                raise Refused("pdf-bare", f"{path} carries no source files", help_)
            if len(manifest.sources) + len(manifest.assets) > MOST_FILES:
                raise Refused("pdf-large", f"{path} carries more than {MOST_FILES} files", "No booklet of ours does.")
            sources = tuple((_safe(file, path), _bytes(pdf, file, path)) for file in manifest.sources)
            assets = tuple((_safe(file, path), _bytes(pdf, file, path)) for file in manifest.assets)
    except Refused as refused:
        return None, (refused.problem,)
    # On many disks names that differ in capitals alone are one, and the second file would go over the first.
    paths = [name.casefold() for name, _ in (*sources, *assets)]
    if len(set(paths)) < len(paths):
        fact = f"{path} carries two files of one name"
        return None, (Problem("pdf-damaged", None, fact, "Take the files from where the booklet was made."),)
    return Luggage(sources, assets, manifest.left_out), ()


def _safe(file: CarriedFile, path: Path) -> str:
    """The path of a carried file when it stays within its folder and is of a kind that booklets carry."""
    parts = PurePosixPath(file.path).parts
    # Parts of dots lead out, and Windows drops dots and spaces at an end; the signs are its drives, streams and
    # patterns.
    plain = all(part.strip(". ") and not set(part) & set('\\:*?"<>|\0') and part.isprintable() for part in parts)
    if not parts or file.path.startswith("/") or not plain or not file.path.lower().endswith(ENDINGS):
        fact = f"{path} carries a file that may not be unpacked: {file.path[:80]!r}"
        raise Refused("pdf-damaged", fact, "It was not made by loadleaf.")
    return str(PurePosixPath(*parts))


def _bytes(pdf: object, file: CarriedFile, path: Path) -> bytes:
    data = attached(pdf, file.name)
    if data is None or hashlib.sha256(data).hexdigest() != file.sha256:
        fact = f"{path} does not carry {file.path} as it was when the booklet was made"
        raise Refused("pdf-damaged", fact, "Take the files from where the booklet was made.")
    return data
