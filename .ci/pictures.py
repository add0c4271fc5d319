"""Draws the README's pictures from the samples and from its own two files, with the text of their pages beside them.

    .venv/bin/python .ci/pictures.py
"""

import html
import io
import re
import sys
import tempfile
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

from builder.intake import Loaded, load
from builder.pages.model import Booklet, Paper
from builder.pdf.html import render
from builder.work.publish import Choices, dress, publish
from builder.work.publish.booklet import draft

ROOT = Path(__file__).parents[1]
PICTURES = ROOT / "samples" / "pictures"
WIDTH = 760
COLOURS = 64
CHOICES = Choices(date(2027, 1, 4), Paper.A4)


def files(folder: Path) -> dict[str, Loaded]:
    """The two booklets that are shown: of a sample, and of the client and the block in the README."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    for kind in ("client", "block"):
        (found,) = re.findall(rf"^```yaml {kind}\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)
        (folder / f"{kind}.yaml").write_text(found, encoding="utf-8")
    samples = [ROOT / "samples" / "intermediate", ROOT / "samples" / "brand"]
    return {"sample": load(samples), "twelve lines": load([folder])}


def shown(booklet: Booklet, name: str) -> dict[str, str]:
    """The pictures of a booklet: file name and the anchor of the section whose first page it is."""
    session = next(section.anchor for section in booklet.sections if section.template.startswith("session"))
    cover = {"cover.png": booklet.sections[0].anchor}
    return (cover if name == "sample" else {}) | {f"{name.replace(' ', '-')}-session.png": session}


def text_of(booklet: Booklet, anchor: str) -> str:
    """What a reader sees of a section: its words, one piece a line."""
    (section,) = (one for one in booklet.sections if one.anchor == anchor)
    page = render(replace(booklet, sections=(section,))).split("<body", 1)[1].split(">", 1)[1]
    pieces = html.unescape(re.sub(r"<[^>]+>", "\n", page)).split("\n")
    return "\n".join(" ".join(piece.split()) for piece in pieces if piece.strip()) + "\n"


def texts() -> dict[str, str]:
    """The text of each picture by its file name, as the code makes it now."""
    found = {}
    with tempfile.TemporaryDirectory() as folder:
        for name, loaded in files(Path(folder)).items():
            worn, _ = dress(loaded.sources, CHOICES)
            made, problems = draft(loaded, worn, CHOICES)
            assert made is not None and loaded.problems == problems == ()
            found |= {file: text_of(made.booklet, at) for file, at in shown(made.booklet, name).items()}
    return found


def draw(pdf: bytes, page: int) -> bytes:
    """A page as a small PNG."""
    import pypdfium2

    sheet: Any = pypdfium2.PdfDocument(pdf)[page]
    picture = sheet.render(scale=WIDTH / sheet.get_width()).to_pil().convert("RGB").quantize(COLOURS)
    kept = io.BytesIO()
    picture.save(kept, "PNG", optimize=True)
    return kept.getvalue()


def main() -> None:
    """Writes the pictures and their texts."""
    with tempfile.TemporaryDirectory() as folder:
        for name, loaded in files(Path(folder)).items():
            done = publish(loaded, CHOICES)
            assert done.pressed and done.booklet and not done.problems, done.problems
            pages = {entry.title: entry.page for entry in reversed(done.pressed.outline)}
            for file, anchor in shown(done.booklet, name).items():
                (title,) = (section.title for section in done.booklet.sections if section.anchor == anchor)
                (PICTURES / file).write_bytes(draw(done.pressed.pdf, pages.get(title, 0)))
    for file, text in texts().items():
        (PICTURES / file).with_suffix(".txt").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
