"""HTML and style sheets in, one finished PDF out: laid out, checked, written, mended and labelled."""

import gc
import logging
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager, nullcontext, suppress
from pathlib import Path
from typing import Any, TypeVar

from builder.pdf import finish, fonts, inks
from builder.pdf.fast import shortcuts
from builder.pdf.fetcher import Fetcher
from builder.pdf.forms import values, widgets
from builder.pdf.parts import Attached, DocumentMeta, OutlineEntry, PageLabel, Pressed, PressError
from builder.pdf.strangers import PICTURE_HELP, bounded_drawing
from builder.pdf.survey import Placed, Survey, survey
from builder.values.fields import FieldSpec
from builder.values.problem import Problem

T = TypeVar("T")


def press(
    html: str,
    css: Sequence[str],
    *,
    roots: Sequence[Path],
    fields: Mapping[str, FieldSpec],
    meta: DocumentMeta,
    attachments: Sequence[Attached] = (),
    labels: Sequence[PageLabel] = (),
    faces: Sequence[fonts.Face] | None = None,
    fillable: bool = True,
    zoom: float = 1.0,
    one_ink: bool = False,
) -> Pressed:
    """A PDF that claims PDF/A-3a and PDF/UA-1, with a form field on each marked element.

    `html` marks an element with data-field="NAME", or with data-fields="NAME@x0,x1;NAME@x0,x1" (fractions of
    its width) for several; NAME is a key of `fields`. Relative addresses start at the first of `roots`, and
    only files below the roots are read. `faces` are the font files (the shipped ones by default). With
    `fillable` false the marks are checked but no field is made. Pages come out
    `zoom` times as large as `css` says. With `one_ink` greys and black are DeviceGray, for a print shop.
    The same input gives the same bytes.
    Raises PressError with every problem of fields, fonts, links and refused files.
    """
    faces = fonts.shipped() if faces is None else tuple(faces)
    # Before anything is laid out, which takes longest.
    raise_any(fonts.file_problems(faces))
    raise_any(lost(fields, fillable))
    fetcher = Fetcher(roots, [face.file for face in faces])

    def made(short: bool) -> tuple[Any, Survey, bytes]:
        document = _lay_out(html, [fonts.face_rules(faces), *css], fetcher, meta, short)
        found = survey(document, fields, zoom)
        raise_any((*found.problems, *fonts.text_problems(found.used, faces)))
        placed = found.placed if fillable else ()
        return document, found, _write(document, placed, meta, attachments, labels, zoom, short)

    inked = inks.greys_as_one_ink() if one_ink else nullcontext()
    with no_collector(), fonts.only_our_fonts(), _fenced(fetcher), inked, overheard() as warnings:
        (document, found, pdf), slower = by_short_cuts(made, warnings)
        raise_any(font_problems(document.fonts.values(), faces))
    return Pressed(
        pdf=pdf,
        pages=len(document.pages),
        field_count=len(found.placed) if fillable else 0,
        warnings=tuple(warnings),
        outline=tuple(outline(document.make_bookmark_tree(), 1)),
        problems=(*slower, *values.value_problems(fields.values(), form_font())),
    )


def by_short_cuts(made: Callable[[bool], T], warnings: list[str]) -> tuple[T, tuple[Problem, ...]]:
    """What is made by the short cuts; without them, and with a remark, where they do not fit the typesetter."""
    if not shortcuts.wanted():
        return made(False), ()
    try:
        # What is wrong with the pages is none of the errors below, and is raised as it is.
        return made(True), ()
    except shortcuts.UNFIT as error:
        # They are of a try that came to nothing.
        warnings.clear()
        return made(False), (shortcuts.untaken(error),)


