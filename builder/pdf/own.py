"""Templates and style sheets of a coach's own: run in a sandbox behind the fence, and told with file and line."""

from __future__ import annotations

import logging
import re
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path, PurePath
from typing import Any

from jinja2 import (
    BaseLoader,
    ChoiceLoader,
    FileSystemLoader,
    PrefixLoader,
    StrictUndefined,
    TemplateRuntimeError,
    TemplateSyntaxError,
)
from jinja2.sandbox import ImmutableSandboxedEnvironment

from builder.pdf.fence import MOST_MEMORY, MOST_SECONDS, Beyond, Broken, within
from builder.values.problem import Problem, Span

_BARRED = re.compile(r"<(script|link|object|embed|iframe|base|meta|form|input)\b", re.IGNORECASE)
_NO_ALT = re.compile(r"<img\b(?![^>]*\balt=)", re.IGNORECASE)
_BARRED_RULE = re.compile(r"@(import|font-face|namespace)\b", re.IGNORECASE)
_ADDRESS = re.compile(r"""url\(\s*["']?(?!data:|#)([^)"']+?)["']?\s*\)""", re.IGNORECASE)
_AT = re.compile(r" at (\d+):(\d+)")
_HELP = "Mend it, or take the template out of the brand file."


@dataclass(frozen=True, slots=True)
class Text:
    """A file of the coach's own: its name in the brand file, where it lies, and what stands in it."""

    name: str
    file: Path
    text: str


@dataclass(frozen=True, slots=True)
class Own:
    """Templates that come in place of ours, by their names, and sheets that are read after those of the theme.

    `pictures` are those that both may show, by their names in the brand file.
    """

    templates: tuple[Text, ...] = ()
    sheets: tuple[Text, ...] = ()
    pictures: tuple[tuple[str, Path], ...] = ()


NO_OWN = Own()


class OwnFault(Exception):
    """A template of the coach's own that cannot be filled in."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.fact)
        self.problem = problem


class _Sandbox(ImmutableSandboxedEnvironment):
    """Reaches what a page has, and nothing behind it: no private names, no classes, no files."""

    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:
        # A path reads and writes files by its methods.
        return not isinstance(obj, type | PurePath) and super().is_safe_attribute(obj, attr, value)

    def is_safe_callable(self, obj: Any) -> bool:
        owner = getattr(obj, "__self__", None)
        return not isinstance(obj, type) and not isinstance(owner, type | PurePath) and super().is_safe_callable(obj)


class _Named(BaseLoader):
    def __init__(self, texts: tuple[Text, ...]) -> None:
        self.texts = {text.name: text for text in texts}

    def get_source(self, environment: Any, template: str) -> tuple[str, str, Callable[[], bool]]:
        from jinja2 import TemplateNotFound

        if template not in self.texts:
            raise TemplateNotFound(template)
        return self.texts[template].text, str(self.texts[template].file), lambda: True


def filled(
    own: Own, folder: Path, options: dict[str, Any], name: str, values: Sequence[dict[str, Any]]
) -> tuple[str, ...]:
    """Our documents with the coach's templates in them, made in a process of its own; OwnFault where they cannot be.

    `shipped/NAME` is the template of ours that NAME stands for; `picture("look/lamp.svg")` is the address of a picture.
    """
    templates, pictures = own.templates, dict(own.pictures)
    ours = FileSystemLoader(folder)
    loader = ChoiceLoader([_Named(templates), PrefixLoader({"shipped": ours}), ours])
    # One that cannot change our values either, of which the pages after it are made.
    environment = _Sandbox(loader=loader, undefined=StrictUndefined, **options)

    def picture(name: str) -> str:
        if name not in pictures:
            raise TemplateRuntimeError(f'"{name}" is not named under "pictures:" in the brand file')
        return pictures[name].as_uri()

    environment.globals["picture"] = picture
    first = Span(str(templates[0].file), 1, 1)

    def fill() -> tuple[str, ...] | Problem:
        try:
            document = environment.get_template(name)
            return tuple(document.render(**each) for each in values)
        except Exception as error:  # whatever a stranger's template makes of our values
            return _told(error, templates)

    try:
        made = within(fill)
    except Beyond:
        fact = f"the templates take more than {MOST_SECONDS} seconds or {MOST_MEMORY // 1024**2} MiB to fill in"
        raise OwnFault(Problem("look-template", first, fact, _HELP)) from None
    except Broken as broken:
        fact = f"the templates cannot be filled in ({broken})"
        raise OwnFault(Problem("look-template", first, fact, _HELP)) from None
    if isinstance(made, Problem):
        raise OwnFault(made)
    return made


def _told(error: Exception, templates: tuple[Text, ...]) -> Problem:
    """What an error of the template engine says, at the line of the coach's file that it comes from."""
    files = {str(text.file): text for text in templates}
    at = Span(str(templates[0].file), 1, 1)
    trace = error.__traceback__
    while trace is not None:
        name = trace.tb_frame.f_code.co_filename
        if name in files:
            at = _line(files[name], trace.tb_lineno)
        trace = trace.tb_next
    if isinstance(error, TemplateSyntaxError) and str(error.filename) in files:
        at = _line(files[str(error.filename)], error.lineno)
    return Problem("look-template", at, f'this line cannot be filled in: "{str(error)[:160]}"', _HELP)


