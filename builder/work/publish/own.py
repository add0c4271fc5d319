"""The look of a coach's own: sheets, templates and words beside the brand file, read and checked line by line."""

from __future__ import annotations

import re
import string
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import yaml

from builder import places
from builder.given import Brand, Sources
from builder.intake.compose import compose
from builder.intake.reader import decoded
from builder.pages.measures import measured
from builder.pdf import MOST_PICTURE_BYTES, PICTURE_HELP, picture_fault
from builder.pdf.own import NO_OWN, Own, Text, sheet_problems, template_problems
from builder.pdf.trial import picture_trial
from builder.values.nodes import Mapping as Tree
from builder.values.nodes import Scalar
from builder.values.problem import Problem, did_you_mean, listing
from builder.work.texts import DEFAULT_LANGUAGE, catalogue

MOST_BYTES = 64 * 1024
"""Of one sheet, template or file of words."""
FIXED = ("decimal", "months", "weekdays", "date", "day", "quotes")
"""How a language writes numbers and dates; that is not a coach's to change."""
_NAMES = ("pages", "parts")


@dataclass(frozen=True, slots=True)
class OwnFiles:
    """The look as far as it can be used, and the names of the files that it is made of."""

    own: Own = NO_OWN
    words: tuple[tuple[str, str], ...] = ()
    read: tuple[tuple[str, Path], ...] = ()


NO_FILES = OwnFiles()


def look_names(brand: Brand) -> tuple[str, ...]:
    """Every file that the look of a brand names."""
    look = brand.look
    return (*look.sheets, *look.templates.values(), *look.pictures, *((look.words,) if look.words else ()))


def own_names(sources: Sources) -> tuple[tuple[str, tuple[str | int, ...], tuple[str, ...]], ...]:
    """Every file that the look names, with its path of keys and the endings that it may have."""
    look = sources.brand.brand.look if sources.brand else None
    if look is None:
        return ()
    at = ("brand", "look")
    words = [(look.words, (*at, "words"), (".yaml", ".yml"))] if look.words else []
    return (
        *((name, (*at, "sheets", place), (".css",)) for place, name in enumerate(look.sheets)),
        *((name, (*at, "templates", key), (".j2", ".html")) for key, name in look.templates.items()),
        *((name, (*at, "pictures", place), (".svg", ".png")) for place, name in enumerate(look.pictures)),
        *words,
    )


def own_files(sources: Sources, found: Mapping[str, Path]) -> tuple[OwnFiles, tuple[Problem, ...]]:
    """The look of the files that were found, by the names in the brand file, and what is wrong with them."""
    assert sources.brand is not None
    look, problems = sources.brand.brand.look, list[Problem]()
    pictures = {name: found[name] for name in look.pictures if name in found}
    for place, (name, file) in enumerate(pictures.items()):
        if fault := _picture_fault(file):
            at = sources.at("brand", "look", "pictures", place)
            problems.append(Problem("picture", at, f'"{name}" {fault}', PICTURE_HELP))
    written = {name: file for name, file in found.items() if name not in pictures}
    texts = {name: text for name, file in written.items() if (text := _text(name, file, problems)) is not None}
    known = template_names()
    templates = []
    for key, name in look.templates.items():
        if key not in known:
            help_ = did_you_mean(key, known) or f"Names: {listing(known, 60)}."
            fact, at = f'there is no template "{key}"', sources.at("brand", "look", "templates", key, key=True)
            problems.append(Problem("look-template", at, fact, help_))
        elif name in texts:
            templates.append(Text(f"{key}.html.j2", texts[name].file, texts[name].text))
    sheets = [texts[name] for name in look.sheets if name in texts]
    for template in templates:
        problems += template_problems(template)
    for sheet in sheets:
        problems += sheet_problems(sheet, set(pictures.values()))
    words: dict[str, str] = {}
    if look.words in texts:
        words, wrong = own_words(texts[look.words or ""], str(sources.brand.language or DEFAULT_LANGUAGE))
        problems += wrong
    own = Own(tuple(templates), tuple(sheets), tuple(pictures.items()))
    return OwnFiles(own, tuple(words.items()), tuple(found.items())), tuple(problems)


