"""What people write prints as itself: no HTML, Jinja, CSS or Markdown of theirs is carried out."""

from __future__ import annotations

import re
import shutil
import subprocess
import tempfile
from datetime import date
from pathlib import Path

import pikepdf
import pytest
from kept import once_a_run
from trust.hostile import BLOCK, CLIENT

from builder.intake import load
from builder.pages.model import Edition
from builder.values.lists import Keep
from builder.values.problem import Span
from builder.work.publish import Choices, publish, suggested_name

MARKS = "<b>{{7*7}}</b>{% x %}</style>&amp;*a* [b](c) {0} %s ${d} `e`"
"""HTML, Jinja, the end of a style sheet, an entity, Markdown, and what other templates fill in."""
WORD = "W" * 4_000
"""Longer than a page of A5 is."""
PAGE = f"# {MARKS}\n\n{MARKS}\n\n<script>alert(1)</script> ![x](file:///etc/hostname) {WORD}\n"


def _files(folder: Path, name: str = MARKS) -> list[Path]:
    quoted = "'" + name.replace("'", "''") + "'"
    client = CLIENT.decode().replace("Ada Quill", quoted)
    client = client.replace("rir: 2}]", f"rir: 2, note: {quoted}}}]")
    block = BLOCK.decode().replace("title: Short", f"title: {quoted}, about: {quoted}")
    block = block.replace("title: Squat", f"title: {quoted}\n    note: {quoted}")
    block = block.replace("progression:", f"cues: [{quoted}], progression:")
    brand = f"format: 1\nbrand:\n  name: {quoted}\n  coach: {quoted}\n  line: {quoted}\n  pages: [own.md]\n"
    brand += f"  legal: {{licence: '{WORD}', copyright: {quoted}}}\n"
    texts = {"c.yaml": client, "b.yaml": block, "brand.yaml": brand, "own.md": PAGE}
    for file, text in texts.items():
        (folder / file).write_text(text, encoding="utf-8")
    return [folder / file for file in ("c.yaml", "b.yaml", "brand.yaml")]


def _plain(text: str) -> str:
    return re.sub(r"[\s\u2010\u00ad-]", "", text).replace("“", '"')


@once_a_run
def _marked() -> bytes:
    choices = Choices(date(2027, 1, 4), buyer=MARKS[:60], order=MARKS[:40], keep=Keep.ALL)
    with tempfile.TemporaryDirectory() as folder:
        done = publish(load(_files(Path(folder))), choices)
    assert [problem.as_text() for problem in done.problems] == []
    assert done.pressed is not None
    return done.pressed.pdf


@pytest.fixture
def booklet(tmp_path: Path) -> Path:
    path = tmp_path / "o.pdf"
    path.write_bytes(_marked())
    return path


@pytest.mark.slow
@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="needs poppler")
def test_marks_print_as_they_were_written(booklet: Path) -> None:
    told = subprocess.run(["pdftotext", "-raw", booklet, "-"], capture_output=True, check=True).stdout.decode()
    assert _plain(told).count(_plain(MARKS)) >= 5
    assert "<script>alert(1)</script>" in told
    assert "49</b>" not in told


@pytest.mark.slow
def test_marks_stand_in_outline_metadata_and_field_labels_as_they_were_written(booklet: Path) -> None:
    with pikepdf.open(booklet) as pdf:
        assert MARKS in str(pdf.docinfo.Title) and str(pdf.docinfo.Author) == MARKS
        assert str(pdf.docinfo.Buyer) == MARKS[:60] and str(pdf.docinfo.Order) == MARKS[:40]
        with pdf.open_metadata() as metadata:
            assert MARKS in metadata["dc:title"]
            assert MARKS[:40] in str(metadata["dc:rights"])
        with pdf.open_outline() as outline:
            titles = [item.title for item in outline.root]
            titles += [kid.title for item in outline.root for kid in item.children]
        assert any(MARKS in title for title in titles), titles
        assert all(re.fullmatch(r"[a-z0-9-]+", str(field.T)) for field in pdf.Root.AcroForm.Fields)


@pytest.mark.slow
@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="needs poppler")
def test_a_word_of_4_000_letters_is_broken_and_stays_on_the_page(booklet: Path) -> None:
    told = subprocess.run(["pdftotext", "-bbox", booklet, "-"], capture_output=True, check=True).stdout.decode()
    width, letters = 0.0, 0
    for line in told.splitlines():
        if page := re.search(r'<page width="([\d.]+)"', line):
            width = float(page[1])
        if word := re.search(r'xMin="([\d.-]+)".* xMax="([\d.-]+)".*>(W+)[-\u2010]?</word>', line):
            letters += len(word[3])
            assert float(word[1]) >= 0 and float(word[2]) <= width, line[:120]
    assert letters == 8_000


@pytest.mark.slow
def test_no_picture_or_link_of_a_text_is_followed(booklet: Path) -> None:
    with pikepdf.open(booklet) as pdf:
        links = [
            str(note.A.URI)
            for page in pdf.pages
            for note in page.get("/Annots", [])
            if note.get("/Subtype") == "/Link" and "/A" in note and "/URI" in note.A
        ]
    assert links == []


@pytest.mark.parametrize(
    "name", ["../../etc/passwd", "con", "  .", "a/b\\c:d*?", "🏋", "Ø" * 120, "㏒" * 120, "W" * 120]
)
def test_a_file_name_made_of_names_is_plain_and_short(tmp_path: Path, name: str) -> None:
    sources = load(_files(tmp_path, name)).sources
    assert sources is not None
    made = suggested_name(sources)
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*\.pdf", made)
    assert len(made) <= 125


@pytest.mark.parametrize("sign", ["😀", "木", "\N{HEBREW LETTER ALEF}"])
def test_a_sign_that_no_font_has_is_told_where_it_stands(tmp_path: Path, sign: str) -> None:
    choices = Choices(date(2027, 1, 4), edition=Edition.POCKET, keep=Keep.ALL)
    done = publish(load(_files(tmp_path, f"Ada {sign}")), choices)
    assert done.pressed is None
    found = {(p.code, Path(p.span.file).name, p.span.line) for p in done.problems if isinstance(p.span, Span)}
    assert ("glyph-missing", "c.yaml", 2) in found
    assert ("glyph-missing", "b.yaml", 2) in found


@pytest.mark.parametrize("sign", ["\\x1b", "\\0", "\\u202e", "\\u2028", "\\x85", "\\ufffe"])
def test_a_control_sign_is_told_where_it_stands(tmp_path: Path, sign: str) -> None:
    (tmp_path / "c.yaml").write_bytes(CLIENT.replace(b"Ada Quill", b'"Ada ' + sign.encode() + b'"'))
    (problem,) = load([tmp_path / "c.yaml"], need=()).problems
    assert problem.code == "control-sign"
    assert isinstance(problem.span, Span) and problem.span.line == 2
