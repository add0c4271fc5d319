"""A merged tree becomes typed models, or placed problems in plain words, all of them in one run."""

import re
from decimal import Decimal
from pathlib import Path

import pytest
from sources_for_tests import CLIENT, GYM, LIFTS, TRAINING, block, client, codes, problems_of, sources, squat

from builder.intake import load
from builder.plan import make_plan
from builder.values.problem import Problem, Span
from builder.values.quantity import Unit
from builder.values.scalars import Amount

SLOT = squat("kind: single, reps: 5, add: 2.5 kg")
BLOCK = block(SLOT)
MACHINERY = re.compile(
    r"\b(dict|tuple|NoneType|None|Decimal|[Pp]ydantic|[Vv]alidation|[Ee]xception|Traceback|Python|[a-z]+_[a-z]+)\b"
    r"|\[\d|\('"
)
QUOTED = re.compile(r'"[^"]*"')


def _only(*texts: str) -> Problem:
    found = problems_of(*texts)
    assert len(found) == 1, "\n".join(p.as_text() for p in found)
    return found[0]


def _marked(problem: Problem) -> str:
    """The text under the caret."""
    assert isinstance(problem.span, Span)
    at = problem.span
    return at.source[at.column - 1 : at.column - 1 + at.width]


def test_all_parts_are_typed() -> None:
    """Loads, dates, shares and words are values; bare loads wait for the profile's unit."""
    made = sources(CLIENT, BLOCK)
    assert made.client is not None and made.block is not None and made.brand is None
    assert made.client.unit is Unit.KG
    assert made.client.lifts["back squat"].tests[0].load == Amount(Decimal(200))
    assert made.client.gym.pairs[Amount(Decimal("1.25"))] == 1
    assert made.block.days[0].slots[0].progression.kind == "single"


def test_a_place_is_known_for_every_part() -> None:
    """What later stages say points into the person's file."""
    span = sources(CLIENT, BLOCK).at("gym", "safeties")
    assert span.source[span.column - 1 :].startswith("true")


def test_every_kind_of_file_may_be_in_one() -> None:
    """Or each section in its own."""
    one = sources(CLIENT + BLOCK.removeprefix("format: 1\n"))
    many = sources(*(f"format: 1\n{part}" for part in re.split(r"(?m)^(?=[a-z])", CLIENT)[2:]), BLOCK)
    assert one.client == many.client
    assert one.block == many.block


def test_movements_of_ones_own_come_on_top_of_the_library() -> None:
    """A new one is known, the others stay."""
    own = "format: 1\nmovements:\n  sled push: {pattern: lunge, equipment: stack}\n"
    made = sources(CLIENT, BLOCK, own)
    assert {"sled push", "back squat"} <= set(made.movements.movements)


@pytest.mark.parametrize(
    ("old", "new", "code", "marked", "help_"),
    [
        ("bodyweight: 80", "bodyweigth: 80", "unknown-key", "bodyweigth", 'Did you mean "bodyweight"?'),
        ("months: 24", "months: 24, month: 2", "unknown-key", "month", 'Did you mean "months"?'),
        ("safeties: true", "safety: true", "unknown-key", "safety", 'Did you mean "safeties"?'),
        ("reps: 1}", "reps: 1, rirr: 2}", "unknown-key", "rirr", 'Did you mean "rir"?'),
        ("load: 200", 'load: "102,5"', "decimal-comma", '"102,5"', 'Write "102.5", with a point.'),
        ("load: 200", "load: 440 lbs", "wrong-unit", "440 lbs", 'Write "440 lb".'),
        ("load: 200", "load: [200]", "wrong-type", "load", None),
        ("load: 200", "load: -5", "out-of-range", "-5", None),
        ("reps: 1}", "reps: 0}", "out-of-range", "0", "Write a value of at least 1."),
        ("reps: 1}", "reps: 31}", "out-of-range", "31", "Write a value of at most 30."),
        ("2026-12-19", "19.12.2026", "not-a-date", "19.12.2026", "Write 2026-12-19."),
        ("months: 24", "months: 2 years", "not-a-whole-number", "2 years", None),
        ("days: [mon, wed, fri]", "days: mon", "wrong-type", "mon", None),
        ("days: [mon, wed, fri]", "days: [monday]", "not-a-weekday", "monday", "Write mon."),
        ("days: [mon, wed, fri]", "days: []", "wrong-length", "days", "Write at least 1."),
        ("status: intermediate", "status: expert", "unknown-word", "expert", None),
        ("equation: table", "equation: wathen", "unknown-word", "wathen", 'Did you mean "wathan"?'),
        ("safeties: true", "safeties: on", "not-yes-or-no", "on", "Write true."),
        ("spotter: always", "spotter: ~", "empty-value", "spotter", None),
        ("client: {name: Quill, units: kg, bodyweight: 80, born: 1990}", "client: Quill", "wrong-type", "Quill", None),
        ("bars: {bar: 20}", "bars: {bar: {wieght: 20, weight: 20}}", "unknown-key", "wieght", 'Did you mean "weight"?'),
        ("safeties: true", "dumbbells: {from: 10, to: 2, step: 2}", "not-rising", "dumbbells", None),
    ],
)
def test_a_slip_in_the_profile_is_one_problem_at_its_place(
    old: str, new: str, code: str, marked: str, help_: str | None
) -> None:
    """The caret stands under what is wrong, and the help can be followed."""
    assert old in CLIENT
    problem = _only(CLIENT.replace(old, new, 1), BLOCK)
    assert (problem.code, _marked(problem)) == (code, marked)
    if help_ is not None:
        assert problem.help == help_


