"""Prefilled values are drawn in an embedded subset of a shipped font, as PDF/A asks of every appearance."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any

from pydyf import Array, Dictionary, Stream, String

from builder.pdf.fonts import coverage, spelled
from builder.values.fields import FieldSpec
from builder.values.problem import Problem, Severity

# As viewers keep free at either side of what is typed (ISO 32000-1, 12.7.4.3).
PADDING = 2.0
LEADING = 1.2
SMALLEST = 4.0
WARNING = Severity.WARNING
# Six capitals and a plus say that it is a subset (ISO 32000-1, 9.6.4).
NAME = "/LLFORM+LoadleafValues"


UNKNOWN = "?"
"""What is drawn for a sign that the form font does not have; the value itself keeps the sign."""


def value_problems(specs: Iterable[FieldSpec], file: Path) -> tuple[Problem, ...]:
    """Warnings for prefilled values with signs that the form font does not have."""
    known = coverage(file)
    problems = []
    for spec in specs:
        gaps = {c for c in spec.value if spec.kind != "tick" and ord(c) not in known and c != "\n"}
        if gaps:
            fact = f'the form field {spec.name} keeps its value and shows "{UNKNOWN}" for {spelled(gaps)}'
            problems.append(Problem("glyph-unseen", None, fact, "A viewer that is typed into shows it.", WARNING))
    return tuple(problems)


def value_font(specs: Iterable[FieldSpec], file: Path) -> "ValueFont | None":
    """The font for all prefilled texts, or None when there are none."""
    characters = {c for spec in specs if spec.kind != "tick" for c in spec.value} - {"\n"}
    known = {c for c in characters if ord(c) in coverage(file)}
    return _subset(file, known | {" ", UNKNOWN}) if characters else None


@dataclass(frozen=True, slots=True)
class ValueFont:
    """A subset font program; `widths` are in thousandths of the size, by glyph number."""

    program: bytes
    glyphs: dict[str, int]
    widths: dict[int, int]
    ascent: int
    descent: int
    cap_height: int
    box: tuple[int, int, int, int]

    def width(self, text: str, size: float) -> float:
        """The width of `text` in points at `size` points."""
        return sum(self.widths[self.glyph(c)] for c in text) * size / 1000

    def glyph(self, character: str) -> int:
        """The number of the glyph that is drawn for a character."""
        return self.glyphs.get(character, self.glyphs[UNKNOWN])

    def content(self, spec: FieldSpec, width: float, height: float) -> bytes:
        """The drawing of a field's value within its width and height in points."""
        lines, size, top = self._single(spec, width, height) if spec.kind == "text" else self._many(spec, width, height)
        shown = []
        for number, line in enumerate(lines):
            spare = width - 2 * PADDING - self.width(line, size)
            x = PADDING + spare * {"left": 0.0, "center": 0.5, "right": 1.0}[spec.align]
            codes = "".join(f"{self.glyph(c):04X}" for c in line)
            shown.append(f"1 0 0 1 {x:.3f} {top - number * size * LEADING:.3f} Tm <{codes}> Tj")
        # Cut off at the field: even in the smallest size a value may be longer.
        text = f"/Tx BMC q 0 0 {width:g} {height:g} re W n BT 0 g /Value {size:g} Tf {' '.join(shown)} ET Q EMC"
        return text.encode("ascii")

    def _single(self, spec: FieldSpec, width: float, height: float) -> tuple[list[str], float, float]:
        """One line, made smaller until it fits, its capitals in the middle of the height."""
        text = spec.value.replace("\n", " ")
        wanted = self.width(text, spec.font_size)
        fit = min(1.0, (width - 2 * PADDING) / wanted) if wanted else 1.0
        # Set smaller rather than cut, so that the end of a value still shows.
        size = max(SMALLEST, round(spec.font_size * fit, 2))
        return [text], size, (height - self.cap_height * size / 1000) / 2

    def _many(self, spec: FieldSpec, width: float, height: float) -> tuple[list[str], float, float]:
        """Lines broken at spaces from the top down, made smaller until they fit."""
        size, room = spec.font_size, width - 2 * PADDING
        while True:
            lines = [line for part in spec.value.split("\n") for line in self._broken(part, room, size)]
            if size <= SMALLEST or len(lines) * size * LEADING <= height - 2 * PADDING:
                return lines, size, height - PADDING - self.ascent * size / 1000
            size = max(SMALLEST, size - 0.5)

    def _broken(self, text: str, width: float, size: float) -> Sequence[str]:
        lines = [""]
        for word in text.split(" "):
            longer = f"{lines[-1]} {word}" if lines[-1] else word
            # A word alone on its line is never broken, however long.
            if lines[-1] and self.width(longer, size) > width:
                lines.append(word)
            else:
                lines[-1] = longer
        return lines

    def embed(self, keep: Callable[[Any], bytes]) -> bytes:
        """Put the font into a PDF, object by object, with `keep`; its reference there."""
        length = Dictionary({"Length1": len(self.program)})
        system = {"Registry": String("Adobe"), "Ordering": String("Identity"), "Supplement": 0}
        descriptor = {
            "Type": "/FontDescriptor",
            "FontName": NAME,
            # Symbolic: glyphs are named by number.
            "Flags": 4,
            "FontBBox": Array(self.box),
            "ItalicAngle": 0,
            "Ascent": self.ascent,
            "Descent": self.descent,
            "CapHeight": self.cap_height,
            "StemV": 80,
            "FontFile2": keep(Stream([self.program], length, compress=True)),
        }
        widths = Array()
        for glyph, width in sorted(self.widths.items()):
            widths.extend((glyph, Array([width])))
        descendant = {
            "Type": "/Font",
            "Subtype": "/CIDFontType2",
            "BaseFont": NAME,
            "CIDSystemInfo": Dictionary(system),
            "FontDescriptor": keep(Dictionary(descriptor)),
            "W": widths,
            "CIDToGIDMap": "/Identity",
        }
        font = {
            "Type": "/Font",
            "Subtype": "/Type0",
            "BaseFont": NAME,
            "Encoding": "/Identity-H",
            "DescendantFonts": Array([keep(Dictionary(descendant))]),
            "ToUnicode": keep(Stream([_to_unicode(self.glyphs)], compress=True)),
        }
        return keep(Dictionary(font))


