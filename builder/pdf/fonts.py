"""Fonts are files named in a small table; text set in anything else is a problem, never a fallback.

The typesetter falls back without a word: to a font of the system for a family that it does not find, and for a single
sign to any font that has it. A booklet would look different on each machine; so the press hides the fonts of the
system, and looks at what was asked for and what was used.
"""

import os
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Literal

from builder import places
from builder.door import own_folder
from builder.pdf.strangers import font_fault
from builder.values.problem import Problem, listing

TEXT = "Source Sans 3"
HEADING = "Barlow Condensed"
GAP = "Loadleaf Gap"
_GAP_RANGE = range(0x20, 0x180)
FONT_HELP = "Give a static TrueType or OpenType font file (.ttf or .otf)."

Style = Literal["normal", "italic"]


@dataclass(frozen=True, slots=True)
class Face:
    """One font file: the family name that style sheets use, weight 100 to 900, style."""

    family: str
    weight: int
    style: Style
    file: Path


@dataclass(frozen=True, slots=True)
class Setting:
    """How a run of text asked to be set: its list of families, weight and style."""

    families: tuple[str, ...]
    weight: int
    style: str


def shipped() -> tuple[Face, ...]:
    """The faces that come with the installation."""
    folder = places.fonts()
    table: tuple[tuple[str, int, Style, str], ...] = (
        (TEXT, 400, "normal", "source-sans-3/regular.ttf"),
        (TEXT, 400, "italic", "source-sans-3/italic.ttf"),
        (TEXT, 600, "normal", "source-sans-3/semibold.ttf"),
        (TEXT, 700, "normal", "source-sans-3/bold.ttf"),
        (HEADING, 500, "normal", "barlow-condensed/medium.ttf"),
        (HEADING, 600, "normal", "barlow-condensed/semibold.ttf"),
        (HEADING, 700, "normal", "barlow-condensed/bold.ttf"),
    )
    return tuple(Face(family, weight, style, folder / file) for family, weight, style, file in table)


def face_rules(faces: Iterable[Face]) -> str:
    """The @font-face rules for `faces`, as a style sheet."""
    return "\n".join(
        f'@font-face {{ font-family: "{face.family}"; font-weight: {face.weight}; font-style: {face.style};'
        f' src: url("{face.file.resolve().as_uri()}"); }}'
        for face in faces
    )


def file_problems(faces: Iterable[Face]) -> tuple[Problem, ...]:
    """What is wrong with the table itself: absent or unreadable files, names that CSS cannot carry."""
    from builder.pdf.trial import font_trial

    faces, ours = tuple(faces), {face.file for face in shipped()}
    strangers = [face.file for face in faces if face.file not in ours and face.file.is_file()]
    # All strangers are tried in one child, and one by one only where that fails, to find which.
    trusted = ours if strangers and font_trial(strangers) else {*ours, *strangers}
    return tuple(problem for face in faces if (problem := _file_problem(face, trusted)))


def _file_problem(face: Face, trusted: set[Path]) -> Problem | None:
    from builder.pdf.trial import font_trial

    # A quote, a stroke or a line end would end the name within the style sheet; other weights than hundreds the
    # typesetter passes over.
    if not face.family.strip() or any(c in '"\\\n' for c in face.family) or face.weight not in range(100, 901, 100):
        fact = f"the font face {face.family!r} of weight {face.weight} cannot be named in a style sheet"
        help_ = "Use a plain family name and a weight of 100, 200 … 900."
        return Problem("font-name", None, fact, help_, about=(face.family,))
    about = (str(face.file.resolve()),)
    if not face.file.is_file():
        fact = f"the font file {face.file} is missing"
        help_ = f"It should hold {face.family}, weight {face.weight}, {face.style}."
        return Problem("font-file", None, fact, help_, about=about)
    if fault := font_fault(face.file.read_bytes()) or ("" if face.file in trusted else font_trial([face.file])):
        return Problem("font-file", None, f"the font file {face.file} {fault}", FONT_HELP, about=about)
    try:
        coverage(face.file)
    except Exception as error:  # fontTools raises many kinds for a broken file
        fact = f"the font file {face.file} cannot be read ({type(error).__name__})"
        return Problem("font-file", None, fact, FONT_HELP, about=about)
    return None


@lru_cache(maxsize=64)
def coverage(file: Path) -> frozenset[int]:
    """The code points that a font file has glyphs for."""
    from fontTools.ttLib import TTFont

    with TTFont(file, lazy=True) as font:
        return frozenset(font.getBestCmap())


def text_signs() -> frozenset[int]:
    """The code points that the text family has in every weight and style: these can stand in any text of a page."""
    return frozenset.intersection(*(coverage(face.file) for face in shipped() if face.family == TEXT))


