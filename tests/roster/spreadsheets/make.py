"""Makes the CSV files beside it with LibreOffice Calc; they were kept from version 7.4. Run: python make.py

Forty buyers of three alphabets are typed into a sheet with cells of dates and numbers, stored as .ods or .xlsx, and
exported from there, since what a spreadsheet writes depends on its cells: a German one makes 11.01.2027 and 55,3 of
what an English one writes as 1/11/2027 and 55.3.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path
from xml.sax.saxutils import escape

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE.parents[1]), str(HERE.parents[2])]

from roster.test_forty import HEAD, ROWS  # noqa: E402

YEAR, MONTH, DAY = (f'<number:{part} number:style="long"/>' for part in ("year", "month", "day"))
STYLES = {
    "plain": ("", (YEAR, "-", MONTH, "-", DAY)),
    "german": ('number:language="de" number:country="DE"', (DAY, ".", MONTH, ".", YEAR)),
    "american": ('number:language="en" number:country="US"', (MONTH, "/", DAY, "/", YEAR)),
}
FILES = {
    "comma.csv": ("plain", "xlsx", "44,34,76,1,,0,false,true,false"),
    "tab.csv": ("plain", "ods", "9,34,76,1,,0,false,true,false"),
    "semicolon.csv": ("german", "xlsx", "59,34,76,1,,0,false,true,false"),
    "quoted.csv": ("german", "ods", "59,34,76,1,,0,true,true,false"),
    "american.csv": ("american", "ods", "44,34,76,1,,0,false,true,false"),
    "code-page.csv": ("german", "ods", "59,34,1,1,,0,false,true,false"),
    "unicode.csv": ("plain", "ods", "9,34,65535,1,,0,false,true,false"),
}
"""How the cells are written, how the sheet is stored, and the tokens of Calc's export: separator, quote, code page
(76 for UTF-8, 1 for Windows-1252, 65535 for UTF-16), and whether all texts are in quotes.
"""
SPACES = " ".join(
    f'xmlns:{short}="urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"'
    for short, name in (("office", "office"), ("table", "table"), ("text", "text"), ("style", "style"),
                        ("number", "datastyle"))
)  # fmt: skip


def cell(heading: str, value: str) -> str:
    """A cell of the type that its column has."""
    if heading in ("starts", "tested"):
        return f'<table:table-cell table:style-name="day" office:value-type="date" office:date-value="{value}"/>'
    if heading == "bodyweight":
        number = value.replace(",", ".")
        return f'<table:table-cell table:style-name="figure" office:value-type="float" office:value="{number}"/>'
    return f'<table:table-cell office:value-type="string"><text:p>{escape(value)}</text:p></table:table-cell>'


def sheet(where: str, parts: tuple[str, ...]) -> str:
    """A flat OpenDocument sheet (OASIS OpenDocument 1.2)."""
    day = "".join(part if part[0] == "<" else f"<number:text>{part}</number:text>" for part in parts)
    figure = '<number:number number:decimal-places="1" number:min-integer-digits="1"/>'
    head = "".join(cell("", word) for word in HEAD)
    rows = [head, *("".join(cell(*pair) for pair in zip(HEAD, row, strict=True)) for row in ROWS)]
    return f"""<?xml version="1.0" encoding="UTF-8"?>
<office:document {SPACES} office:version="1.2" office:mimetype="application/vnd.oasis.opendocument.spreadsheet">
<office:automatic-styles>
<number:date-style style:name="D" {where}>{day}</number:date-style>
<number:number-style style:name="N" {where}>{figure}</number:number-style>
<style:style style:name="day" style:family="table-cell" style:data-style-name="D"/>
<style:style style:name="figure" style:family="table-cell" style:data-style-name="N"/>
</office:automatic-styles>
<office:body><office:spreadsheet><table:table table:name="Buyers">
{"".join(f"<table:table-row>{row}</table:table-row>" for row in rows)}
</table:table></office:spreadsheet></office:body></office:document>"""


def converted(folder: Path, kind: str, source: Path) -> Path:
    """What LibreOffice makes of a file."""
    command = ["soffice", f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--headless", "--convert-to", kind]
    subprocess.run([*command, "--outdir", str(folder), str(source)], check=True, capture_output=True)
    return source.with_suffix(f".{kind.split(':')[0]}")


def main() -> None:
    """Every file anew."""
    with tempfile.TemporaryDirectory() as name:
        for file, (style, stored, tokens) in FILES.items():
            flat = Path(name) / f"{style}.fods"
            flat.write_text(sheet(*STYLES[style]), "utf-8")
            book = converted(Path(name), stored, flat)
            made = converted(Path(name), f"csv:Text - txt - csv (StarCalc):{tokens}", book)
            (HERE / file).write_bytes(made.read_bytes())


if __name__ == "__main__":
    main()
