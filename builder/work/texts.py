"""Reads the words and longer texts of a language from the templates folder."""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml

from builder import places
from builder.pages.context import Texts
from builder.values.lists import Language
from builder.values.quantity import Unit
from builder.words import Words

DEFAULT_LANGUAGE = Language.ENGLISH
_LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
LANGUAGE = re.compile(r"[a-z]{2,3}(-[A-Za-z0-9]{2,8})*")


def languages() -> tuple[str, ...]:
    """The languages that there are words for."""
    return tuple(sorted(folder.name for folder in (places.templates() / "words").iterdir() if folder.is_dir()))


def load_words(language: str, unit: Unit, *, rated: bool = False) -> Words:
    """The word catalogue of a language, masses in `unit`, effort as RPE where it is `rated`.

    ValueError for a language without one or a doubled key.
    """
    sentences = catalogue(language)
    return Words(language, sentences, unit, *library_words(language), rated=rated)


@lru_cache(maxsize=8)
def catalogue(language: str) -> dict[str, str]:
    """Every key of every file in templates/words/<language> with its sentence."""
    found: dict[str, str] = {}
    for path in sorted(_folder("words", language).glob("*.yaml")):
        for key, sentence in _mapping(path).items():
            if key in found:
                raise ValueError(f"{path.name} has the key {key!r}, which another file of {language} has too")
            found[key] = sentence
    return found


@lru_cache(maxsize=8)
def library_words(language: str) -> tuple[dict[str, str], dict[str, str]]:
    """The names of the library's movements in a language, and its sentences; none for that of the library itself."""
    told = load_texts(language).data.get("movements")
    movements = told["movements"] if isinstance(told, dict) else {}
    names = {name: movement["name"] for name, movement in movements.items()}
    said = (movement.get(kind, {}) for movement in movements.values() for kind in ("cues", "cautions"))
    return names, {english: sentence for pairs in said for english, sentence in pairs.items()}


@lru_cache(maxsize=8)
def load_texts(language: str) -> Texts:
    """The longer texts of a language. ValueError for a language without them."""
    folder = _folder("texts", language)
    markdown = {path.stem: path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.md"))}
    data = {path.stem: _read(path) for path in sorted(folder.glob("*.yaml"))}
    return Texts(markdown, data)


def _folder(kind: str, language: str) -> Path:
    folder = places.templates() / kind / language
    if not LANGUAGE.fullmatch(language) or not folder.is_dir():
        raise ValueError(f"there are no {kind} in the language {language!r}; languages: {', '.join(languages())}")
    return folder


def _mapping(path: Path) -> dict[str, str]:
    read = _read(path)
    if not isinstance(read, dict) or not all(isinstance(part, str) for pair in read.items() for part in pair):
        raise ValueError(f"{path.name} is not a flat mapping of keys to sentences")
    return read


def _read(path: Path) -> Any:
    # Every scalar stays text: a word such as "no" is a word here.
    return yaml.load(path.read_text(encoding="utf-8"), Loader=_LOADER)