def text_problems(used: Mapping[Setting, set[str]], faces: Sequence[Face]) -> tuple[Problem, ...]:
    """Families, weights and signs that the pages use and `faces` does not have."""
    unknown: dict[tuple[str, ...], set[str]] = {}
    faceless: dict[tuple[str, int, str], set[str]] = {}
    missing: dict[tuple[str, ...], set[str]] = {}
    families = {face.family for face in faces}
    exact = {(face.family, face.weight, face.style) for face in faces}
    for setting, characters in used.items():
        printed = {c for c in characters if _prints(c)}
        strangers = [name for name in setting.families if name not in families]
        first = setting.families[0]
        if not printed:
            continue
        if strangers:
            unknown.setdefault(tuple(strangers), set()).update(printed)
            continue
        # The typesetter would draw a bold face from a regular one by itself, without a word.
        if (first, setting.weight, setting.style) not in exact:
            faceless.setdefault((first, setting.weight, setting.style), set()).update(printed)
        if gaps := printed - _covered(setting.families, faces):
            missing.setdefault(tuple(setting.families), set()).update(gaps)
    return (*_unknown(unknown, families), *_faceless(faceless), *_missing(missing))


def _prints(character: str) -> bool:
    return unicodedata.category(character) not in {"Cc", "Cf", "Zl", "Zp"}


def _covered(families: Sequence[str], faces: Sequence[Face]) -> set[str]:
    """The characters that every face of at least one of the families has."""
    found: set[str] = set()
    for family in families:
        sets = [coverage(face.file) for face in faces if face.family == family]
        if sets:
            found.update(map(chr, frozenset.intersection(*sets)))
    return found


def _unknown(found: Mapping[tuple[str, ...], set[str]], families: Iterable[str]) -> Iterator[Problem]:
    for names, characters in sorted(found.items()):
        fact = f"text is set in a font family that no file was given for: {', '.join(names)} ({spelled(characters)})"
        yield Problem("font-unknown", None, fact, f"Families at hand: {listing(sorted(families))}.", about=names)


def _faceless(found: Mapping[tuple[str, int, str], set[str]]) -> Iterator[Problem]:
    for (name, weight, style), characters in sorted(found.items()):
        fact = f"no font file holds {name}, weight {weight}, {style} ({spelled(characters)})"
        help_ = "Use a weight and style that has a file, or add the file."
        yield Problem("font-weight", None, fact, help_, about=(name,))


def _missing(found: Mapping[tuple[str, ...], set[str]]) -> Iterator[Problem]:
    for names, characters in sorted(found.items()):
        fact = f"{', '.join(names)} has no glyph for {spelled(characters)}"
        help_ = "Change the text, or name a family that has the sign after it."
        yield Problem("glyph-missing", None, fact, help_, signs="".join(sorted(characters)), about=names)


def spelled(characters: Iterable[str], most: int = 8) -> str:
    """Characters with their code points, at most `most` of them."""
    shown = [f"{c} U+{ord(c):04X}" for c in sorted(characters)]
    return ", ".join(shown[:most]) + (f" and {len(shown) - most} more" if len(shown) > most else "")


@contextmanager
def only_our_fonts() -> Iterator[None]:
    """While this lasts, fontconfig knows no system font, so a face can come from the table only."""
    before = os.environ.get("FONTCONFIG_FILE")
    os.environ["FONTCONFIG_FILE"] = str(_private_configuration())
    _reload()
    try:
        yield
    finally:
        if before is None:
            del os.environ["FONTCONFIG_FILE"]
        else:
            os.environ["FONTCONFIG_FILE"] = before


@lru_cache(maxsize=1)
def _private_configuration() -> Path:
    """A fontconfig file, kept for this process, that knows one font, of blanks, for what finds no face."""
    folder = own_folder("fonts")
    (folder / "fonts").mkdir()
    _write_blanks(folder / "fonts" / "gap.ttf")
    file = folder / "fonts.conf"
    file.write_text(
        '<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "urn:fontconfig:fonts.dtd"><fontconfig>'
        f"<dir>{folder}/fonts</dir><cachedir>{folder}/cache</cachedir>"
        '<match target="pattern"><edit name="family" mode="append_last" binding="weak">'
        # Last of all families, so that text without a face is set in blanks and found, where another face would hide
        # it.
        f"<string>{GAP}</string></edit></match></fontconfig>",
        encoding="utf-8",
    )
    return file


@lru_cache(maxsize=1)
def _reload() -> None:
    """Make fontconfig forget what it read if the typesetter was used in this process before."""
    from weasyprint.text.ffi import ffi, fontconfig

    ffi.cdef("int FcInitReinitialize(void);", override=True)
    if not fontconfig.FcInitReinitialize():
        raise RuntimeError("fontconfig does not take the press's own configuration")


def _write_blanks(file: Path) -> None:
    """A font of blank glyphs, one for each of the common characters, so that its use can be spelled out."""
    from fontTools.fontBuilder import FontBuilder
    from fontTools.ttLib.tables._g_l_y_f import Glyph

    names = [".notdef", *(f"u{code:04X}" for code in _GAP_RANGE)]
    font = FontBuilder(1000, isTTF=True)
    font.setupGlyphOrder(names)
    font.setupCharacterMap({code: f"u{code:04X}" for code in _GAP_RANGE})
    font.setupGlyf({name: Glyph() for name in names})
    font.setupHorizontalMetrics(dict.fromkeys(names, (500, 0)))
    font.setupHorizontalHeader(ascent=800, descent=-200)
    font.setupNameTable({"familyName": GAP, "styleName": "Regular"})
    font.setupOS2(sTypoAscender=800, usWinAscent=800, usWinDescent=200)
    font.setupPost()
    font.save(file)