def template_names() -> tuple[str, ...]:
    """What a template of one's own may come in place of: pages and their parts."""
    folder = places.templates()
    files = (path for name in _NAMES for path in (folder / name).glob("*.html.j2"))
    return tuple(sorted(path.relative_to(folder).as_posix().removesuffix(".html.j2") for path in files))


def shipped_look(theme: str, language: str) -> tuple[tuple[str, bytes], ...]:
    """The sheet of a theme, every template by the name that it is replaced under, and the words of a language."""
    templates = places.templates()
    # With its measures as they are: in a sheet of the coach's own nothing is put in their place.
    sheet = measured((places.styles() / "themes" / theme / "theme.css").read_text(encoding="utf-8")).encode()
    pages = [(f"{name}.html.j2", (templates / f"{name}.html.j2").read_bytes()) for name in template_names()]
    said = {key: sentence for key, sentence in catalogue(language).items() if key not in FIXED}
    words = yaml.safe_dump(said, allow_unicode=True, sort_keys=False, width=10**6)
    return (("theme.css", sheet), *pages, ("words.yaml", words.encode()))


def _picture_fault(file: Path) -> str:
    with file.open("rb") as source:
        # No more than it takes to know that it is too large.
        data = source.read(MOST_PICTURE_BYTES + 1)
    return "is larger than 2 MiB" if len(data) > MOST_PICTURE_BYTES else picture_fault(data) or picture_trial(data)


def _text(name: str, file: Path, problems: list[Problem]) -> Text | None:
    with file.open("rb") as source:
        text, wrong = decoded(source.read(MOST_BYTES + 1), str(file), MOST_BYTES)
    problems += wrong
    return None if wrong else Text(name, file, text)


def own_words(text: Text, language: str) -> tuple[dict[str, str], tuple[Problem, ...]]:
    """Sentences by key, each with no other values in it than ours has."""
    tree, problems = compose(text.text, str(text.file))
    if problems or tree is None:
        return {}, problems
    if not isinstance(tree, Tree):
        fact = "the file of words is not a mapping"
        return {}, (Problem("look-words", tree.span, fact, 'Write lines such as "brand.none: Training".'),)
    ours, found, wrong = catalogue(language), dict[str, str](), list[Problem]()
    for key, value in tree.items:
        if key.text not in ours or key.text in FIXED:
            help_ = did_you_mean(key.text, [one for one in ours if one not in FIXED]) or "Take a key of our words."
            wrong.append(Problem("look-words", key.span, f'"{key.text}" is no sentence that can be changed', help_))
        elif not isinstance(value, Scalar) or value.blank:
            fact = f'"{key.text}" needs one sentence'
            wrong.append(Problem("look-words", value.span, fact, f"Ours is: {ours[key.text]}"))
        elif fault := _values_fault(value.text, ours[key.text]):
            wrong.append(Problem("look-words", value.span, fault, f"Ours is: {ours[key.text]}"))
        else:
            found[key.text] = value.text
    return found, tuple(wrong)


def _values_fault(sentence: str, ours: str) -> str:
    """What is wrong with the {values} of a sentence, "" where nothing is."""
    try:
        said, known = set(_values(sentence)), set(_values(ours))
    except ValueError:
        return "a brace is not closed in this sentence"
    if strange := sorted(said - known):
        return f"nothing is known here of {listing([f'{{{name}}}' for name in strange])}"
    return ""


def _values(sentence: str) -> Iterator[str]:
    for _, name, form, conversion in string.Formatter().parse(sentence):
        if name is not None:
            # A width in braces makes a line as long as it likes, a point or a bracket reaches into the value.
            if form or conversion or not re.fullmatch(r"[a-z_]+", name):
                raise ValueError(name)
            yield name


__all__ = [
    "NO_FILES",
    "OwnFiles",
    "look_names",
    "own_files",
    "own_names",
    "own_words",
    "shipped_look",
    "template_names",
]
