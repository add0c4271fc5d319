"""Contrast by WCAG 2.2, and the accent that is dark enough on every ground that it stands on."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.pdf.colour import GROUND, contrast, readable

STYLES = Path(__file__).parents[2] / "styles"
COLOUR = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06x}")


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        # By the definition itself: (1 + 0.05) / (0 + 0.05).
        ("#000000", "#ffffff", 21.0),
        ("#1d5b52", "#1d5b52", 1.0),
        # From memory: the lightest grey that passes on white, and the next, as W3C and others show them.
        ("#767676", "#ffffff", 4.54),
        ("#777777", "#ffffff", 4.48),
        # By hand from the definition: a pure primary has the luminance of its coefficient.
        ("#ff0000", "#ffffff", 1.05 / (0.2126 + 0.05)),
        ("#0000ff", "#ffffff", 1.05 / (0.0722 + 0.05)),
        ("#00ff00", "#000000", (0.7152 + 0.05) / 0.05),
    ],
)
def test_contrast_is_as_wcag_defines_it(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)
    assert contrast(other, one) == contrast(one, other)


@given(COLOUR)
def test_a_repaired_accent_can_be_read_and_a_readable_one_is_kept(colour: str) -> None:
    # 4.5:1 for text: WCAG 2.2, success criterion 1.4.3, level AA.
    accent = readable(colour)
    assert contrast(accent, GROUND) >= 4.5
    assert contrast(accent, "#ffffff") >= 4.5
    assert (accent == colour) == (contrast(colour, GROUND) >= 4.5)


def test_no_style_sheet_puts_text_on_a_darker_tint_than_the_accent_is_checked_against() -> None:
    sheets = [path.read_text(encoding="utf-8") for path in STYLES.rglob("*.css")]
    tints = [tint for sheet in sheets for tint in re.findall(r"--wash:\s*(#[0-9a-f]{6})", sheet)]
    assert tints
    assert all(contrast(tint, "#000000") >= contrast(GROUND, "#000000") for tint in tints)
