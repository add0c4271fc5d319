"""What travels inside a PDF, told in plain words: each file, and each fact about a person."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from builder.given import Client, Sources
from builder.intake import understood
from builder.log import manifest as carried
from builder.log.manifest import Manifest
from builder.pdf.fence import Answer, fenced
from builder.pdf.forms.form import manifest_in
from builder.pdf.forms.found import HeldField, Refused, attached, leaves, opened
from builder.values import fields
from builder.values.fields import AnswerField, SessionField, SetField, SignField, WeekField
from builder.values.problem import Problem
from builder.values.quantity import plain

FACTS = ("name", "copy", "loads", "rules", "tests", "body", "health", "gym", "entries")
"""The kinds of facts, in the order in which they are told."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that whoever has the file can find in it; `kind` is one of FACTS."""

    kind: str
    text: str


@dataclass(frozen=True, slots=True)
class Carries:
    """The files in a PDF with what each is, and the facts that these, its form and its own data hold."""

    files: tuple[tuple[str, str], ...]
    facts: tuple[Fact, ...]

    @property
    def kinds(self) -> frozenset[str]:
        """Which kinds of facts there are."""
        return frozenset(fact.kind for fact in self.facts)


def carries(path: Path) -> Answer[Carries]:
    """What a PDF carries besides its pages, which print what they show. Any PDF will do."""
    return fenced(_carries, path)


def _carries(path: Path) -> Answer[Carries]:
    try:
        with opened(path) as pdf:
            manifest = manifest_in(pdf, path)
            sources, problems = _sources(pdf, manifest)
            files = tuple(_files(pdf, manifest))
            facts = (*_own_data(pdf, manifest), *_described(manifest), *_given(sources), *_written(list(leaves(pdf))))
    except Refused as refused:
        return None, (refused.problem,)
    ordered = sorted(dict.fromkeys(facts), key=lambda fact: FACTS.index(fact.kind))
    return Carries(files, tuple(ordered)), problems


def _files(pdf: Any, manifest: Manifest | None) -> Iterator[tuple[str, str]]:
    known = {carried.MANIFEST: "what each form field means and what was planned there", carried.PLAN: "the whole plan"}
    if manifest is not None:
        known |= {file.name: f"a source file, {file.path}" for file in manifest.sources}
        known |= {file.name: f"a file of the brand, {file.path}" for file in manifest.assets}
    for name in sorted(pdf.attachments):
        # Another program may have put it in: nothing is said of what was not made here.
        yield str(name), known.get(str(name), "not ours; what it holds is not known")


def _sources(pdf: Any, manifest: Manifest | None) -> tuple[Sources | None, tuple[Problem, ...]]:
    """The sources that travel along, understood."""
    if manifest is None or not manifest.sources:
        return None, ()
    texts = [(file.path, attached(pdf, file.name) or b"") for file in manifest.sources]
    loaded = understood(texts)
    return loaded.sources, () if loaded.sources else loaded.problems


def _own_data(pdf: Any, manifest: Manifest | None) -> Iterator[Fact]:
    """What the file says of itself to every viewer."""
    info = pdf.docinfo
    for key, what in (("/Buyer", "buyer"), ("/Order", "order")):
        if said := str(info.get(key, "")):
            yield Fact("copy", f"{what} {said}, printed on every page and in the file's own data")
    title = str(info.get("/Title", ""))
    if title and (manifest is None or (manifest.client and manifest.client in title)):
        yield Fact("name", f'the title "{title}", in the file\'s own data')


def _described(manifest: Manifest | None) -> Iterator[Fact]:
    if manifest is None:
        return
    if manifest.client:
        yield Fact("name", f"the lifter's name, {manifest.client}, in {carried.MANIFEST}")
    yield Fact("loads", f"the loads of {len(manifest.rows)} planned sets, with their days, in {carried.MANIFEST}")
    for lift in manifest.lifts:
        own = f", bodyweight {plain(lift.own)} kg" if lift.own else ""
        yield Fact("tests", f"{lift.movement}: the estimated max, sets done before: {len(lift.bests)}{own}")


def _given(sources: Sources | None) -> Iterator[Fact]:
    if sources is None:
        return
    if sources.block is not None:
        yield Fact("rules", f'the rules of the block "{sources.block.block.title}"')
    if sources.brand is not None:
        yield Fact("rules", f"the brand {sources.brand.brand.name}")
    if sources.client is not None:
        yield from _of_client(sources.client)


def _of_client(client: Client) -> Iterator[Fact]:
    me = client.client
    for what, value in (
        ("born in", me.born),
        ("sex", me.sex),
        ("bodyweight", f"{plain(me.bodyweight.number)} {me.bodyweight.unit or client.unit}" if me.bodyweight else None),
        ("supervisor", me.supervisor),
    ):
        if value is not None:
            yield Fact("body", f"{what} {value}")
    for limit in client.limits:
        yield Fact("health", f"what hurts: {limit.area}" + (f" ({limit.note})" if limit.note else ""))
    if client.screening is not None:
        yield Fact("health", "that the health screening was answered, and what came of it")
    for name, lift in client.lifts.items():
        yield Fact("tests", f"{name}: tests with their notes: {len(lift.tests)}, records: {len(lift.records)}")
    yield Fact("gym", "bars, plates and machines of the gym")


def _written(found: list[HeldField]) -> Iterator[Fact]:
    """What was filled in, counted by what it is."""
    for (kind, what), count in Counter(kind_of(leaf.name) for leaf in found if leaf.text).items():
        yield Fact(kind, f"filled in: {count} × {what}")


def kind_of(name: str) -> tuple[str, str]:
    """The kind of fact that stands in a field of this name, and what it is; screening and body are health data."""
    match fields.known(name):
        case None:
            return "entries", "a field that is not ours"
        case SetField():
            return "entries", "cells of sets"
        case SessionField(part="bodyweight" | "sleep") | WeekField(part="bodyweight" | "sleep"):
            return "health", "bodyweight and sleep"
        case AnswerField():
            return "health", "answers of the health screening"
        case SignField():
            return "entries", "names, days and signatures"
    return "entries", "notes, days and results"


__all__ = ["FACTS", "Carries", "Fact", "carries", "kind_of"]
