"""The press does without its short cuts when it is told to, and says so when they do not fit the typesetter."""

from __future__ import annotations

import pydyf
import pytest
from pypdfium2 import PdfDocument
from weasyprint.images import SVGImage

from builder.pdf import Pressed
from builder.pdf.fast import lean, shaping, swift
from builder.pdf.fast.shortcuts import SWITCH

from . import sample


def seen(pressed: Pressed) -> list[tuple[bytes, str]]:
    """Pixels and text of each page."""
    return [
        (bytes(page.render(scale=1.5).buffer), page.get_textpage().get_text_range())
        for page in PdfDocument(pressed.pdf)
    ]


def test_the_pages_are_the_same_without_short_cuts(full: Pressed, monkeypatch: pytest.MonkeyPatch) -> None:
    for module, name in ((swift, "Page"), (lean, "writing"), (shaping, "shaped_once")):
        monkeypatch.delattr(module, name)
    monkeypatch.setenv(SWITCH, "1")
    plain = sample.pressed()
    assert plain.problems == full.problems == ()
    assert (plain.pages, plain.field_count, plain.outline) == (full.pages, full.field_count, full.outline)
    assert seen(plain) == seen(full)


@pytest.mark.parametrize(
    ("owner", "part", "said"),
    [
        (SVGImage, "draw", "SVGImage' has no attribute 'draw'"),
        (swift, "Page", "module 'builder.pdf.fast.swift' has no attribute 'Page'"),
        (pydyf, "_to_bytes", "module 'pydyf' has no attribute '_to_bytes'"),
    ],
)
def test_a_typesetter_with_another_inside_makes_the_same_pages_with_a_remark(
    owner: object, part: str, said: str, full: Pressed, monkeypatch: pytest.MonkeyPatch
) -> None:
    if owner is pydyf:  # the short cut's own way to it only: the library needs it itself
        monkeypatch.setattr(lean, "pydyf", pydyf_without(part))
    else:
        monkeypatch.delattr(owner, part)
    pressed = sample.pressed()
    (remark,) = pressed.problems
    assert remark.code == "press-plain" and said in remark.fact
    assert seen(pressed) == seen(full)
    assert pressed.warnings == ()


def pydyf_without(part: str) -> object:
    """The library as a module that lacks one name."""
    import types

    thin = types.ModuleType("pydyf")
    thin.__dict__.update({name: value for name, value in vars(pydyf).items() if name != part})
    return thin
