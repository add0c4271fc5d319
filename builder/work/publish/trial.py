"""Whether a booklet could be built, found out without building it: all its signs, and the brand's own pages."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from html import unescape
from pathlib import Path

from builder import places
from builder.given.sources import Sources
from builder.intake import Loaded, load
from builder.pages.coach_pages import FlowPage
from builder.pages.front import LicencePage
from builder.pages.model import Booklet, Section
from builder.pdf import shipped
from builder.pdf.fonts import TEXT, Setting, file_problems, text_problems
from builder.pdf.html import render
from builder.pdf.own import NO_OWN, OwnFault
from builder.values.problem import Problem, Span, stops
from builder.work.publish.assets import BRAND_HEADING, BRAND_TEXT
from builder.work.publish.booklet import Dress, Published, draft, dress, printed
from builder.work.publish.choices import Choices
from builder.work.publish.signs import unshown_signs

_ANCHOR = re.compile(r"undefined anchor|No anchor")
"""What the typesetter says of links to pages that the trial leaves out."""


@dataclass(frozen=True, slots=True)
class TrialPart:
    """Some pages that show one thing of the brand, and where that thing is named."""

    span: Span
    sections: tuple[Section, ...]


def tried(loaded: Loaded, choices: Choices) -> tuple[Problem, ...]:
    """What would stop `publish`, with file and line, and its warnings; `loaded` may hold any of client, block, brand.

    A brand by itself is tried with the client and the block of the starter folder.
    """
    sources = loaded.sources
    assert sources is not None
    worn, wrong = dress(sources, choices)
    fonts = file_problems(worn.assets.faces)
    wrong = (*wrong, *(replace(one, span=_font_span(one, sources, worn)) for one in fonts))
    whole = sources.client is not None and sources.block is not None
    if stops(wrong) or not (whole or (sources.brand and not sources.client and not sources.block)):
        return wrong
    made, stopped = draft(loaded if whole else _standing_in(sources), worn, choices)
    if made is None:
        return (*wrong, *stopped)
    booklet = made.booklet
    try:
        signs = _unset_signs(booklet, worn)
    except OwnFault as fault:
        return (*wrong, fault.problem)
    if signs:
        return (*wrong, *placed(signs, booklet, sources, worn, choices))
    return (*wrong, *_pressed(booklet, sources, worn, choices)) if sources.brand else wrong


def located(booklet: Booklet, sources: Sources, worn: Dress, choices: Choices) -> tuple[Problem, ...]:
    """The problems of those pages that show something of the brand, each where that is named in the files."""
    found = dict[tuple[str, str], Problem]()
    for part in _parts(booklet, sources):
        for problem in alone(booklet, part.sections, worn, choices).problems:
            at = problem.span or _font_span(problem, sources, worn) or part.span
            found.setdefault((problem.code, problem.fact), replace(problem, span=at))
    return tuple(found.values())


def placed(
    problems: tuple[Problem, ...], booklet: Booklet, sources: Sources, worn: Dress, choices: Choices
) -> tuple[Problem, ...]:
    """The problems of a press, each with its place where the files write the sign or the brand names the thing."""
    written = unshown_signs(sources, problems)
    found = located(booklet, sources, worn, choices)
    found = tuple(one for one in found if not (written and one.code == "glyph-missing"))
    known = {(one.code, one.fact) for one in found}
    rest = (one for one in problems if (one.code, one.fact) not in known)
    return (*written, *found, *(replace(one, span=one.span or _font_span(one, sources, worn)) for one in rest))


def _pressed(booklet: Booklet, sources: Sources, worn: Dress, choices: Choices) -> tuple[Problem, ...]:
    """One page of each kind, where the brand's fonts must serve all, and every page that shows the brand's texts."""
    all_kinds = worn.assets.faces or worn.look.own != NO_OWN
    firsts = {section.template: section.anchor for section in reversed(booklet.sections)} if all_kinds else {}
    wanted = {*firsts.values(), *(section.anchor for part in _parts(booklet, sources) for section in part.sections)}
    sections = tuple(one for one in booklet.sections if one.anchor in wanted and one.template != "contents")
    problems = alone(booklet, sections, worn, choices).problems
    return placed(problems, booklet, sources, worn, choices) if stops(problems) else problems


def alone(
    booklet: Booklet, sections: tuple[Section, ...], worn: Dress, choices: Choices, identifier: str = "trial"
) -> Published:
    """Some sections of a booklet, pressed by themselves; that links lead to the others is no problem."""
    fields = tuple(spec for section in sections for spec in section.fields)
    few = replace(booklet, sections=sections, fields=fields)
    try:
        done = printed(few, worn, choices, identifier, (), lambda name: None, booklet)
    except OSError as error:
        if "cannot load library" in str(error):
            raise
        return Published(None, few, (_unset(error),))
    except Exception as error:  # a stranger's picture or font in the depth of a library
        return Published(None, few, (_unset(error),))
    # Links to the pages that are left out lead nowhere here, and somewhere in the booklet.
    told = (one for one in done.problems if not (one.code == "typesetter" and _ANCHOR.search(one.fact)))
    return replace(done, problems=tuple(told))


def _unset(error: Exception) -> Problem:
    fact = f"the typesetter cannot set it ({type(error).__name__})"
    return Problem("typesetter", None, fact, "A picture or a font is broken: save it anew, or take another.")


def _parts(booklet: Booklet, sources: Sources) -> Iterator[TrialPart]:
    """The pages of logo, legal texts and coach's pages, as far as the brand has them."""
    if sources.brand is None:
        return
    brand, at = sources.brand.brand, sources.at
    by_kind = {section.template: section for section in reversed(booklet.sections)}
    for key in brand.look.templates:
        if section := by_kind.get(key.removeprefix("pages/")):
            yield TrialPart(at("brand", "look", "templates", key), (section,))
    if cover := by_kind.get("cover"):
        yield TrialPart(at("brand", "logo") if brand.logo else at("brand", "name"), (cover,))
    licence = by_kind.get("licence")
    if licence and isinstance(licence.data, LicencePage):
        # Once without the disclaimer, so that a fault is told of the text that has it.
        plain = replace(licence, data=replace(licence.data, disclaimer=None))
        yield TrialPart(at("brand", "legal", "licence"), (plain,))
        yield TrialPart(at("brand", "legal", "disclaimer"), (licence,))
    for own in (section for section in booklet.sections if section.anchor == "coach"):
        assert isinstance(own.data, FlowPage)
        for number, flow in enumerate(own.data.flows):
            one = replace(own, data=replace(own.data, flows=(flow,)))
            yield TrialPart(at("brand", "pages", number), (one,))


