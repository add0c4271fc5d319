"""A whole booklet meets PDF/UA-1 and PDF/A-3a, as an independent validator sees it."""

from __future__ import annotations

import re
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from pages.plans import sparse
from pages.pressed import print_booklet, printed
from pages.sample_pages import context
from pdf import verapdf
from short import shortened

from builder.pages.model import Paper
from builder.pages.theme import DEFAULT_THEME, theme
from builder.places import themes
from builder.plan import make_plan

pytestmark = pytest.mark.slow


needs_verapdf = pytest.mark.skipif(bool(verapdf.absent()), reason=verapdf.absent() or "present")


@needs_verapdf
def test_the_novice_sample_on_a5_passes_pdf_ua_1_and_pdf_a_3a(tmp_path: Path) -> None:
    """Two of its weeks: the others have more pages of the same kinds, and each takes the validator long."""
    file, sources = tmp_path / "novice.pdf", shortened("novice").sources
    assert sources is not None
    file.write_bytes(print_booklet(replace(context("novice"), plan=make_plan(sources))).pressed.pdf)
    assert verapdf.broken_rules(file) == {"ua1": [], "3a": []}


@needs_verapdf
@pytest.mark.parametrize("look", [name for name in themes() if name != DEFAULT_THEME])
def test_a_booklet_of_one_session_passes_them_in_every_theme(tmp_path: Path, look: str) -> None:
    """Without pages of running text, which have the same elements in each."""
    file, ctx = tmp_path / "sparse.pdf", replace(sparse(Paper.A5), theme=theme(look))
    file.write_bytes(print_booklet(ctx, without=("flow", "numbers")).pressed.pdf)
    assert verapdf.broken_rules(file) == {"ua1": [], "3a": []}


def test_every_link_belongs_to_a_link_element_of_the_structure() -> None:
    """And says what it leads to in words (ISO 14289-1, 7.18.5); no validator is needed for this one."""
    with pikepdf.open(BytesIO(printed("novice", "A5").pressed.pdf)) as pdf:
        nums: Any = pdf.Root.StructTreeRoot.ParentTree.Nums
        owners = {int(nums[i]): nums[i + 1] for i in range(0, len(nums), 2)}
        links = [note for page in pdf.pages for note in page.get("/Annots", ()) if note.Subtype == "/Link"]
        assert len(links) > 50
        assert {str(owners[int(link.StructParent)].S) for link in links} == {"/Link"}
        said = {str(link.Contents) for link in links}
    assert {"Week 1, from Mon 1 Feb", "Back squat", "Fri 5"} <= said
    assert [text for text in said if re.search(r"week-\d|^text-", text)] == []


def test_no_template_has_an_element_within_a_link() -> None:
    """The typesetter would make an untagged link of it."""
    pages = Path(__file__).parents[2] / "templates"
    links = [link for file in pages.rglob("*.j2") for link in re.findall(r"<a .*?</a>", file.read_text("utf-8"))]
    assert len(links) > 4
    assert [link for link in links if re.search(r"<(?!a |/a>)", link)] == []
