"""An accent too pale to be read is repaired with a warning, and the booklet is built all the same."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest
from cli.test_commands import BLOCK, CLIENT, loadleaf

from builder.intake import load
from builder.pages.model import Booklet, Edition
from builder.pdf.colour import readable
from builder.pdf.fragments.leaves import leaves
from builder.pdf.fragments.parts import Leaf
from builder.pdf.own import Own
from builder.values.lists import Keep
from builder.values.problem import Severity
from builder.work.publish import Choices, publish

PALE, DARK = "#f2a33c", "#1d5b52"


def written(folder: Path, accent: str) -> list[Path]:
    brand = f'format: 1\nbrand:\n  name: Ferry Street Strength\n  colours: {{accent: "{accent}"}}\n'
    texts = {"client.yaml": CLIENT, "block.yaml": BLOCK, "brand.yaml": brand}
    for name, text in texts.items():
        (folder / name).write_text(text, encoding="utf-8")
    return [folder / name for name in texts]


@pytest.mark.slow
def test_a_pale_accent_is_told_where_it_stands_and_the_pdf_is_written(tmp_path: Path) -> None:
    target = tmp_path / "out.pdf"
    done = loadleaf("build", *written(tmp_path, PALE), "-o", target)
    assert done.returncode == 0
    assert target.exists()
    assert re.search(r"brand\.yaml:4:\d+: warning: .*1\.7:1.*4\.5:1.*WCAG 2\.2 AA.*\[accent-contrast\]", done.stderr)
    assert readable(PALE) in done.stderr
    assert "Nothing was written" not in done.stderr


@pytest.mark.slow
def test_figures_and_styles_share_the_repaired_accent_and_the_pale_one_is_nowhere(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[str] = []

    def spy(booklet: Booklet, css: Sequence[str], own: Own) -> tuple[Leaf, ...]:
        parts = leaves(booklet, css, own)
        seen.extend(("".join(leaf.html for leaf in parts), "".join(css)))
        return parts

    monkeypatch.setattr("builder.pdf.fragments.press.leaves", spy)
    done = publish(load(written(tmp_path, PALE)), Choices(date(2027, 1, 4), keep=Keep.ALL))
    assert [(p.code, p.severity) for p in done.problems] == [("accent-contrast", Severity.WARNING)]
    assert done.pressed is not None
    html, css = seen
    assert f'"{readable(PALE)}"' in html
    assert f"--accent: {readable(PALE)}" in css
    assert PALE not in html + css


@pytest.mark.slow
def test_a_dark_accent_is_used_as_it_is_without_a_word(tmp_path: Path) -> None:
    done = publish(load(written(tmp_path, DARK)), Choices(date(2027, 1, 4), edition=Edition.LOG, keep=Keep.ALL))
    assert done.problems == ()
    assert done.pressed is not None