@contextmanager
def no_collector() -> Iterator[None]:
    """The garbage collector off: it finds nothing among the boxes and takes a fifth of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def raise_any(problems: Sequence[Problem]) -> None:
    if problems:
        raise PressError(problems)


def form_font() -> Path:
    return next(face.file for face in fonts.shipped() if face.family == fonts.TEXT)


def lost(fields: Mapping[str, FieldSpec], fillable: bool) -> tuple[Problem, ...]:
    """Prefilled values that nobody would see."""
    filled = [spec for spec in fields.values() if spec.value]
    if not filled or fillable:
        return ()
    fact = f"{len(filled)} form fields have values, and a booklet without fields cannot show them"
    return (Problem("value-lost", None, fact, "Print the values as text, or keep the fields."),)


@contextmanager
def overheard() -> Iterator[list[str]]:
    """Collects what the typesetter and the font tools warn of while this lasts."""
    heard: list[str] = []

    class Ear(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            heard.append(record.getMessage())

    ear, loggers = Ear(logging.WARNING), [logging.getLogger(name) for name in ("weasyprint", "fontTools")]
    for logger in loggers:
        logger.addHandler(ear)
    try:
        yield heard
    finally:
        for logger in loggers:
            logger.removeHandler(ear)


@contextmanager
def fenced_problems(fetcher: Fetcher) -> Iterator[list[Problem]]:
    """Tells of the addresses that the fetcher refused and the pictures it found unfit, in layout or in writing.

    The list is filled when this ends.
    """
    from weasyprint.urls import FatalURLFetchingError

    told: list[Problem] = []
    with suppress(FatalURLFetchingError), bounded_drawing(fetcher.unfit.append):
        yield told
    roots = ", ".join(map(str, fetcher.roots))
    help_ = f"Only files below these folders are read: {roots}."
    facts = dict.fromkeys(f"the pages ask for {url[:200]!r}, which may not be read" for url in fetcher.refused)
    told += [Problem("file-refused", None, fact, help_) for fact in facts]
    told += [Problem("picture", None, fact, PICTURE_HELP) for fact in dict.fromkeys(fetcher.unfit)]


@contextmanager
def _fenced(fetcher: Fetcher) -> Iterator[None]:
    with fenced_problems(fetcher) as told:
        yield
    raise_any(told)


def _lay_out(html: str, css: Sequence[str], fetcher: Fetcher, meta: DocumentMeta, short: bool) -> Any:
    """The typesetter's document, by the short cuts or without."""
    from weasyprint import CSS, HTML
    from weasyprint.text.fonts import FontConfiguration

    base, kind = f"{fetcher.roots[0].as_uri()}/", HTML
    font_config = FontConfiguration()
    if short:
        from builder.pdf.fast import swift

        classes: dict[str, str] = {}
        html = swift.shared_styles(html, classes)
        kind, css = swift.Page, (*css, swift.class_rules(classes))
    source = kind(string=html, base_url=base, url_fetcher=fetcher)
    finish.prepare(source.etree_element, meta.language)
    sheets = [CSS(string=s, base_url=base, url_fetcher=fetcher, font_config=font_config) for s in css]
    return source.render(font_config, stylesheets=sheets, pdf_variant="pdf/a-3a")


def _write(
    document: Any,
    placed: Sequence[Placed],
    meta: DocumentMeta,
    attachments: Sequence[Attached],
    labels: Sequence[PageLabel],
    zoom: float,
    short: bool,
) -> bytes:
    """The bytes of the file, with all that the typesetter leaves out added just before they are written."""
    font = values.value_font((place.spec for place in placed), form_font())
    finish.describe(document, meta)
    widgets.reserve(placed)

    def finisher(_: Any, pdf: Any) -> None:
        widgets.add_form(pdf, widgets.add_fields(pdf, placed, font, meta.identifier))
        finish.identify(pdf, meta)
        finish.attach(pdf, attachments, meta)
        finish.number_pages(pdf, labels)
        finish.mark_bleed(pdf)
        finish.say_scopes(pdf)
        finish.say_links(document)
        finish.open_at_cover(pdf)
        if short:
            lean.settle(pdf)

    with ExitStack() as stack:
        if short:
            from builder.pdf.fast import lean, shaping, unadorned

            stack.enter_context(lean.writing())
            stack.enter_context(shaping.shaped_once())
            stack.enter_context(unadorned.asked_once())
        written: bytes = document.write_pdf(
            zoom=zoom, finisher=finisher, pdf_variant="pdf/a-3a", pdf_identifier=meta.identifier.encode("utf-8")
        )
    return written


def font_problems(used: Iterable[Any], faces: Sequence[fonts.Face]) -> tuple[Problem, ...]:
    """Text that reached the pages by another way than boxes (in drawings) and found no font or no glyph."""
    problems, families = [], {face.family for face in faces}
    for font in used:
        if font.family not in families:
            text = "".join(font.to_unicode.values())
            fact = f"a drawing has text in a font family that no file was given for ({fonts.spelled(set(text))})"
            problems.append(Problem("font-unknown", None, fact, "Give the text element a font-family at hand."))
        if font.missing:
            fact = f"{font.family} has no glyph for {fonts.spelled(map(chr, font.missing))}"
            signs, help_ = "".join(map(chr, font.missing)), "Change the text of the drawing."
            problems.append(Problem("glyph-missing", None, fact, help_, signs=signs, about=(font.family,)))
    return tuple(problems)


def outline(bookmarks: Sequence[Any], level: int) -> Iterator[OutlineEntry]:
    for title, (page, _, _), children, _ in bookmarks:
        yield OutlineEntry(level, title, page)
        yield from outline(children, level + 1)