def _line(text: Text, number: int) -> Span:
    lines = text.text.split("\n")
    source = lines[number - 1] if 0 < number <= len(lines) else ""
    start = len(source) - len(source.lstrip()) + 1
    return Span(str(text.file), number, start, max(len(source.strip()), 1), source)


def template_problems(text: Text) -> Iterator[Problem]:
    """What is wrong with a template before any page is made: its syntax, elements that may not be, pictures untold."""
    try:
        _Sandbox(extensions=[]).parse(text.text, text.name, str(text.file))
    except TemplateSyntaxError as error:
        fact = f'this is no template that can be read: "{error.message}"'
        yield Problem("look-template", _line(text, error.lineno), fact, _HELP)
    for found in _BARRED.finditer(text.text):
        help_ = "Leave it out: pages are print, and rules for their look go into a sheet."
        yield Problem("look-template", _spot(text, found), f"<{found[1].lower()}> has no place on a page", help_)
    for found in _NO_ALT.finditer(text.text):
        help_ = 'Write alt="what it shows", or alt="" for an ornament: PDF/UA asks for it.'
        yield Problem("look-template", _spot(text, found), "this picture has no words for who cannot see it", help_)


def sheet_problems(text: Text, pictures: Collection[Path]) -> Iterator[Problem]:
    """What is wrong with a style sheet: rules that reach outside, and what the typesetter would pass over."""
    barred = list(_BARRED_RULE.finditer(text.text))
    for found in barred:
        help_ = 'Name fonts in "text_font:" and "heading_font:", and each sheet in the brand file.'
        yield Problem("look-sheet", _spot(text, found), f"@{found[1].lower()} has no place in a sheet here", help_)
    for found in _ADDRESS.finditer(text.text):
        if (text.file.parent / found[1].strip()).resolve() not in pictures:
            fact = f'"{found[1].strip()[:80]}" is not named under "pictures:" in the brand file'
            help_ = "Name the picture there; its address here starts at this sheet."
            barred.append(found)
            yield Problem("look-sheet", _spot(text, found), fact, help_)
    if barred:
        return
    try:
        heard = _passed_over(text.text)
    except (Beyond, Broken) as error:
        fact = f"the sheet cannot be read ({error or 'it takes too long'})"
        yield Problem("look-sheet", Span(str(text.file), 1, 1), fact, "Save it anew, or take it out.")
        return
    for said in heard:
        place = _AT.search(said)
        at = _line(text, int(place[1])) if place else Span(str(text.file), 1, 1)
        said = _AT.sub("", said)
        yield Problem("look-sheet", at, f'the typesetter does not know this: "{said[:160]}"', "Write it otherwise.")


@lru_cache(maxsize=16)
def _passed_over(css: str) -> tuple[str, ...]:
    """What the typesetter does not know of a sheet, found once for all booklets that wear it."""
    return tuple(within(lambda: _heard(css)))


def _heard(css: str) -> list[str]:
    """In the child: what the typesetter says of a sheet."""
    from weasyprint import CSS

    from builder.pdf.run import overheard

    # The fence hushes all loggers; here what the typesetter says is what is wanted.
    logging.disable(logging.NOTSET)
    log = logging.getLogger("weasyprint")
    log.handlers, log.propagate = [], False
    with overheard() as heard:
        CSS(string=css, url_fetcher=lambda url: {"string": b"", "mime_type": "text/css"})
    return heard


def anchored(text: Text) -> Text:
    """A sheet whose pictures are looked for beside it."""

    def whole(found: re.Match[str]) -> str:
        return f'url("{(text.file.parent / found[1].strip()).as_uri()}")'

    return replace(text, text=_ADDRESS.sub(whole, text.text))


def _spot(text: Text, found: re.Match[str]) -> Span:
    line = text.text.count("\n", 0, found.start()) + 1
    column = found.start() - text.text.rfind("\n", 0, found.start())
    return Span(str(text.file), line, column, len(found[0]), text.text.split("\n")[line - 1])


__all__ = ["NO_OWN", "Own", "OwnFault", "Text", "anchored", "filled", "sheet_problems", "template_problems"]