@pytest.mark.parametrize(
    ("old", "new", "code", "marked"),
    [
        ("weeks: 4", "weeks: 0", "out-of-range", "0"),
        ("weeks: 4", "weeks: 53", "out-of-range", "53"),
        ("kind: single", "kind: singel", "unknown-kind", "singel"),
        ("kind: single, ", "", "missing-key", "progression"),
        ("reps: 5, ", "", "missing-key", "progression"),
        ("reps: 5", "reps: 5-3", "not-a-whole-number", "5-3"),
        ("kind: single, reps: 5", "kind: double, reps: 5-3", "not-a-range", "5-3"),
        ("kind: single, reps: 5", "kind: double, reps: 5", "not-a-range", "progression"),
        ("add: 2.5 kg", 'add: "2,5 kg"', "decimal-comma", '"2,5 kg"'),
        ("movement: back squat, ", "", "slot", "{"),
        ("movement: back squat", "movement: back squat, drill: walkout", "slot", None),
        ("movement: back squat", "drill: walkout, of: back squat", "drill-kind", None),
        ("movement: back squat", "movement: back squat, rest: 3", "time-without-unit", "3"),
        ("movement: back squat", "movement: back squat, rest: 3:00", "clock-time", "3:00"),
        ("movement: back squat", "movement: back squat, tempo: fast", "wrong-form", "fast"),
        ("movement: back squat", "movement: back squat, superset: AB", "wrong-form", "AB"),
        ("suits: [intermediate]", "suits: intermediate", "wrong-type", "intermediate"),
        ("weeks: 4", "weeks: 4, deload: {every: 1}", "out-of-range", "1"),
        ("weeks: 4", "weeks: 4, deload: {every: 4, load: 110 %}", "out-of-range", "110 %"),
        ("weeks: 4", "weeks: 4, deload: {every: 4, sets: 110 %}", "out-of-range", "110 %"),
        ("weeks: 4", "weeks: 4, deload: {every: 4, reps: 110 %}", "out-of-range", "110 %"),
        ("weeks: 4", "weeks: 4, deload: {every: 4, sets: 0.6}", "share-without-sign", "0.6"),
        ("weeks: 4", "weeks: 4, deload: {sets: 100 %, load: 100 %}", "no-deload", "deload"),
        ("kind: single, reps: 5, add: 2.5 kg", "kind: wave, weeks: [{sets: 3, reps: 5}]", "wave-entry", None),
        (
            "kind: single, reps: 5, add: 2.5 kg",
            "kind: top_set, reps: 3, rir: 2, backoff: {sets: 2, reps: 5}",
            "back-off",
            "backoff",
        ),
        ("kind: single, reps: 5, add: 2.5 kg", "kind: volume, sets: 3, reps: 5", "not-a-range", "progression"),
    ],
)
def test_a_slip_in_the_block_is_one_problem_at_its_place(old: str, new: str, code: str, marked: str | None) -> None:
    """As in the profile."""
    assert old in BLOCK
    problem = _only(CLIENT, BLOCK.replace(old, new, 1))
    assert problem.code == code
    if marked is not None:
        assert _marked(problem).startswith(marked)


