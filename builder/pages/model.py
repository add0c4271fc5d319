"""The booklet as frozen values: sections in order, each with what its template places, and every form field."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from builder.values.fields import FieldSpec
from builder.values.lists import Edition as Edition
from builder.values.lists import Layout as Layout
from builder.values.lists import Paper as Paper


@dataclass(frozen=True, slots=True)
class Section:
    """One run of pages. `template` names a file in templates/pages, which gets `data` as `it`.

    `side` says on which side of the open booklet it starts, or that it goes "on" below the one before; `label` is how
    its first page is numbered ("" goes on counting). `title` stands in the outline and the contents unless `listed` is
    false. `fields` are the form fields that its template marks, in reading order. `code` is printed small at the foot
    of its pages, so that a copy without fields is still known.
    """

    anchor: str
    title: str
    template: str
    data: object
    level: int = 1
    side: Literal["any", "left", "right", "on"] = "any"
    tone: Literal["plain", "training", "deload", "taper", "test", "milestone"] = "plain"
    running: str = ""
    listed: bool = True
    code: str = ""
    fields: tuple[FieldSpec, ...] = ()


@dataclass(frozen=True, slots=True)
class Booklet:
    """Everything that is printed. `fields` has each form field by its name; `code` ties pages to their plan.

    `brand` stands at the foot of every page, `stamp`, which says whose copy it is, at the head; `theme` is the name of
    a folder of style sheets. With `facing`, plan and log take pages of their own. Pages are printed `zoom` times as
    large as they are designed.
    """

    title: str
    author: str
    subject: str
    brand: str
    language: str
    paper: Paper
    edition: Edition
    theme: str
    facing: bool
    zoom: float
    code: str
    sections: tuple[Section, ...]
    fields: tuple[FieldSpec, ...]
    stamp: str = ""
