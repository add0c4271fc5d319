"""Packs what travels inside the PDF: the manifest always, plan and sources unless the coach keeps them."""

from __future__ import annotations

import hashlib
import json
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from builder.intake import Loaded
from builder.log import manifest as carried
from builder.log.manifest import CarriedFile, Manifest, Protection
from builder.pages.context import Context
from builder.pages.explain import plan_json
from builder.pages.model import Booklet
from builder.pdf import Attached
from builder.plan import PlanIdentity
from builder.values.formats import BOOKLET_FORMAT
from builder.work.publish.assets import Assets

MIMES = {
    ".yaml": "application/yaml",
    ".yml": "application/yaml",
    ".json": "application/json",
    ".md": "text/markdown",
    ".svg": "image/svg+xml",
    ".png": "image/png",
}


@dataclass(frozen=True, slots=True)
class Baggage:
    """The files that a booklet carries besides its manifest: `path` tells where each is unpacked to."""

    sources: tuple[tuple[str, bytes], ...]
    assets: tuple[tuple[str, bytes], ...]
    left_out: tuple[str, ...]


def baggage(loaded: Loaded, assets: Assets, *, whole: bool) -> Baggage:
    """The sources as they were read, with the files that the brand names; nothing at all with `whole` false."""
    if not whole:
        return Baggage((), (), ())
    names = _apart([_portable(Path(name).name) for name, _ in loaded.texts])
    texts = tuple(zip(names, (data for _, data in loaded.texts), strict=True))
    return Baggage(texts, assets.carried, _fonts(loaded))


def _fonts(loaded: Loaded) -> tuple[str, ...]:
    """The brand's font files."""
    assert loaded.sources is not None
    brand = loaded.sources.brand
    fonts = (*brand.brand.text_font, *brand.brand.heading_font) if brand else ()
    return tuple(dict.fromkeys(font.file for font in fonts))


def attachments(
    context: Context, booklet: Booklet, theme: str, bags: Baggage, mine: PlanIdentity, kept: Protection
) -> tuple[Attached, ...]:
    """Everything that goes into the PDF; `mine` is what ties log and plan together.

    What the lifter had done before goes along in a whole copy only: it is a fact of the profile.
    """
    packed = list(_packed(bags))
    manifest = Manifest(
        format=BOOKLET_FORMAT, version=context.version, code=mine.code, digest=mine.digest,
        revision=context.revision, made_on=context.made_on,
        paper=str(booklet.paper), edition=str(booklet.edition), theme=theme, language=booklet.language,
        client=context.plan.client.client.name, title=context.plan.block.block.title, unit=context.plan.unit,
        sources=tuple(_entry(file, path) for kind, path, file in packed if kind == "source"),
        assets=tuple(_entry(file, path) for kind, path, file in packed if kind == "asset"),
        left_out=bags.left_out, protection=kept, effort="rpe" if context.words.rated else "rir",
        table=context.plan.rows,
        lifts=carried.lifts_before(context.plan) if kept.whole else (),
        tests=carried.planned_tests(context.plan),
        recorded=carried.recorded_names(context.plan),
        rows=carried.planned_rows(context.plan),
        fields=carried.field_names(booklet.fields),
    )  # fmt: skip
    note = "What each form field means and what was planned there"
    files = [Attached(carried.MANIFEST, carried.as_bytes(manifest), note, "application/json", "Data")]
    if kept.whole:
        # Made only for copies that carry it; those of a roster seldom do.
        plan = plan_json(context.plan, context.words)
        files.append(Attached(carried.PLAN, _plan_bytes(plan), "The whole plan", "application/json", "Data"))
    return (*files, *(file for _, _, file in packed))


def _plan_bytes(plan: object) -> bytes:
    """A plan's JSON in one spelling."""
    return json.dumps(plan, sort_keys=True, ensure_ascii=False).encode()


def _packed(bags: Baggage) -> Iterator[tuple[str, str, Attached]]:
    """Kind, path and attachment of each file; names are ASCII and unique, and sort in the order of the overlay."""
    every = (*(("source", *pair) for pair in bags.sources), *(("asset", *pair) for pair in bags.assets))
    for number, (kind, path, data) in enumerate(every, 1):
        name = f"{number:02d}-{_ascii(Path(path).name)}"
        mime = MIMES.get(Path(path).suffix.lower(), "application/octet-stream")
        what = "A source of the booklet" if kind == "source" else "A file that the brand names"
        yield kind, path, Attached(name, data, f"{what}: {name}", mime, "Source" if kind == "source" else "Supplement")


def _entry(file: Attached, path: str) -> CarriedFile:
    return CarriedFile(name=file.name, path=path, sha256=hashlib.sha256(file.data).hexdigest())


def _apart(names: list[str]) -> list[str]:
    """File names told apart by a number where two are alike."""
    seen: dict[str, int] = {}
    found = []
    for name in names:
        # As disks see them that take capitals and small letters for the same.
        seen[name.casefold()] = count = seen.get(name.casefold(), 0) + 1
        found.append(name if count == 1 else f"{Path(name).stem}-{count}{Path(name).suffix}")
    return found


def _portable(name: str) -> str:
    """A file name that every system can keep, and that ends as source files do."""
    kept = "".join("-" if c in '\\/:*?"<>|' or not c.isprintable() else c for c in name).strip(". ") or "source"
    return kept if Path(kept).suffix.lower() in (".yaml", ".yml") else f"{kept}.yaml"


def _ascii(name: str) -> str:
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    return re.sub(r"[^A-Za-z0-9._-]+", "-", plain).strip("-") or "file"
