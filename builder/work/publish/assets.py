"""What a brand brings along as files: logo, fonts and Markdown pages, found beside the file that names them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from builder.given import Brand, FontFile, Sources
from builder.intake.reader import decode
from builder.pages.context import CoachPage
from builder.pdf import MOST_FONT_BYTES, MOST_PICTURE_BYTES, PICTURE_HELP, Face, picture_fault
from builder.pdf.trial import picture_trial
from builder.values.problem import Problem, listing
from builder.work.publish.own import NO_FILES, OwnFiles, look_names, own_files, own_names

LOGO_ENDINGS = (".svg", ".png")
FONT_ENDINGS = (".ttf", ".otf", ".woff", ".woff2")
BRAND_TEXT, BRAND_HEADING = "Brand Text", "Brand Heading"


@dataclass(frozen=True, slots=True)
class Assets:
    """A brand's files. `root` is the folder that they may be read from, None without a brand.

    `carried` has what may travel inside the booklet, by its name: logo, pages and own look, but no fonts, whose
    licences seldom let them be passed on.
    """

    root: Path | None = None
    logo: str | None = None
    faces: tuple[Face, ...] = ()
    pages: tuple[CoachPage, ...] = ()
    carried: tuple[tuple[str, bytes], ...] = ()
    own: OwnFiles = NO_FILES

    @property
    def text(self) -> str | None:
        """The brand's own text family, None when it has none."""
        return BRAND_TEXT if any(face.family == BRAND_TEXT for face in self.faces) else None

    @property
    def heading(self) -> str | None:
        """The brand's own heading family, None when it has none."""
        return BRAND_HEADING if any(face.family == BRAND_HEADING for face in self.faces) else None


def gather(sources: Sources, folder: Path | None = None) -> tuple[Assets, tuple[Problem, ...]]:
    """The assets that the brand names, and a problem for each that is missing, too large or of the wrong kind.

    They are looked for beside the file that names them, or in `folder`.
    """
    if sources.brand is None:
        return Assets(), ()
    brand = sources.brand.brand
    root = folder or brand_folder(sources)
    finder = _Finder(sources, root)
    logo = finder.file(brand.logo, LOGO_ENDINGS, "brand", "logo") if brand.logo else None
    if logo is not None:
        finder.logo(logo)
    faces = tuple(finder.faces(brand))
    pages = tuple(finder.pages(brand))
    look = finder.look()
    named = dict([*([(brand.logo or "", logo)] if logo else []), *finder.read, *look.read])
    carried = tuple((name, file.read_bytes()) for name, file in named.items())
    return Assets(root, logo.as_uri() if logo else None, faces, pages, carried, look), tuple(finder.problems)


def brand_folder(sources: Sources) -> Path:
    """Where the file lies that holds the brand, which must be there."""
    return Path(sources.at("brand", key=True).file).resolve().parent


def brand_names(brand: Brand) -> tuple[str, ...]:
    """Every file that a brand names."""
    fonts = (font.file for font in (*brand.text_font, *brand.heading_font))
    return tuple(dict.fromkeys((*((brand.logo,) if brand.logo else ()), *fonts, *brand.pages, *look_names(brand))))


class _Finder:
    def __init__(self, sources: Sources, root: Path) -> None:
        self.sources, self.root = sources, root
        self.problems: list[Problem] = []
        self.read: list[tuple[str, Path]] = []

    def problem(self, code: str, fact: str, help_: str, *path: str | int) -> None:
        self.problems.append(Problem(code, self.sources.at(*path), fact, help_))

    def file(self, name: str, endings: tuple[str, ...], *path: str | int) -> Path | None:
        # Resolved first: a link in the folder may lead out of it.
        found = (self.root / name).resolve()
        if not found.is_relative_to(self.root):
            self.problem("path", f'"{name}" leads out of the folder', "Put the file beside the brand file.", *path)
        elif not found.is_file():
            self.problem("missing-file", f'there is no file "{name}"', f"It is looked for in {self.root}.", *path)
        elif found.suffix.lower() not in endings:
            help_ = f"Write a file that ends in {listing(endings)}."
            self.problem("file-kind", f'"{name}" is of the wrong kind', help_, *path)
        # Before anything is read of it.
        elif found.stat().st_size > MOST_FONT_BYTES:
            fact = f'"{name}" is larger than {MOST_FONT_BYTES // 1024**2} MiB'
            self.problem("file-too-large", fact, "Real files are far smaller; is it the right one?", *path)
        else:
            return found
        return None

    def logo(self, found: Path) -> None:
        """Looks into the logo, and draws it once."""
        with found.open("rb") as file:
            data = file.read(MOST_PICTURE_BYTES + 1)
        if len(data) > MOST_PICTURE_BYTES:
            self.problem("logo-size", "the logo is larger than 2 MiB", "Save it smaller, best as SVG.", "brand", "logo")
        elif fault := picture_fault(data) or picture_trial(data):
            self.problem("picture", f"the logo {fault}", PICTURE_HELP, "brand", "logo")

    def look(self) -> OwnFiles:
        """The coach's own sheets, templates and words, as far as they can be used."""
        found = {name: self.file(name, endings, *path) for name, path, endings in own_names(self.sources)}
        own, wrong = own_files(self.sources, {name: file for name, file in found.items() if file is not None})
        self.problems += wrong
        return own

    def faces(self, brand: Brand) -> Iterator[Face]:
        for key, family, fonts in (
            ("text_font", BRAND_TEXT, brand.text_font),
            ("heading_font", BRAND_HEADING, brand.heading_font),
        ):
            for place, font in enumerate(fonts):
                found = self.file(font.file, FONT_ENDINGS, "brand", key, place, "file")
                if found is not None:
                    yield _face(family, font, found)

    def pages(self, brand: Brand) -> Iterator[CoachPage]:
        for place, name in enumerate(brand.pages):
            found = self.file(name, (".md",), "brand", "pages", place)
            if found is not None:
                self.read.append((name, found))
                text, problems = decode(found.read_bytes(), str(found))
                # Tabs are an error in YAML only, and the reader is made for that.
                self.problems += [p for p in problems if p.code != "tab"]
                yield CoachPage(found.stem, text)


def _face(family: str, font: FontFile, found: Path) -> Face:
    return Face(family, font.weight, "italic" if font.italic else "normal", found)


__all__ = ["Assets", "brand_folder", "brand_names", "gather"]
