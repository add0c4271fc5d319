"""A look of the coach's own: sheets, templates and words beside the brand, checked with file and line, in a sandbox."""

from __future__ import annotations

import io
import shutil
from datetime import date
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from cli.test_commands import BLOCK, CLIENT
from click.testing import CliRunner
from kept import once_a_run
from pdf import verapdf

from builder import places
from builder.cli import loadleaf
from builder.intake import load
from builder.pages.model import Edition
from builder.pdf.html import render
from builder.values.lists import Keep
from builder.values.problem import Problem, Span
from builder.work.check import check
from builder.work.publish import Choices, Published, publish
from builder.work.publish.booklet import draft, dress
from builder.work.publish.own import template_names
from builder.work.roster import orders
from builder.work.roster.orders import brand_files

BRAND = Path(__file__).parent / "brand"
ON = date(2027, 1, 4)


def _sources(folder: Path) -> list[Path]:
    """A small client and block with the brand of the tests, in a folder of their own."""
    shutil.copytree(BRAND, folder, dirs_exist_ok=True)
    (folder / "c.yaml").write_text(CLIENT, "utf-8")
    (folder / "b.yaml").write_text(BLOCK, "utf-8")
    return [folder / name for name in ("c.yaml", "b.yaml", "brand.yaml")]


@once_a_run
def _built() -> Published:
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        return publish(load(_sources(Path(folder))), Choices(ON, edition=Edition.PERSONAL, keep=Keep.ALL))


def _problems(folder: Path) -> list[Problem]:
    return list(check(load(_all(folder), need=()), ON).problems)


def _all(folder: Path) -> list[Path]:
    return [folder / name for name in ("c.yaml", "b.yaml", "brand.yaml")]


def _texts(pdf: bytes) -> list[str]:
    return [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)]


def test_the_brand_of_the_tests_is_sound(tmp_path: Path) -> None:
    _sources(tmp_path)
    assert [problem.as_text() for problem in _problems(tmp_path)] == []
    alone = check(load([tmp_path / "brand.yaml"], need=()), ON)
    assert [problem.as_text() for problem in alone.problems] == []


@pytest.mark.slow
def test_the_last_page_is_the_coachs_own_with_words_picture_and_what_ours_has() -> None:
    done = _built()
    assert done.problems == () and done.pressed is not None
    last = _texts(done.pressed.pdf)[-1]
    for part in ("Copper Lantern Lifting, by lamplight", "Questions? The lamp is on."):
        assert part in last
    assert "Ask Ysolde before you copy a page." in "".join(_texts(done.pressed.pdf))
    assert "Questions, or a block that is done?" not in "".join(_texts(done.pressed.pdf))
    with pikepdf.open(io.BytesIO(done.pressed.pdf)) as pdf:
        figures = [one for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and one.get("/Alt") == "A lamp"]
    assert figures


@pytest.mark.slow
@pytest.mark.skipif(bool(verapdf.absent()), reason=verapdf.absent() or "present")
def test_pages_of_the_coachs_own_keep_pdf_ua_and_pdf_a(tmp_path: Path) -> None:
    pressed = _built().pressed
    assert pressed is not None
    (tmp_path / "own.pdf").write_bytes(pressed.pdf)
    assert verapdf.broken_rules(tmp_path / "own.pdf") == {"ua1": [], "3a": []}


@pytest.mark.slow
def test_the_look_travels_with_the_booklet() -> None:
    pressed = _built().pressed
    assert pressed is not None
    with pikepdf.open(io.BytesIO(pressed.pdf)) as pdf:
        carried = {str(spec.filename) for spec in pdf.attachments.values()}
    for name in ("lantern.css", "back.html.j2", "words.yaml", "lamp.svg"):
        assert any(one.endswith(name) for one in carried), carried