def test_a_limit_on_a_share_is_said_as_a_share() -> None:
    """Not as 1.0."""
    problem = _only(client(lifts=LIFTS.replace("reps: 1}]}", "reps: 1}], working_max: 120 %}", 1)), BLOCK)
    assert problem.help == "Write a value of at most 100 %."


def test_all_problems_of_all_files_come_in_one_run_and_in_order() -> None:
    """Three in the profile, two in the block."""
    bad_client = (
        CLIENT.replace("units: kg", "units: st").replace("months: 24", "months: x").replace("load: 100", "load: y")
    )
    found = problems_of(bad_client, BLOCK.replace("reps: 5", "reps: z").replace("weeks: 4", "weeks: w"))
    assert [(p.span.file, p.code) for p in found if p.span] == [
        ("file-1.yaml", "unknown-word"),
        ("file-1.yaml", "not-a-whole-number"),
        ("file-1.yaml", "not-a-load"),
        ("file-2.yaml", "not-a-whole-number"),
        ("file-2.yaml", "not-a-whole-number"),
    ]
    lines = [p.span.line for p in found if isinstance(p.span, Span) and p.span.file == "file-1.yaml"]
    assert lines == sorted(lines)


def test_a_missing_section_is_asked_for() -> None:
    """Without a gym nothing can be loaded."""
    problem = _only(client(gym=""), BLOCK)
    assert problem.code == "missing-key"
    assert '"gym:"' in problem.fact and '"gym:"' in problem.help


def test_a_misspelt_section_is_named_and_not_only_missed() -> None:
    """Both: what is there too much and what is wanting."""
    assert sorted(codes(CLIENT.replace("\ngym:", "\ngim:"), BLOCK)) == ["missing-key", "unknown-key"]


def test_a_day_of_the_week_that_stands_twice_is_found() -> None:
    """Two sessions of one day were to be on two."""
    twice = CLIENT.replace("days: [mon, wed, fri]", "days: [mon, Wed, mon]", 1)
    assert twice != CLIENT and codes(twice, BLOCK) == ["duplicate-day"]


def test_duplicate_plates_in_two_writings_are_found() -> None:
    """5 and 5.0 are the same pair of plates."""
    assert codes(CLIENT.replace("5: 1, 2.5", "5: 1, 5.0: 2, 2.5", 1), BLOCK) == ["duplicate-plate"]


NASTY = (
    "[]", "{}", "[[]]", "''", "-1", "0", "1e9", "99999999999", "2,5", "'2,5 kg'", "2.5.1", "on", "12:30", "~",
    "!!int 5", "[1, 2, 3]", "{a: b}", "very many words", "5-3", "0 %", "-5 %", "1000 %", "2027-02-30", "11.01.2027",
    "50 lb", "∞", "１２", "NaN", "0x10",
)  # fmt: skip
KEYS = re.findall(r"([a-z_]+): [^{\[\s,}]+(?=[,}\n])", CLIENT + BLOCK)


@pytest.mark.parametrize("value", NASTY)
def test_no_value_anywhere_makes_it_fall_over_or_talk_like_a_machine(value: str, tmp_path: Path) -> None:
    """Each key of both files in turn gets the value: a plain problem or a plan, never an exception."""
    for key in dict.fromkeys(KEYS):
        texts = [
            re.sub(rf"\b{key}: [^{{\[\s,}}]+(?: (?:squat|kg))?", f"{key}: {value}", text, count=1)
            for text in (CLIENT, BLOCK)
        ]
        for name, text in zip(("client.yaml", "block.yaml"), texts, strict=True):
            (tmp_path / name).write_text(text, "utf-8")
        result = load([tmp_path])
        for problem in result.problems:
            words = QUOTED.sub("", f"{problem.fact} {problem.help}")
            assert not MACHINERY.search(words) or "top_set" in words, problem.as_text()
            assert problem.help.endswith((".", "?")), problem.as_text()
            assert isinstance(problem.span, Span)
        if result.sources is not None:
            assert len(make_plan(result.sources).weeks) == 4 or key == "weeks"


