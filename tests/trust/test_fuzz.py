"""Whatever stands in the files, `check`, `explain` and the pages end in problems or in a plan, never in a fault."""

from __future__ import annotations

import os
import tempfile
from datetime import date
from pathlib import Path

import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from made.blocks import made
from made.cases import FIRST
from made.masses import Made

from builder.given import Sources
from builder.intake import Loaded, load
from builder.pages.explain import plan_json, plan_text
from builder.pages.make import make_booklet
from builder.pdf.html import render
from builder.plan import make_plan
from builder.review import review
from builder.work.publish import Choices, publish
from builder.work.publish.booklet import context_of, dress
from builder.work.texts import load_words

SAMPLES = Path(__file__).parents[2] / "samples"
MORE = int(os.environ.get("LOADLEAF_FUZZ", "1"))
"""How many times the usual number of examples; by hand 50 or more."""
TODAY = date(2027, 1, 4)
LINES = tuple(
    line
    for path in sorted(SAMPLES.glob("*/*.yaml"))
    if "latin" not in path.name and "utf-16" not in path.name
    for line in path.read_text(encoding="utf-8", errors="replace").splitlines()
)
WORDS = (
    "", "~", "0", "-1", "1e999", "9" * 40, "0.000001", "1.5", "²", "٣", "9999-99-99", "2027-02-29", "12:30", "100 %",
    "0 %", "1000000 %", "-5 %", "2000", "2000 lb", "0 kg", "hole 0", "hole 99", "hole ²", "0.1 cm", "1 weeks",
    "99 exposures", "0 weeks", "1-999", "9-1", "[]", "{}", "[[]]", "{a: b}", "*x", "&x y", "!!str x", "<<: *x", "yes",
    "\"\\0\"", "'", '"', "# x", "|", ">", "? a", "- a", "%", "@", "back squat", "pull-up", "walkout", "bar", "😀",
    "</style>", "{{7*7}}", "{% x %}", "{0}", "%s", "\N{RIGHT-TO-LEFT OVERRIDE}", "\x85", "\ufeff", "a: b: c",
)  # fmt: skip
GOOD = tuple((SAMPLES / name / "client.yaml", SAMPLES / name / "block.yaml") for name in ("novice", "advanced"))


def _to_pages(sources: Sources) -> None:
    plan = make_plan(sources)
    for finding in review(plan, TODAY):
        assert finding.as_text()
    words = load_words("en", plan.unit)
    assert list(plan_text(plan, words, None, None))
    plan_json(plan, words)
    loaded, choices = Loaded(sources, ()), Choices(TODAY)
    if not plan.sessions():
        assert [problem.code for problem in publish(loaded, choices).problems] == ["nothing-planned"]
        return
    worn, _ = dress(sources, choices)
    context = context_of(sources, plan, words, worn, choices, loaded, "A" * 8)
    assert render(make_booklet(context)).rstrip().endswith("</html>")


def _told_or_planned(client: bytes, block: bytes) -> None:
    with tempfile.TemporaryDirectory() as name:
        files = [Path(name) / "c.yaml", Path(name) / "b.yaml"]
        for file, data in zip(files, (client, block), strict=True):
            file.write_bytes(data)
        loaded = load(files)
    for problem in loaded.problems:
        assert problem.as_text().isprintable() or "\n" in problem.as_text()
    if loaded.sources is not None:
        _to_pages(loaded.sources)
    else:
        assert loaded.problems


@st.composite
def changed(draw: st.DrawFn, texts: tuple[str, ...]) -> bytes:
    """A sample with lines taken out, doubled, moved in from elsewhere, or with a value written otherwise."""
    lines = draw(st.sampled_from(texts)).splitlines()
    for _ in range(draw(st.integers(1, 4))):
        place = draw(st.integers(0, len(lines) - 1))
        match draw(st.integers(0, 4)):
            case 0:
                del lines[place]
            case 1:
                lines.insert(place, draw(st.sampled_from(LINES)))
            case 2:
                start = draw(st.integers(0, max(len(lines[place]) - 1, 0)))
                lines[place] = lines[place][:start] + draw(st.sampled_from(WORDS)) + lines[place][start + 3 :]
            case 3:
                key, colon, _ = lines[place].rpartition(": ")
                lines[place] = f"{key}{colon}{draw(st.sampled_from(WORDS))}"
            case _:
                lines.insert(place, draw(st.text(max_size=30)).replace("\r", ""))
        lines = lines or ["format: 1"]
    data = "\n".join(lines).encode("utf-8", "surrogatepass")
    return data if draw(st.integers(0, 9)) else data[: draw(st.integers(0, len(data)))]


CLIENTS = tuple(client.read_text(encoding="utf-8") for client, _ in GOOD)
BLOCKS = tuple(block.read_text(encoding="utf-8") for _, block in GOOD)


@settings(max_examples=60 * MORE)
@given(changed(CLIENTS), st.sampled_from(BLOCKS))
def test_a_changed_client_is_told_or_planned(client: bytes, block: str) -> None:
    _told_or_planned(client, block.encode())


@settings(max_examples=60 * MORE)
@given(st.sampled_from(CLIENTS), changed(BLOCKS))
def test_a_changed_block_is_told_or_planned(client: str, block: bytes) -> None:
    _told_or_planned(client.encode(), block)


@settings(max_examples=10 * MORE)
@given(st.sampled_from(FIRST).flatmap(lambda first: made(*first)))
def test_any_sound_pair_becomes_pages(pair: Made) -> None:
    client, block = (text.encode() for text in pair.texts)
    _told_or_planned(client, block)


_VALUES = st.recursive(
    st.sampled_from(WORDS) | st.text(max_size=12) | st.integers() | st.floats() | st.booleans() | st.none(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.sampled_from(WORDS) | st.text(max_size=8), inner),
    max_leaves=12,
)
_TOP = st.sampled_from(("format", "client", "training", "gym", "lifts", "limits", "screening", "block", "days",
                        "brand", "movements", "percent_table", "equation", "theme"))  # fmt: skip


@settings(max_examples=100 * MORE)
@given(st.dictionaries(_TOP, _VALUES, max_size=6))
def test_any_yaml_at_all_is_told(data: dict[str, object]) -> None:
    _told_or_planned(yaml.safe_dump({"format": 1, **data}, allow_unicode=True).encode("utf-8", "surrogatepass"), b"")


@settings(max_examples=100 * MORE)
@given(st.binary(max_size=200))
def test_any_bytes_at_all_are_told(data: bytes) -> None:
    _told_or_planned(data, data)
