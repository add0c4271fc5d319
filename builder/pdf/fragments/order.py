"""Where each page of the fragments stands: blank pages before sections that begin on one side, numbers of anchors."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from builder.pages.model import Section
from builder.pdf.fragments.leaves import BarePage
from builder.pdf.fragments.parts import Fragment, FragmentPage


@dataclass(frozen=True, slots=True)
class PagePlace:
    """A page of a fragment; `fragment` counts from 0."""

    fragment: int
    page: FragmentPage
    sheet: BarePage


def placed(fragments: Sequence[Fragment], sections: Mapping[str, Section]) -> tuple[PagePlace | None, ...]:
    """All pages in order, None for one that is left blank. The first is a right one."""
    places: list[PagePlace | None] = []
    for number, fragment in enumerate(fragments):
        for page, sheet in zip(fragment.pages, _sheets(fragment, sections), strict=True):
            is_right = len(places) % 2 == 0
            if places and ((sheet.side == "left" and is_right) or (sheet.side == "right" and not is_right)):
                places.append(None)
            places.append(PagePlace(number, page, sheet))
    return tuple(places)


def _sheets(fragment: Fragment, sections: Mapping[str, Section]) -> Iterator[BarePage]:
    """What the margins of each page say: the first section that begins there, else the one that goes on."""
    begun: set[str] = set()
    said: Section | None = None
    for page in fragment.pages:
        names = [name for name in page.sections if name in sections]
        top = sections[names[0]]
        # A section that goes on from the page before may stand on either side.
        side = top.side if names[0] not in begun else "any"
        fresh = [name for name in names if name not in begun]
        # As string() in a margin box: what the page sets first, else what was set last before it (CSS GCPM 3, 1.1.2).
        said = sections[fresh[0]] if fresh else said or top
        begun.update(names)
        yield BarePage(top, said, side)
        said = sections[names[-1]]


def numbered(places: Sequence[PagePlace | None]) -> dict[str, int]:
    """The number of the page on which each anchor first stands."""
    found: dict[str, int] = {}
    for number, place in enumerate(places, 1):
        for anchor, _ in place.page.anchors if place else ():
            found.setdefault(anchor, number)
    return found