@pytest.mark.parametrize("section", ["client", "training", "lifts", "gym", "screening", "block", "days"])
@pytest.mark.parametrize("value", ["[]", "word", "5", "[a, b]", "{a: {b: c}}", "", "[[x]]"])
def test_a_section_of_the_wrong_shape_is_a_problem_not_a_crash(section: str, value: str) -> None:
    """Lists for mappings, words for lists, nothing at all."""
    texts = [re.sub(rf"(?m)^{section}:(.*\n)( .*\n)*", f"{section}: {value}\n", text) for text in (CLIENT, BLOCK)]
    found = problems_of(*texts)
    assert found
    assert all(p.fact and p.help for p in found)


def test_the_parts_used_here_are_those_of_the_profile() -> None:
    """What the tests replace is really in the text."""
    assert all(part in CLIENT for part in (TRAINING, LIFTS, GYM))
    assert len(set(KEYS)) > 15


class TestFiles:
    """From names of files to sources."""

    def test_a_folder_stands_for_its_yaml_files(self, tmp_path: Path) -> None:
        """Others are not read."""
        (tmp_path / "client.yaml").write_text(CLIENT)
        (tmp_path / "block.yml").write_text(BLOCK)
        (tmp_path / "notes.txt").write_text("not yaml: [")
        result = load([tmp_path])
        assert result.problems == ()
        assert result.sources is not None
        assert [Path(name).name for name, _ in result.texts] == ["block.yml", "client.yaml"]

    def test_a_file_that_is_not_there_is_named(self, tmp_path: Path) -> None:
        """With the reason."""
        (problem,) = load([tmp_path / "nobody.yaml"]).problems
        assert problem.code == "unreadable"
        assert "nobody.yaml" in problem.fact

    def test_an_empty_folder_is_named(self, tmp_path: Path) -> None:
        """Nothing to read is a problem, not an empty plan."""
        (problem,) = load([tmp_path]).problems
        assert problem.code == "missing-part"
        assert str(tmp_path) in problem.fact

    def test_a_missing_kind_is_asked_for(self, tmp_path: Path) -> None:
        """A profile alone makes no plan, unless only a profile is needed."""
        (tmp_path / "client.yaml").write_text(CLIENT)
        (problem,) = load([tmp_path]).problems
        assert problem.code == "missing-part" and '"block:"' in problem.fact
        assert load([tmp_path], need=["client"]).problems == ()

    def test_a_broken_file_does_not_hide_the_others_problems(self, tmp_path: Path) -> None:
        """Both are told in one run."""
        (tmp_path / "a.yaml").write_text("format: 1\nclient: [")
        (tmp_path / "b.yaml").write_text(BLOCK.replace("reps: 5", "reps: x"))
        assert [p.code for p in load([tmp_path]).problems] == ["syntax", "not-a-whole-number"]

    def test_a_file_without_a_format_is_told_how_to_start(self, tmp_path: Path) -> None:
        """On its first line."""
        (tmp_path / "client.yaml").write_text(CLIENT.removeprefix("format: 1\n"))
        (tmp_path / "block.yaml").write_text(BLOCK)
        (problem,) = load([tmp_path]).problems
        assert problem.code == "missing-key" and isinstance(problem.span, Span)
        assert (Path(problem.span.file).name, problem.span.line) == ("client.yaml", 1)


def test_a_share_out_of_range_is_told_its_bound_as_it_is_written() -> None:
    """Found by a fuzzer: the bound of a share is a decimal number, and is shown with a %."""
    head = "deload: {load: 15 %}, test: {week: 2, lifts: [back squat], attempts: {opener: 15 %, third: 250 %}}"
    text = block(squat("kind: single, reps: 5, add: 1 kg"), weeks=2, head=head)
    assert [problem.help for problem in problems_of(client(), text) if problem.code == "out-of-range"] == [
        "Write a value of at least 40 %.", "Write a value of at least 80 %.", "Write a value of at most 110 %.",
    ]  # fmt: skip
