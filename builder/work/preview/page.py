"""One session of a booklet, or one of its other pages, by itself."""

from __future__ import annotations

from dataclasses import dataclass, replace

from builder.intake import Loaded
from builder.pages.model import Booklet, Section
from builder.pages.names import trained
from builder.values.problem import Problem, did_you_mean, listing, stops
from builder.work.publish.booklet import draft, dress, file_name
from builder.work.publish.choices import Choices
from builder.work.publish.selling import settled
from builder.work.publish.trial import alone, placed


@dataclass(frozen=True, slots=True)
class PagesWanted:
    """Which pages: of a kind, a week, a day of the week. Without all three the first session."""

    page: str | None = None
    week: int | None = None
    day: int | None = None


@dataclass(frozen=True, slots=True)
class PreviewPages:
    """The pages as a PDF, empty where a problem stopped them, with their title and a name for the file."""

    problems: tuple[Problem, ...]
    pdf: bytes = b""
    title: str = ""
    name: str = ""
    pages: int = 0


def preview(loaded: Loaded, choices: Choices, wanted: PagesWanted) -> PreviewPages:
    """The pages that are wanted, as the booklet of the loaded files has them; all in this process."""
    sources = loaded.sources
    if sources is None:
        return PreviewPages(loaded.problems)
    assert sources.client is not None and sources.block is not None
    choices = replace(settled(choices, sources), jobs=1)
    worn, wrong = dress(sources, choices)
    told = (*loaded.problems, *wrong)
    if stops(told):
        return PreviewPages(told)
    made, stopped = draft(loaded, worn, choices)
    if made is None:
        return PreviewPages((*told, *stopped))
    booklet = made.booklet
    sections = _sections(booklet, wanted)
    if not sections:
        return PreviewPages((*told, _absent(booklet, wanted)))
    done = alone(booklet, sections, worn, choices, f"preview-{booklet.code}")
    if stops(done.problems):
        told = (*told, *placed(done.problems, replace(booklet, sections=sections), sources, worn, choices))
        return PreviewPages(told)
    assert done.pressed is not None
    name = file_name(sources.client.client.name, sources.block.block.title, "preview")
    return PreviewPages((*told, *done.problems), done.pressed.pdf, sections[0].title, name, done.pressed.pages)


def kinds(booklet: Booklet) -> tuple[str, ...]:
    """What the pages of a booklet are called, in their order."""
    return tuple(dict.fromkeys(_kind(section) for section in booklet.sections))


def _sections(booklet: Booklet, wanted: PagesWanted) -> tuple[Section, ...]:
    """All that fits, of the first week and day where it is found, one after the other whatever their sides.

    A session that shares its page with another, which their code tells, comes with that one.
    """
    fit = [section for section in booklet.sections if _fits(section, wanted)]
    found = [section for section in fit if trained(section.anchor) == trained(fit[0].anchor)]
    codes = {section.code for section in found} - {""}
    taken = {section.anchor for section in found}
    every = (one for one in booklet.sections if one.anchor in taken or one.code in codes)
    return tuple(one if one.side == "on" else replace(one, side="any") for one in every)


def _fits(section: Section, wanted: PagesWanted) -> bool:
    week, day = trained(section.anchor)
    return (
        (_kind(section) == wanted.page if wanted.page else day is not None)
        and wanted.week in (None, week)
        and wanted.day in (None, day)
    )


def _kind(section: Section) -> str:
    return section.template.replace("_", "-")


def _absent(booklet: Booklet, wanted: PagesWanted) -> Problem:
    known = kinds(booklet)
    if wanted.page and wanted.page not in known:
        fact = f'this booklet has no page "{wanted.page}"'
        return Problem("preview-page", None, fact, did_you_mean(wanted.page, known) or f"Pages: {listing(known, 40)}.")
    asked = ((wanted.page, "page"), (wanted.week, "week"), (wanted.day, "day"))
    fact = f"this booklet has nothing under {', '.join(f'--{name} {value}' for value, name in asked if value)}"
    spots = [trained(section.anchor) for section in booklet.sections if _fits(section, PagesWanted(wanted.page))]
    days = [day for week, day in spots if day and week == wanted.week]
    weeks = [week for week, _ in spots if week]
    if days:
        help_ = f"Week {wanted.week} has the days {listing(map(str, sorted(set(days))))}."
    elif weeks:
        help_ = f"Its weeks are {min(weeks)} to {max(weeks)}."
    else:
        help_ = "Such a page belongs to no week: leave --week and --day out."
    return Problem("preview-page", None, fact, help_)
