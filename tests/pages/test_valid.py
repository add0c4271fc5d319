"""A whole booklet meets PDF/UA-1 and PDF/A-3a, as an independent validator sees it."""

from __future__ import annotations

import re
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pages.plans import sparse
from pages.pressed import print_booklet, printed
from pdf import verapdf
from pypdf import PdfReader

from builder.pages.model import Paper
from builder.pages.theme import DEFAULT_THEME, theme
from builder.places import themes

pytestmark = pytest.mark.slow


needs_verapdf = pytest.mark.skipif(bool(verapdf.absent()), reason=verapdf.absent() or "present")


@needs_verapdf
def test_the_novice_sample_on_a5_passes_pdf_ua_1_and_pdf_a_3a(tmp_path: Path) -> None:
    file = tmp_path / "novice.pdf"
    file.write_bytes(printed("novice", "A5").pressed.pdf)
    assert verapdf.broken_rules(file) == {"ua1": [], "3a": []}


@needs_verapdf
@pytest.mark.parametrize("look", [name for name in themes() if name != DEFAULT_THEME])
def test_a_booklet_of_one_session_passes_them_in_every_theme(tmp_path: Path, look: str) -> None:
    file = tmp_path / "sparse.pdf"
    file.write_bytes(print_booklet(replace(sparse(Paper.A5), theme=theme(look))).pressed.pdf)
    assert verapdf.broken_rules(file) == {"ua1": [], "3a": []}


def test_every_link_belongs_to_a_link_element_of_the_structure() -> None:
    """ISO 14289-1, 7.18.5; no validator is needed for this one."""
    reader = PdfReader(BytesIO(printed("novice", "A5").pressed.pdf))
    root: Any = reader.root_object["/StructTreeRoot"]
    nums = root["/ParentTree"]["/Nums"]
    owners = {int(nums[i]): nums[i + 1].get_object() for i in range(0, len(nums), 2)}
    links = [
        link.get_object()
        for page in reader.pages
        for link in page.get("/Annots", ())
        if link.get_object()["/Subtype"] == "/Link"
    ]
    assert len(links) > 50
    assert {owners[link["/StructParent"]]["/S"] for link in links} == {"/Link"}


def test_no_template_has_an_element_within_a_link() -> None:
    """The typesetter would make an untagged link of it."""
    pages = Path(__file__).parents[2] / "templates"
    links = [link for file in pages.rglob("*.j2") for link in re.findall(r"<a .*?</a>", file.read_text("utf-8"))]
    assert len(links) > 4
    assert [link for link in links if re.search(r"<(?!a |/a>)", link)] == []
