"""What a run is made of: the look, the draft of the booklet, and the pages through the press."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, time
from pathlib import Path

from builder import __version__, places
from builder.given import Brand, Sources
from builder.intake import Loaded
from builder.pages.context import ACCENT, Context
from builder.pages.make import make_booklet
from builder.pages.model import Booklet, Edition, Layout, Paper
from builder.pages.theme import DEFAULT_THEME, Theme, theme
from builder.pdf import Attached, DocumentMeta, PageLabel, Pressed, PressError, shipped
from builder.pdf.advances import faces_of
from builder.pdf.colour import GROUND, LEAST, contrast, readable
from builder.pdf.fragments.press import PressOrder, press_booklet
from builder.pdf.html import Look, style_sheets
from builder.pdf.own import OwnFault
from builder.places import themes
from builder.plan import Plan, PlanIdentity, earlier, identity, make_plan
from builder.values.fields import FieldSpec
from builder.values.problem import Problem, Severity, did_you_mean, listing
from builder.words import Words
from builder.work.publish.assets import Assets, gather
from builder.work.publish.choices import Choices
from builder.work.texts import DEFAULT_LANGUAGE, load_texts, load_words

MOST_SLUG = 60
"""Signs of a name within a file name, so that both and what is written beside them fit any file system."""


@dataclass(frozen=True, slots=True)
class Published:
    """The finished booklet with warnings if there are any, or the problems that stopped it."""

    pressed: Pressed | None
    booklet: Booklet | None
    problems: tuple[Problem, ...]
    plan: Plan | None = None


@dataclass(frozen=True, slots=True)
class Draft:
    """A booklet before the press, with what it was made from."""

    plan: Plan
    words: Words
    mine: PlanIdentity
    context: Context
    booklet: Booklet


def draft(loaded: Loaded, worn: Dress, choices: Choices) -> tuple[Draft | None, tuple[Problem, ...]]:
    """The booklet of loaded sources, which must hold a client and a block, or why there is none."""
    sources = loaded.sources
    assert sources is not None
    plan = make_plan(sources)
    if not plan.sessions():
        fact, span = "this client can train nothing of this block", sources.at("block", key=True)
        return None, (Problem("nothing-planned", span, fact, "Test its lifts, or change its slots."),)
    words = load_words(worn.language or DEFAULT_LANGUAGE, plan.unit, rated=sources.rated)
    words = replace(words, catalogue={**words.catalogue, **worn.words}) if worn.words else words
    # The code is that of the plan, so copies in other looks and languages are read as one log.
    mine = identity(plan, rated=words.rated)
    context = context_of(sources, plan, words, worn, choices, loaded, mine.code)
    return Draft(plan, words, mine, context, _filled(make_booklet(context), dict(choices.values))), ()


@dataclass(frozen=True, slots=True)
class Dress:
    """What the pages wear: the brand's files and look; `language` and `paper` are None where nobody chose."""

    assets: Assets
    look: Look
    theme: Theme
    brand: Brand | None
    language: str | None
    paper: Paper | None
    layout: Layout
    own_language: bool = True

    @property
    def words(self) -> dict[str, str]:
        """The brand's own sentences, where the pages are in its language."""
        return dict(self.assets.own.words) if self.own_language else {}


def dress(sources: Sources | None, choices: Choices) -> tuple[Dress, tuple[Problem, ...]]:
    """The look that the choices and the brand ask for, with a problem for each thing that cannot be had."""
    assets, missing = gather(sources, choices.brand_at) if sources else (Assets(), ())
    name, wrong_theme = _theme(sources, choices)
    accent, too_pale = _accent(sources)
    file = sources.brand if sources else None
    paper = choices.paper or (file.paper if file else None)
    look = Look(accent, assets.text, assets.heading, assets.own.own)
    language = choices.language or (file.language if file else None)
    layout = choices.layout or (file.layout if file else None) or Layout.PAGE
    home = choices.language in (None, (file.language if file else None) or DEFAULT_LANGUAGE)
    worn = Dress(assets, look, theme(name), file.brand if file else None, language, paper, layout, home)
    return worn, (*missing, *wrong_theme, *too_pale, *_other_language(sources, choices))


def _other_language(sources: Sources | None, choices: Choices) -> Iterator[Problem]:
    """A word on pages in one language with texts of the brand in another; without a word of its own it is English."""
    file = sources.brand if sources else None
    if sources is None or file is None or choices.language in (None, file.language or DEFAULT_LANGUAGE):
        return
    brand, pages, told_in = file.brand, str(choices.language), str(file.language or DEFAULT_LANGUAGE)
    legal = brand.legal
    own = {"pages": brand.pages, "line": brand.line, "licence": legal.licence, "disclaimer": legal.disclaimer,
           "words": brand.look.words}  # fmt: skip
    if names := [name for name, text in own.items() if text]:
        told = f"the brand's own {listing(names)} are taken to be in {told_in!r}"
        fact = f"the pages are in {pages!r}, and {told}"
        help_ = f'They are printed as they are. If they are in {pages!r}, the brand file needs "language: {pages}".'
        yield Problem("brand-language", sources.at("brand", key=True), fact, help_, Severity.WARNING)


