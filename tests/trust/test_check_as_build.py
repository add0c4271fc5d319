"""What `build` would refuse, `check` refuses, with file and line; what `check` lets pass, `build` prints."""

from __future__ import annotations

import struct
from datetime import date
from pathlib import Path

import pytest
from trust.hostile import BLOCK, CLIENT

from builder import places
from builder.intake import load
from builder.pages.model import Edition
from builder.values.lists import Keep
from builder.values.problem import Severity, Span
from builder.work.check import check
from builder.work.publish import Choices, publish

ON = date(2027, 1, 4)
FONT = places.fonts() / "source-sans-3" / "regular.ttf"
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9">{}</svg>'
EMPHASIS = "Stop *at once*, **_really_ at once**, `now`, _and **then**_ rest. A [page](https://a.example) says *why*."
BROKEN_PNG = b"\x89PNG\r\n\x1a\n" + struct.pack(">I4sIIBBBBB", 13, b"IHDR", 20, 20, 8, 2, 0, 0, 0) + b"crc.junkjunk"


def written(folder: Path, brand: str, **files: bytes) -> list[Path]:
    """The sources of a small run with this brand; further files lie beside it."""
    (folder / "c.yaml").write_bytes(CLIENT)
    (folder / "b.yaml").write_bytes(BLOCK)
    (folder / "brand.yaml").write_text(f"format: 1\n{brand}", "utf-8")
    for name, data in files.items():
        (folder / name.replace("_", ".")).write_bytes(data)
    return [folder / name for name in ("c.yaml", "b.yaml", "brand.yaml")]


REFUSED: list[tuple[str, dict[str, bytes], str, int]] = [
    ("theme: sparkly\nbrand: {name: B}\n", {}, "unknown-theme", 2),
    ("brand:\n  name: B\n  logo: gone.svg\n", {}, "missing-file", 4),
    ("brand:\n  name: B\n  logo: l.svg\n", {"l_svg": SVG.format('<image href="https://x.example/a"/>').encode()},
     "picture", 4),
    ("brand:\n  name: B\n  logo: l.svg\n", {"l_svg": b"<svg"}, "picture", 4),
    ("brand:\n  name: B\n  logo: l.png\n", {"l_png": BROKEN_PNG}, "picture", 4),
    ("brand:\n  name: B\n  text_font:\n    - file: f.ttf\n", {"f_ttf": FONT.read_bytes()[:60_000]}, "font-file", 5),
    ("brand:\n  name: B\n  text_font:\n    - file: f.ttf\n", {"f_ttf": FONT.read_bytes()}, "font-weight", 4),
    ("brand:\n  name: B\n  coach: Wilhelmina 木\n", {}, "glyph-missing", 4),
    ("brand:\n  name: B\n  pages: [p.md]\n", {"p_md": "# 木\n".encode()}, "glyph-missing", 4),
]  # fmt: skip


def refusals(found: tuple[object, ...]) -> set[tuple[str, str, int]]:
    """Code, file name and line of each error that has a place."""
    return {
        (one.code, Path(one.span.file).name, one.span.line)  # type: ignore[attr-defined]
        for one in found
        if one.severity is Severity.ERROR and isinstance(one.span, Span)  # type: ignore[attr-defined]
    }


@pytest.mark.slow
@pytest.mark.parametrize(("brand", "files", "code", "line"), REFUSED, ids=[f"{r[2]}-{r[3]}" for r in REFUSED])
def test_check_refuses_what_build_refuses_with_file_and_line(
    tmp_path: Path, brand: str, files: dict[str, bytes], code: str, line: int
) -> None:
    sources = load(written(tmp_path, brand, **files), need=())
    checked = check(sources, ON)
    assert (code, "brand.yaml", line) in refusals(checked.problems), [p.as_text() for p in checked.problems]
    built = publish(sources, Choices(ON, edition=Edition.PERSONAL, keep=Keep.ALL))
    assert (code, "brand.yaml", line) in refusals(built.problems), [p.as_text() for p in built.problems]
    alone = check(load([tmp_path / "brand.yaml"], need=()), ON)
    assert not alone.sound


@pytest.mark.parametrize(("key", "name"), [("logo", "l.png"), ("pages", "p.md"), ("text_font", "f.ttf")])
def test_a_huge_file_of_a_brand_is_not_read(tmp_path: Path, key: str, name: str) -> None:
    value = {"logo": name, "pages": f"[{name}]", "text_font": f"[{{file: {name}}}]"}[key]
    sources = load(written(tmp_path, f"brand:\n  name: B\n  {key}: {value}\n"), need=())
    with (tmp_path / name).open("wb") as file:
        file.truncate(1 << 40)
    checked = check(sources, ON)
    assert refusals(checked.problems) == {("file-too-large", "brand.yaml", 4)}


@pytest.mark.slow
def test_emphasis_in_legal_texts_and_pages_prints(tmp_path: Path) -> None:
    """They are Markdown: italic is set in the italic at hand, bold italic as bold."""
    brand = f"brand:\n  name: B\n  legal: {{licence: '{EMPHASIS}', disclaimer: '{EMPHASIS}'}}\n  pages: [p.md]\n"
    page = f"# A *page*\n\n## And _more_\n\n{EMPHASIS}\n\n| *a* | **b** |\n|---|---|\n| *c* | **_d_** |\n\n> *e*\n"
    sources = load(written(tmp_path, brand, p_md=page.encode()), need=())
    checked = check(sources, ON)
    assert [p.as_text() for p in checked.problems] == []
    built = publish(sources, Choices(ON, keep=Keep.ALL))
    assert built.pressed is not None, [p.as_text() for p in built.problems]


@pytest.mark.parametrize("what", ["page", "logo"])
def test_a_link_out_of_the_folder_is_told_by_check(tmp_path: Path, what: str) -> None:
    brand = "brand:\n  name: B\n  pages: [p.md]\n" if what == "page" else "brand:\n  name: B\n  logo: p.svg\n"
    inside = tmp_path / "in"
    inside.mkdir()
    sources = written(inside, brand)
    (tmp_path / "out").write_text("# A page\n")
    (inside / ("p.md" if what == "page" else "p.svg")).symlink_to(tmp_path / "out")
    assert ("path", "brand.yaml", 4) in refusals(check(load(sources, need=()), ON).problems)


def test_a_block_that_the_client_cannot_train_is_told_by_check(tmp_path: Path) -> None:
    client = CLIENT.replace(b"\ngym:", b"\nlimits: [{area: knee, avoid: [back squat]}]\ngym:")
    assert client != CLIENT
    sources = written(tmp_path, "brand: {name: B}\n")
    (tmp_path / "c.yaml").write_bytes(client)
    found = check(load(sources, need=()), ON).problems
    assert {p.code for p in found if p.severity is Severity.ERROR} == {"nothing-planned"}
