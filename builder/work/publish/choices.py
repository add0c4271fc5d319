"""How a booklet is wanted by who makes it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from builder.log.manifest import Protection
from builder.pages.model import Edition, Layout, Paper
from builder.values.lists import Keep


@dataclass(frozen=True, slots=True)
class Choices:
    """What the caller chose; None takes what the brand says, then the default.

    `bleed` is for a print shop, whose file carries nothing. With `whole` false neither rules nor profile travel along.
    `values` are texts of form fields by name, any text for a tick that is set. `buyer` and `order` are stamped on every
    page and stand in the file's own data. `locked` when the file will be, which is said in it and done by the caller.
    `jobs` are the processes that make pages at the same time, None for one a core; the booklet is the same.
    `told` hears how many pages are done of how many that are expected.
    `keep` says which pages are kept for later runs and taken from earlier ones.
    `brand_at` is the folder of the brand's files where that is not the one of the file that names them.
    """

    on: date
    paper: Paper | None = None
    theme: str | None = None
    edition: Edition | None = None
    fillable: bool = True
    language: str | None = None
    bleed: bool = False
    whole: bool | None = None
    values: tuple[tuple[str, str], ...] = ()
    buyer: str = ""
    order: str = ""
    locked: bool = False
    layout: Layout | None = None
    # Not in the text that an order is known by (`inputs_of`): these change how it is made, and no byte of the booklet.
    jobs: int | None = field(default=None, compare=False, repr=False)
    keep: Keep = field(default=Keep.NONE, compare=False, repr=False)
    told: Callable[[int, int], None] | None = field(default=None, compare=False, repr=False)
    # Not in that text either: a worker on another machine unpacks the brand where it likes.
    brand_at: Path | None = field(default=None, repr=False)

    @property
    def protection(self) -> Protection:
        """What the copy says of itself, for those that follow it."""
        return Protection(whole=self.whole is not False, buyer=self.buyer, order=self.order, locked=self.locked)