def _subset(file: Path, characters: set[str]) -> ValueFont:
    """The glyphs for `characters` of a TrueType file, without layout tables."""
    from fontTools import subset
    from fontTools.ttLib import TTFont

    # The new modification time would make each run's bytes differ.
    font = TTFont(file, recalcTimestamp=False)
    for table in ("GSUB", "GPOS", "GDEF"):  # reading these would take most of the time
        if table in font:
            del font[table]
    options = subset.Options(layout_features=[], hinting=False, notdef_outline=True, name_IDs=[])
    subsetter = subset.Subsetter(options)
    subsetter.populate(text="".join(sorted(characters)))
    subsetter.subset(font)
    program = BytesIO()
    font.save(program)
    scale = 1000 / font["head"].unitsPerEm
    cmap, head, os2 = font.getBestCmap(), font["head"], font["OS/2"]
    return ValueFont(
        program=program.getvalue(),
        glyphs={c: font.getGlyphID(cmap[ord(c)]) for c in sorted(characters)},
        widths={font.getGlyphID(name): round(font["hmtx"][name][0] * scale) for name in font.getGlyphOrder()},
        ascent=round(font["hhea"].ascent * scale),
        descent=round(font["hhea"].descent * scale),
        cap_height=round(os2.sCapHeight * scale),
        box=tuple(round(getattr(head, side) * scale) for side in ("xMin", "yMin", "xMax", "yMax")),
    )


def _to_unicode(glyphs: dict[str, int]) -> bytes:
    """The map from glyph numbers back to text; two characters with one glyph keep the plainer one."""
    back: dict[int, str] = {}
    for character, glyph in sorted(glyphs.items(), reverse=True):
        back[glyph] = character
    rows = [f"<{glyph:04X}> <{character.encode('utf-16-be').hex()}>" for glyph, character in sorted(back.items())]
    # A block of the map may have a hundred rows (CMap and CIDFont Files Specification, Adobe Technical Note 5014).
    blocks = [rows[i : i + 100] for i in range(0, len(rows), 100)]
    body = "\n".join(f"{len(block)} beginbfchar\n" + "\n".join(block) + "\nendbfchar" for block in blocks)
    return (
        "/CIDInit /ProcSet findresource begin 12 dict begin begincmap\n"
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
        "/CMapName /Adobe-Identity-UCS def /CMapType 2 def\n"
        "1 begincodespacerange <0000> <FFFF> endcodespacerange\n"
        f"{body}\nendcmap CMapName currentdict /CMap defineresource pop end end"
    ).encode("ascii")