def _font_span(problem: Problem, sources: Sources, worn: Dress) -> Span | None:
    """Where the font file is named that a problem is about."""
    for key, family in (("text_font", BRAND_TEXT), ("heading_font", BRAND_HEADING)) if sources.brand else ():
        assert sources.brand is not None
        if family in problem.about:
            return sources.at("brand", key)
        for number, font in enumerate(getattr(sources.brand.brand, key)):
            file = worn.assets.root / font.file if worn.assets.root else Path(font.file)
            if str(file.resolve()) in problem.about:
                return sources.at("brand", key, number, "file")
    return None


def _unset_signs(booklet: Booklet, worn: Dress) -> tuple[Problem, ...]:
    """Signs of the whole booklet that neither the brand's text font nor ours has."""
    # From the HTML alone: all pages are looked at, and none is laid out.
    text = re.sub(r"<style.*?</style>|<[^>]*>", "", render(booklet, worn.look.own), flags=re.DOTALL)
    families = (worn.look.text, TEXT) if worn.look.text else (TEXT,)
    used = {Setting(families, 400, "normal"): set(unescape(text))}
    faces = (*shipped(), *worn.assets.faces)
    return tuple(one for one in text_problems(used, faces) if one.code == "glyph-missing")


def _standing_in(sources: Sources) -> Loaded:
    """The starter's client and block under a brand that stands alone."""
    starter = places.templates() / "starter"
    made = load([starter / "client.yaml", starter / "block.yaml"])
    assert made.sources is not None
    # With the brand's own tree, so that what is wrong is told in its file.
    return replace(made, sources=replace(made.sources, brand=sources.brand, tree=sources.tree))
