"""The broken samples: each problem is found where it stands, and said in words that a coach can use."""

import re
from pathlib import Path

import pytest

from builder.given.progressions import PROGRESSIONS
from builder.intake import KINDS, Loaded, load
from builder.values.problem import Span

SAMPLES = Path(__file__).parent.parent / "samples"
BROKEN = sorted((SAMPLES / "broken").glob("*.yaml"))
ODD = sorted((SAMPLES / "odd-but-right").glob("*.yaml"))
GOOD = ("novice", "intermediate", "advanced")
EXPECTS = re.compile(r"^# expects: (\S+) at (\d+):(\d+)\r?$", re.MULTILINE)
QUOTED = re.compile(r'"[^"]*"')
JARGON = re.compile(
    r"\b(dict|list_type|tuple|NoneType|None|str|int|float|bool|Decimal|[Pp]ydantic|[Vv]alidation|[Tt]raceback"
    r"|[Ee]xception|literal_error|extra_forbidden|model_type|Python|YAMLError|scalar|node|event|token)\b"
    r"|<(block|flow|document|stream)"
)
"""Words of the machinery; what stands in quotes is the person's own, or what to write."""


def _text(path: Path) -> str:
    data = path.read_bytes()
    return data.decode("utf-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig", errors="replace")


def _loaded(path: Path) -> Loaded:
    """The file read alone, with only the kinds needed that it holds itself."""
    text = _text(path)
    return load([path], need=[kind for kind in KINDS if re.search(rf"^{kind}:", text, re.MULTILINE)])


def _name(path: Path) -> str:
    return path.stem


def test_there_are_enough_broken_samples() -> None:
    """At least thirty things go wrong in the samples, each file says what is expected, and once at most."""
    assert len(BROKEN) >= 30
    for path in BROKEN:
        found = EXPECTS.findall(_text(path))
        assert found, path.name
        assert len(found) == len(set(found)), path.name


@pytest.mark.parametrize("path", BROKEN, ids=_name)
def test_a_broken_sample_gives_exactly_the_problems_it_names(path: Path) -> None:
    """Code, line and column of every problem are those that the first lines of the file announce."""
    expected = [(code, int(line), int(column)) for code, line, column in EXPECTS.findall(_text(path))]
    result = _loaded(path)
    places = [p.span if isinstance(p.span, Span) else Span("", 0, 0) for p in result.problems]
    found = [(p.code, at.line, at.column) for p, at in zip(result.problems, places, strict=True)]
    assert sorted(found) == sorted(expected), "\n".join(p.as_text() for p in result.problems)
    assert result.sources is None


@pytest.mark.parametrize("path", BROKEN, ids=_name)
def test_a_problem_tells_the_way_out_in_plain_words(path: Path) -> None:
    """Each help is made of whole sentences, and neither fact nor help speaks of the machinery."""
    for problem in _loaded(path).problems:
        assert re.fullmatch(r"[A-Z\"].*[.?]", problem.help), problem.help
        assert "  " not in problem.help, problem.help
        assert not JARGON.search(QUOTED.sub("", f"{problem.fact} {problem.help}")), problem.as_text()
        assert isinstance(problem.span, Span)
        assert problem.span.file == str(path)


@pytest.mark.parametrize("path", ODD, ids=_name)
def test_an_odd_but_right_sample_is_accepted(path: Path) -> None:
    """Windows line ends, a byte order mark, yes and no, quotes and aliases are no problems."""
    result = _loaded(path)
    assert [p.as_text() for p in result.problems] == []
    assert result.sources is not None


def test_no_and_007_stay_the_words_they_are() -> None:
    """A lifter called No or 007 keeps the name."""
    names = {}
    for stem in ("yes-and-no", "number-as-name"):
        sources = _loaded(SAMPLES / "odd-but-right" / f"{stem}.yaml").sources
        assert sources is not None
        assert sources.client is not None
        names[stem] = sources.client.client.name
    assert names == {"yes-and-no": "No", "number-as-name": "007"}


@pytest.mark.parametrize("name", GOOD)
def test_a_good_sample_loads_with_the_brand(name: str) -> None:
    """The three lifters of the scenario load without a problem."""
    result = load([SAMPLES / name, SAMPLES / "brand"], need=("client", "block", "brand"))
    assert [p.as_text() for p in result.problems] == []
    assert result.sources is not None


def test_the_good_samples_use_every_kind_of_progression() -> None:
    """All of them occur in the three blocks."""
    kinds = set()
    for name in GOOD:
        sources = load([SAMPLES / name]).sources
        assert sources is not None
        assert sources.block is not None
        kinds |= {slot.progression.kind for day in sources.block.days for slot in day.slots}
    assert kinds == {*PROGRESSIONS}


def test_the_good_samples_are_tested_before_they_start() -> None:
    """Every tested set of the three lifters lies before the first day of a block in 2027."""
    for name in GOOD:
        sources = load([SAMPLES / name]).sources
        assert sources is not None
        assert sources.client is not None
        starts = sources.client.training.starts
        assert starts.year == 2027
        assert all(test.day < starts for lift in sources.client.lifts.values() for test in lift.tests)