def printed(
    booklet: Booklet,
    worn: Dress,
    choices: Choices,
    identifier: str,
    luggage: Sequence[Attached],
    stage: Callable[[str], None],
    whole: Booklet | None = None,
) -> Published:
    """The PDF of some sections; what the typesetter warns of is a problem.

    Where they are only some of a `whole`, the margins are those of its thickness.
    """
    stage("pages")
    sheets = style_sheets(whole or booklet, worn.look, bleed=choices.bleed)
    stage("PDF")
    order = PressOrder(
        roots=(places.styles(), *([worn.assets.root] if worn.assets.root else [])),
        meta=_meta(booklet, identifier, choices),
        attachments=tuple(luggage),
        labels=(PageLabel(0, "D"),),
        faces=(*shipped(), *worn.assets.faces),
        fillable=choices.fillable,
        one_ink=choices.bleed,
        jobs=choices.jobs,
        told=choices.told,
        own=worn.look.own,
        keep=choices.keep,
    )
    try:
        pressed = press_booklet(booklet, sheets, order)
    except OwnFault as fault:
        return Published(None, booklet, (fault.problem,))
    except PressError as error:
        return Published(None, booklet, error.problems)
    return Published(pressed, booklet, (*pressed.problems, *(_warning(text) for text in pressed.warnings)))


def _filled(booklet: Booklet, values: Mapping[str, str]) -> Booklet:
    """The booklet with some of its fields filled in; a text that is longer than its field's limit widens the limit."""
    if not values:
        return booklet
    sections = tuple(
        replace(section, fields=tuple(_valued(spec, values.get(spec.name, "")) for spec in section.fields))
        for section in booklet.sections
    )
    return replace(booklet, sections=sections, fields=tuple(spec for one in sections for spec in one.fields))


def _valued(spec: FieldSpec, value: str) -> FieldSpec:
    limit = spec.max_length and max(spec.max_length, len(value))
    return replace(spec, value=value, max_length=limit) if value else spec


def suggested_name(sources: Sources, edition: Edition | None = None) -> str:
    """A file name from the lifter's name and the block's title: ASCII, lower case, hyphens.

    The handbook and the coach's copy are kept beside the booklet, so their names say what they are.
    """
    assert sources.client is not None and sources.block is not None
    apart = (str(edition),) if edition in (Edition.COACH, Edition.HANDBOOK) else ()
    return file_name(sources.client.client.name, sources.block.block.title, *apart)


def file_name(*parts: str) -> str:
    """The name of a PDF made of some texts: ASCII, lower case, hyphens."""
    return f"{'-'.join(map(_slug, parts))}.pdf"


def context_of(
    sources: Sources,
    plan: Plan,
    words: Words,
    worn: Dress,
    choices: Choices,
    loaded: Loaded,
    code: str,
) -> Context:
    """All that the pages are made from; `code` is the one that is printed on them."""
    former = earlier(sources)
    return Context(
        plan=plan,
        brand=worn.brand or Brand(name=words("brand.none")),
        words=words,
        texts=load_texts(words.language),
        paper=worn.paper or Paper.A4,
        layout=worn.layout,
        edition=choices.edition or Edition.PERSONAL,
        library=sources.movements,
        code=code,
        made_on=choices.on,
        version=__version__,
        revision=plan.client.revision,
        sources=tuple(Path(name).name for name, _ in loaded.texts),
        coach_pages=worn.assets.pages,
        logo=worn.assets.logo,
        accent=worn.look.accent,
        before=make_plan(former) if former else None,
        theme=worn.theme,
        buyer=choices.buyer,
        order=choices.order,
        faces=faces_of(worn.assets.faces, worn.look.text, worn.look.heading),
    )


def _theme(sources: Sources | None, choices: Choices) -> tuple[str, tuple[Problem, ...]]:
    own = sources.brand.theme if sources and sources.brand else None
    name = choices.theme or own or DEFAULT_THEME
    if name in themes():
        return name, ()
    span = sources.at("theme") if sources and choices.theme is None and own else None
    help_ = did_you_mean(name, themes()) or f"Themes: {listing(themes())}."
    return name, (Problem("unknown-theme", span, f'there is no theme "{name}"', help_),)


def _accent(sources: Sources | None) -> tuple[str, tuple[Problem, ...]]:
    """The brand's accent, darkened with a warning when text in it could not be read."""
    own = sources.brand.brand.colours.accent if sources and sources.brand else None
    if sources is None or own is None:
        return ACCENT, ()
    accent = readable(own)
    if accent == own:
        return own, ()
    fact = (
        f"text in {own} has a contrast of {_ratio(contrast(own, GROUND))} with its ground; "
        f"{_ratio(LEAST)} is wanted (WCAG 2.2 AA)"
    )
    help_ = f"{accent} is used instead. Name a darker accent to choose it yourself."
    span = sources.at("brand", "colours", "accent")
    return accent, (Problem("accent-contrast", span, fact, help_, Severity.WARNING),)


def _ratio(contrast: float) -> str:
    """A contrast, cut to tenths, so that none is shown higher than it is."""
    return f"{int(contrast * 10) / 10}:1"


def _meta(booklet: Booklet, identifier: str, choices: Choices) -> DocumentMeta:
    return DocumentMeta(
        title=booklet.title,
        author=booklet.author,
        subject=booklet.subject,
        language=booklet.language,
        keywords=(),
        # The day, not the moment: the same files give the same bytes all day.
        created=datetime.combine(choices.on, time(), UTC),
        identifier=identifier,
        rights=booklet.stamp,
        licensee=tuple((key, value) for key, value in (("Buyer", choices.buyer), ("Order", choices.order)) if value),
    )


def _warning(text: str) -> Problem:
    help_ = "The page may not look as designed: check the brand's pages, logo and fonts."
    return Problem("typesetter", None, f"the typesetter says: {text}", help_, Severity.ERROR)


def _slug(text: str) -> str:
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain)[:MOST_SLUG].strip("-") or "booklet"