def test_a_roster_sees_that_a_template_has_changed(tmp_path: Path) -> None:
    sources = load(_sources(tmp_path)).sources
    assert sources is not None
    before = brand_files(sources)
    assert {"look/lantern.css", "look/back.html.j2", "look/words.yaml", "look/lamp.svg"} <= set(before.names)
    (tmp_path / "look" / "back.html.j2").write_text("<p>{{ it.brand }}</p>", "utf-8")
    changed = load([*_all(tmp_path)[:2], tmp_path / "brand.yaml"]).sources
    assert changed is not None
    orders._digest.cache_clear()
    assert brand_files(changed).digest != before.digest


WRONG = [
    ("look/back.html.j2", "<p>{{ it.brand }</p>", "look-template", 1),
    ("look/back.html.j2", "<p>\n{% if it.brand %}x</p>", "look-template", 2),
    ("look/back.html.j2", "<p>fine</p>\n<p>{{ it.brnad }}</p>", "look-template", 2),
    ("look/back.html.j2", "\n\n{% include 'pages/none.html.j2' %}", "look-template", 3),
    ("look/back.html.j2", "<p>x</p>\n<script>alert(1)</script>", "look-template", 2),
    ("look/back.html.j2", "<p>x</p>\n<img src='x.png'/>", "look-template", 2),
    ("look/back.html.j2", "{{ picture('look/other.svg') }}", "look-template", 1),
    ("look/back.html.j2", "{{ it.__class__.__mro__ }}", "look-template", 1),
    ("look/back.html.j2", "<p>a</p>\n{{ ''.__class__.__base__.__subclasses__() }}", "look-template", 2),
    ("look/back.html.j2", "{{ it.brand.format.__globals__ }}", "look-template", 1),
    ("look/back.html.j2", "{% include '../../../etc/passwd' %}", "look-template", 1),
    ("look/back.html.j2", "{% for a in range(90000) %}{% for b in range(90000) %}x{% endfor %}{% endfor %}",
     "look-template", 1),
    ("look/lantern.css", "p { color: red }\n.a { colr: red }", "look-sheet", 2),
    ("look/lantern.css", "@import url(x.css);", "look-sheet", 1),
    ("look/lantern.css", "p { color: red }\n@font-face { src: url(a.ttf) }", "look-sheet", 2),
    ("look/lantern.css", "p { background: url(/etc/passwd) }", "look-sheet", 1),
    ("look/lantern.css", "p { background: url('https://a.example/a.png') }", "look-sheet", 1),
    ("look/words.yaml", "back.questions: Ask.\nback.qestions: Ask.", "look-words", 2),
    ("look/words.yaml", "back.questions: Ask {whom}.", "look-words", 1),
    ("look/words.yaml", "back.questions: 'Ask {.'", "look-words", 1),
    ("look/words.yaml", "decimal: ','", "look-words", 1),
    ("look/words.yaml", "back.questions: [a, b]", "look-words", 1),
    ("look/words.yaml", "- a", "look-words", 1),
    ("look/lamp.svg", "<svg", "picture", 9),
    ("brand.yaml", "format: 1\nbrand:\n  name: B\n  look:\n    templates: {pages/bakc: look/back.html.j2}",
     "look-template", 5),
    ("brand.yaml", "format: 1\nbrand:\n  name: B\n  look: {sheets: [look/none.css]}", "missing-file", 4),
    ("brand.yaml", "format: 1\nbrand:\n  name: B\n  look: {words: look/lamp.svg}", "file-kind", 4),
    ("brand.yaml", "format: 1\nbrand:\n  name: B\n  look: {sheets: [../x.css]}", "path", 4),
]  # fmt: skip


@pytest.mark.parametrize(("name", "text", "code", "line"), WRONG)
def test_what_is_wrong_is_told_where_it_stands(tmp_path: Path, name: str, text: str, code: str, line: int) -> None:
    _sources(tmp_path)
    (tmp_path / name).write_text(text, "utf-8")
    found = [(one.code, Path(one.span.file).name, one.span.line) for one in _problems(tmp_path)
             if isinstance(one.span, Span)]  # fmt: skip
    where = "brand.yaml" if code == "picture" else Path(name).name
    assert (code, where, line) in found, [one.as_text() for one in _problems(tmp_path)]


