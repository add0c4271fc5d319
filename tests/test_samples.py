"""Each good sample builds without a word, and gives the plan, the outline and the fields that stand beside it."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest

from builder.intake import Loaded, load
from builder.pages.explain import plan_json
from builder.pages.model import Paper
from builder.plan import make_plan
from builder.values.lists import Keep
from builder.work.publish import Choices, Published, publish
from builder.work.texts import load_words

SAMPLES = Path(__file__).parents[1] / "samples"
LIFTERS = ("novice", "intermediate", "advanced")
TODAY = date(2027, 1, 4)
UPDATE = "LOADLEAF_UPDATE_SAMPLES" in os.environ


@lru_cache(maxsize=8)
def sources_of(lifter: str) -> Loaded:
    """A sample's sources with the brand."""
    return load([SAMPLES / lifter, SAMPLES / "brand"])


@lru_cache(maxsize=8)
def booklet_of(lifter: str) -> Published:
    """A sample's booklet as A5."""
    return publish(sources_of(lifter), Choices(TODAY, Paper.A5, keep=Keep.ALL))


def _plan(lifter: str) -> dict[str, Any]:
    loaded = sources_of(lifter)
    assert loaded.sources is not None, [p.as_text() for p in loaded.problems]
    plan = make_plan(loaded.sources)
    return plan_json(plan, load_words("en", plan.unit))


def _lines(value: Any, indent: str = "") -> Iterator[str]:
    """JSON with a line for each set, so that a difference names the set; reasons are cut down to their steps."""
    if isinstance(value, dict) and isinstance(value.get("why"), list):
        value = {**value, "why": [reason["step"] for reason in value["why"]]}
        yield indent + json.dumps(value, ensure_ascii=False) + ","
    elif isinstance(value, dict | list) and value:
        pairs = value.items() if isinstance(value, dict) else ((None, item) for item in value)
        yield indent + ("{" if isinstance(value, dict) else "[")
        for key, item in pairs:
            if key is not None:
                yield f"{indent} {json.dumps(key)}:"
            yield from _lines(item, indent + " ")
        yield indent + ("}," if isinstance(value, dict) else "],")
    else:
        yield indent + json.dumps(value, ensure_ascii=False) + ","


def _compare(lifter: str, name: str, lines: list[str]) -> None:
    path = SAMPLES / lifter / "expected" / name
    text = "\n".join(lines) + "\n"
    if UPDATE:
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    assert path.read_text(encoding="utf-8").split("\n") == text.split("\n"), "LOADLEAF_UPDATE_SAMPLES=1 takes it over"


@pytest.mark.parametrize("lifter", LIFTERS)
def test_a_sample_has_no_problem(lifter: str) -> None:
    assert sources_of(lifter).problems == ()


@pytest.mark.parametrize("lifter", LIFTERS)
def test_a_sample_gives_its_expected_plan(lifter: str) -> None:
    _compare(lifter, "plan.json.txt", list(_lines(_plan(lifter))))


@pytest.mark.slow
@pytest.mark.parametrize("lifter", LIFTERS)
def test_a_sample_prints_without_a_warning_and_with_its_expected_outline(lifter: str) -> None:
    done = booklet_of(lifter)
    assert done.problems == ()
    assert done.pressed is not None
    _compare(lifter, "outline.txt", [f"{'  ' * (e.level - 1)}{e.title} … {e.page}" for e in done.pressed.outline])


@pytest.mark.slow
@pytest.mark.parametrize("lifter", LIFTERS)
def test_a_sample_has_its_expected_form_fields(lifter: str) -> None:
    done = booklet_of(lifter)
    assert done.booklet is not None and done.pressed is not None
    assert done.pressed.field_count == len(done.booklet.fields)
    _compare(lifter, "fields.txt", [f"{f.name}  {f.kind}  {f.label}" for f in done.booklet.fields])
