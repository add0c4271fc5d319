"""Appending to a person's file: every byte is kept, in any layout of YAML, and the test is all that is new."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta
from itertools import product
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.intake.compose import compose
from builder.intake.merge import as_data
from builder.intake.reader import decode
from builder.values.nodes import Mapping
from builder.work.retest.append import Growth, append
from builder.work.retest.places import line_break, placed
from builder.work.retest.written import flow, scalar

ENTRY = {"date": "2027-03-01", "load": "147.5", "reps": "1"}
NEW = "{date: 2027-03-01, load: 147.5, reps: 1}"


def _appended(text: str, word: str = "back squat") -> str:
    made, problems = append(text.encode(), "client.yaml", Growth(word, "tests", (ENTRY,)))
    assert problems == (), problems[0].as_text()
    return made.decode()


def _read(data: bytes) -> Any:
    text, unreadable = decode(data, "client.yaml")
    tree, broken = compose(text, "client.yaml")
    assert not unreadable and not broken and isinstance(tree, Mapping)
    return as_data(tree)


def _kept(old: bytes, new: bytes) -> bool:
    """Whether every byte of the old file is in the new one, in its order."""
    rest = iter(new)
    return all(any(byte == other for other in rest) for byte in old)


def _layouts() -> list[tuple[str, str]]:
    """Texts before and after, as layouts.txt has them; there `@` stands for the new test in one line."""
    text = (Path(__file__).parent / "layouts.txt").read_text(encoding="utf-8").replace("@", NEW)
    cases = re.split(r"^=== .*\n", text, flags=re.MULTILINE)[1:]
    return [(before, after) for before, after in (case.split("--->\n") for case in cases)]


@pytest.mark.parametrize(("before", "after"), _layouts())
def test_the_test_is_written_in_the_manner_of_the_file(before: str, after: str) -> None:
    assert _appended(before) == after
    windows = before.replace("\n", "\r\n")
    assert _appended(windows) == after.replace("\n", "\r\n")
    marked = "\ufeff" + before
    assert _appended(marked) == "\ufeff" + after


def test_a_file_without_a_last_line_break_keeps_to_that() -> None:
    text = "lifts:\n  back squat:\n    tests:\n    -   {load: 1}"
    assert _appended(text) == f"{text}\n    -   {NEW}"


@pytest.mark.parametrize(
    "text",
    [
        # Two lifts that share their tests, nothing written as ~, and an empty text in quotes.
        "lifts:\n  front squat: &f {tests: [{load: 1}]}\n  back squat: *f\n",
        "lifts:\n  front squat:\n    tests: &t [{load: 1}]\n  back squat:\n    tests: *t\n",
        "lifts:\n  back squat:\n    tests: ~\n",
        'lifts:\n  back squat:\n    tests: ""\n',
        "lifts:\n  back squat:\n    tests:\n      - # first\n        load: 1\n",
    ],
)
def test_where_nothing_can_be_added_by_itself_the_file_stays_and_the_line_is_told(text: str) -> None:
    made, (problem,) = append(text.encode(), "client.yaml", Growth("back squat", "tests", (ENTRY,)))
    assert made == text.encode()
    assert problem.code == "no-place"
    assert NEW in problem.help


@pytest.mark.parametrize("key", ["tests", "logged"])
@pytest.mark.parametrize("before", [before for before, _ in _layouts()])
def test_several_sets_come_in_one_go_whatever_the_layout(before: str, key: str) -> None:
    """Under the list that grows, in their order, and no byte is lost; a list that is not there yet is begun."""
    entries = tuple({"date": f"2027-02-0{day}", "load": "150 kg", "reps": "5", "rir": "2"} for day in (1, 3, 5))
    made, problems = append(before.encode(), "client.yaml", Growth("back squat", key, entries))
    assert problems == () and _kept(before.encode(), made)
    lifts, old = _read(made)["lifts"], _read(before.encode()).get("lifts") or {}
    known = (old.get("back squat") or {}).get(key) or []
    assert lifts["back squat"][key] == [*known, *entries]


# A hundred retests in a row


STYLES = ("flow", "flow lines", "flow lines, comma", "dashes", "dashes, keys", "empty", "blank", "no key", "no lift")


def _tests(style: str, pad: str, dash: str) -> Iterator[str]:
    """The lines of a lift's tests, two of them where it has some, each with a remark."""
    if style == "flow":
        yield f"{pad}tests: [{{date: 2020-01-01, load: 100, reps: 1}}, {{date: 2020-02-01, load: 101}}]  # both @rem"
    elif style.startswith("flow lines"):
        comma = "," if style.endswith("comma") else ""
        yield f"{pad}tests: [  # open @rem"
        yield f"{pad}    {{date: 2020-01-01, load: 100, reps: 1}},  # first @rem"
        yield f"{pad}    # between @rem"
        yield f"{pad}    {{date: 2020-02-01, load: 101}}{comma}  # second @rem"
        yield f"{pad}]"
    elif style.startswith("dashes"):
        yield f"{pad}tests:  # open @rem"
        if style.endswith("keys"):
            yield f"{dash}-  date: 2020-01-01"
            yield f"{dash}   load: 100  # first @rem"
            yield f"{dash}   # within @rem"
            yield f"{dash}-  date: 2020-02-01"
            yield f"{dash}   load: 101"
        else:
            yield f"{dash}- {{date: 2020-01-01, load: 100}}  # first @rem"
            yield f"{dash}- {{date: 2020-02-01, load: 101}}"
        yield f"{dash}# after the list @rem"
    elif style == "empty":
        yield f"{pad}tests: []  # none @rem"
    elif style == "blank":
        yield f"{pad}tests:  # none @rem"


