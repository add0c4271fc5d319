"""What a filled booklet holds, whatever program saved it: the texts of its fields beside what they mean."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from builder.log.manifest import Manifest, Protection


@dataclass(frozen=True, slots=True)
class Value:
    """What one field holds; never blank. `page` counts from 1, 0 where no page shows the field."""

    name: str
    text: str
    page: int


@dataclass(frozen=True, slots=True)
class Form:
    """One filled booklet. A name stands twice in `values` when two fields of that name hold something.

    `pages` has the fields that the file has, `strangers` those that are filled in and mean nothing in this booklet.
    `protection` is what the copy was made with, as far as it says so.
    """

    file: str
    manifest: Manifest
    values: tuple[Value, ...]
    pages: Mapping[str, int]
    protection: Protection
    strangers: tuple[Value, ...] = ()