def test_what_check_refuses_is_not_built_and_nothing_of_a_file_comes_out(tmp_path: Path) -> None:
    _sources(tmp_path)
    (tmp_path / "look" / "back.html.j2").write_text("{{ it.__class__ }}", "utf-8")
    done = publish(load(_all(tmp_path)), Choices(ON))
    assert done.pressed is None and {one.code for one in done.problems} == {"look-template"}


def test_a_file_that_is_too_large_is_refused(tmp_path: Path) -> None:
    _sources(tmp_path)
    (tmp_path / "look" / "lantern.css").write_text("p { color: red }\n" * 5000, "utf-8")
    assert "file-too-large" in {one.code for one in _problems(tmp_path)}


def test_words_in_the_brands_language_leave_pages_in_another_as_they_are(tmp_path: Path) -> None:
    done = check(load(_sources(tmp_path), need=()), ON)
    assert done.sound
    sources = load(_all(tmp_path))
    assert sources.sources is not None
    assert dress(sources.sources, Choices(ON))[0].words == {"back.questions": "Questions? The lamp is on."}
    worn, told = dress(sources.sources, Choices(ON, language="de"))
    assert worn.words == {} and "brand-language" in {one.code for one in told}


def test_a_template_that_leaves_out_cells_of_the_log_is_told(tmp_path: Path) -> None:
    _sources(tmp_path)
    (tmp_path / "brand.yaml").write_text(
        "format: 1\nbrand:\n  name: B\n  look:\n    templates: {pages/session_page: look/x.html.j2,\n"
        "      pages/session_log: look/x.html.j2}\npaper: A4\n", "utf-8"
    )  # fmt: skip
    (tmp_path / "look" / "x.html.j2").write_text("<p>Nothing to fill in</p>", "utf-8")
    assert any("cells" in one.fact or "field" in one.fact for one in _problems(tmp_path)), _problems(tmp_path)


def test_the_shipped_look_is_written_to_start_from_and_is_sound_as_ones_own(tmp_path: Path) -> None:
    """Every sheet, template and sentence that is written does as one's own, and leaves the pages as they are."""
    _sources(tmp_path)
    folder = tmp_path / "ours"
    assert CliRunner().invoke(loadleaf, ["look", str(folder), "--theme", "default"]).exit_code == 0
    names = template_names()
    assert {path.relative_to(folder).as_posix() for path in folder.rglob("*.j2")} == {f"{n}.html.j2" for n in names}
    templates = "".join(f"      {name}: ours/{name}.html.j2\n" for name in names)
    brand = "format: 1\nbrand:\n  name: B\n  look:\n    sheets: [ours/theme.css]\n    words: ours/words.yaml\n"
    (tmp_path / "brand.yaml").write_text(f"{brand}    templates:\n{templates}", "utf-8")
    loaded = load(_all(tmp_path))
    worn, wrong = dress(loaded.sources, Choices(ON))
    assert [one.as_text() for one in wrong] == []
    made, _ = draft(loaded, worn, Choices(ON))
    assert made is not None
    assert render(made.booklet, worn.look.own) == render(made.booklet)


@pytest.mark.parametrize("theme", places.themes())
def test_a_written_sheet_has_its_measures_in_it(theme: str, tmp_path: Path) -> None:
    """In ones of the coach's own nothing is put in the place of a measure's name."""
    assert CliRunner().invoke(loadleaf, ["look", str(tmp_path / "ours"), "--theme", theme]).exit_code == 0
    written = (tmp_path / "ours" / "theme.css").read_text("utf-8")
    ours = (places.styles() / "themes" / theme / "theme.css").read_text("utf-8")
    assert len(written.splitlines()) == len(ours.splitlines())
    assert "var(--m-" not in written