@st.composite
def profiles(draw: st.DrawFn) -> bytes:
    """The text of a profile in any of many layouts; it need not be a client's, only sound YAML."""
    step, style = draw(st.integers(1, 5)), draw(st.sampled_from(STYLES))
    pad, deep = " " * step, " " * (2 * step)
    dash = deep + " " * draw(st.integers(0, 4))
    name = draw(st.sampled_from(["back squat", '"back squat"', "'back squat'"]))
    press = (f"{pad}press: {{tests: [{{load: 60}}]}}", f"{pad}press:\n{deep}tests:\n{deep}- load: 60")
    other = draw(st.sampled_from(press))
    lift = [f"{pad}{name}:  # lift @rem", *_tests(style, deep, dash)]
    if style in ("no key", "blank") or draw(st.booleans()):
        lift.append(f"{deep}working_max: 95 %  # share @rem")
    lines = ["# top @rem", "format: 1", "lifts:  # all @rem"]
    lines += [other] if draw(st.booleans()) or style == "no lift" else []
    lines += [] if style == "no lift" else lift
    after = st.sampled_from(["", "# end @rem", "gym: {bars: {bar: 20}}  # gym @rem"])
    lines += draw(st.lists(after, max_size=3, unique=True))
    text = "\n".join(lines) + draw(st.sampled_from(["", "\n", "\n\n", "\n# last @rem"]))
    text = text.replace("\n", draw(st.sampled_from(["\n", "\r\n"])))
    return (draw(st.sampled_from(["", "\ufeff"])) + text).encode()


@settings(max_examples=4, deadline=None)
@given(profiles())
def test_a_hundred_retests_in_a_row_lose_nothing(profile: bytes) -> None:
    """All bytes are kept in their order, remarks stay on their lines, and every test is there in its turn."""
    data, old = profile, _read(profile)
    entries: list[dict[str, Any]] = []
    for number in range(100):
        kind = ("plain", "attempts", "note")[number % 3]
        entry: dict[str, Any] = {"date": str(date(2021, 1, 1) + timedelta(days=number)), "load": f"{number}.5"}
        entry |= {"attempts": {"made": ["1", "2 lb"], "missed": []}} if kind == "attempts" else {}
        entry |= {"note": 'A "hard", one: #1 – {no} \u2013 x'} if kind == "note" else {}
        made, problems = append(data, "client.yaml", Growth("back squat", "tests", (entry,)))
        assert problems == ()
        if number in (0, 1, 99):
            assert _kept(data, made)
        entries.append(entry)
        data = made
    assert _kept(profile, data)
    new = _read(data)
    tests = old.get("lifts", {}).get("back squat", {}).get("tests", [])
    assert new["lifts"]["back squat"]["tests"] == [*tests, *entries]
    del new["lifts"]["back squat"]
    old.setdefault("lifts", {}).pop("back squat", None)
    assert new == old
    broken = line_break(profile.decode("utf-8-sig"))
    _remarks_in_place(profile.decode().split(broken), data.decode().split(broken))
    if broken == "\r\n":
        assert data.count(b"\n") == data.count(b"\r\n")


def _remarks_in_place(old: list[str], new: list[str]) -> None:
    """Each remark is as it was, in its order, behind what it stood behind; a bracket may have moved on."""
    was, now = ([line for line in lines if "@rem" in line] for lines in (old, new))
    for before, after in zip(was, now, strict=True):
        assert after.rpartition("#")[2] == before.rpartition("#")[2]
        assert after.startswith(before.partition("#")[0].rstrip(" ]"))


@given(st.text(st.characters(exclude_categories=["Cs", "Cc", "Zl", "Zp"]), min_size=1, max_size=40).filter(str.strip))
def test_any_text_is_written_so_that_it_is_read_back(text: str) -> None:
    for wrapped in (f"a: {scalar(text)}\n", f"{{a: {scalar(text)}}}\n", f"[{scalar(text)}, x]\n"):
        tree, problems = compose(wrapped, "x")
        assert tree is not None and problems == ()
        data = as_data(tree)
        assert (data["a"] if isinstance(data, dict) else data[0]) == text


def test_places_count_characters_whatever_the_line_ends() -> None:
    for broken, lead in product(("\n", "\r\n", "\r"), ("", "# ä\U0001f3cb")):
        text = f"{lead}{broken}a: {{b: [1, 2]}}{broken}"
        top = placed(text)
        (_, inner), = top.items
        assert text[inner.start : inner.end] == "{b: [1, 2]}"
        assert text[top.start : top.end] == "a: {b: [1, 2]}"


@given(profiles())
def test_both_parsers_of_yaml_put_the_parts_at_the_same_places(profile: bytes) -> None:
    text = profile.decode("utf-8-sig")
    assert placed(text) == placed(text, yaml.SafeLoader)


def test_values_are_written_plain_where_that_is_safe() -> None:
    assert flow({"date": "2027-03-01", "load": "325 lb", "belt": "true", "share": "95 %"}) == (
        "{date: 2027-03-01, load: 325 lb, belt: true, share: 95 %}"
    )
    assert flow({"note": "so: hard", "made": ["140", "147.5"]}) == '{note: "so: hard", made: [140, 147.5]}'
