"""Made-up progressions of all nine kinds."""

from __future__ import annotations

from hypothesis import strategies as st
from made.masses import Data, mass, one_in, percents

KINDS = ("single", "double", "wave", "top_set", "step", "volume", "rep_out")
RESERVES = st.sampled_from(["0", "1", "1.5", "2", "3", "4"])


def adds(unit: str) -> st.SearchStrategy[object]:
    """What a rule adds: a mass or a share."""
    masses = st.sampled_from(["0.5", "1", "2.5", "5", "10"]).map(lambda number: mass(number, unit))
    return st.one_of(masses, percents(1, 5))


def starts(unit: str) -> st.SearchStrategy[object]:
    """A first load: a mass or a share of the working max."""
    masses = st.sampled_from(["20", "45", "67.3", "110"]).map(lambda number: mass(number, unit))
    return st.one_of(masses, percents(35, 95))


@st.composite
def progressions(draw: st.DrawFn, unit: str, kind: str = "") -> Data:
    """A rule for a movement, of a kind or of any."""
    kind = kind or draw(st.sampled_from(KINDS))
    return {"kind": kind} | draw(_RULES[kind](unit))


@st.composite  # type: ignore[arg-type]
def _straight(draw: st.DrawFn, unit: str, **more: st.SearchStrategy[object]) -> Data:
    rule: Data = {"reps": draw(st.integers(1, 12)), "add": draw(adds(unit))}
    optional: dict[str, st.SearchStrategy[object]] = {
        "sets": st.integers(1, 6),
        "rir": RESERVES,
        "start": starts(unit),
        "misses": st.just({"once": "reduce", "reduce_to": "85 %"}),
    }
    return rule | {key: draw(value) for key, value in more.items()} | draw(st.fixed_dictionaries({}, optional=optional))


@st.composite
def _double(draw: st.DrawFn, unit: str) -> Data:
    low = draw(st.integers(1, 12))
    return draw(_straight(unit)) | {"reps": f"{low}-{low + draw(st.integers(1, 5))}"}


def _step(unit: str) -> st.SearchStrategy[Data]:
    return _straight(unit, hold=st.integers(2, 4))


@st.composite
def _volume(draw: st.DrawFn, unit: str) -> Data:
    low = draw(st.integers(1, 5))
    rule: Data = {"sets": f"{low}-{low + draw(st.integers(1, 3))}", "reps": draw(st.integers(1, 12))}
    optional = {"add": adds(unit), "start": starts(unit), "rir": RESERVES, "every": st.integers(1, 3)}
    return rule | draw(st.fixed_dictionaries({}, optional=optional))


@st.composite
def _rep_out(draw: st.DrawFn, unit: str) -> Data:
    rule: Data = {"sets": draw(st.integers(1, 5)), "reps": draw(st.integers(1, 8))}
    optional = {
        "add": adds(unit), "start": starts(unit), "rir": RESERVES,
        "stop": st.just({"rir": "2", "most": 10}),
    }  # fmt: skip
    return rule | draw(st.fixed_dictionaries({}, optional=optional))


@st.composite
def _top_set(draw: st.DrawFn, unit: str) -> Data:
    rule: Data = {
        "reps": draw(st.lists(st.integers(1, 10), min_size=1, max_size=3)),
        "rir": draw(st.lists(RESERVES, min_size=1, max_size=3)),
    }
    back: Data = {"sets": draw(st.integers(1, 4)), "reps": draw(st.integers(1, 10))}
    back |= draw(st.sampled_from([{"share": "85 %"}, {"drop": "12.5 %"}, {"share": "100 %"}]))
    optional = {"gain": adds(unit), "backoff": st.just(back)}
    return rule | draw(st.fixed_dictionaries({}, optional=optional))


@st.composite
def _wave(draw: st.DrawFn, unit: str) -> Data:
    rule: Data = {"weeks": draw(st.lists(_entries(), min_size=1, max_size=4))}
    return rule | draw(st.fixed_dictionaries({}, optional={"add": adds(unit)}))


@st.composite
def _entries(draw: st.DrawFn) -> Data:
    effort = {"rir": draw(RESERVES)} if draw(one_in(3)) else {"share": draw(percents(40, 105))}
    entry: Data = {"sets": draw(st.integers(1, 6)), "reps": draw(st.integers(1, 12))}
    stress = {"stress": st.sampled_from(["heavy", "medium", "light"])}
    return effort | entry | draw(st.fixed_dictionaries({}, optional=stress))


_RULES = {
    "single": _straight, "double": _double, "wave": _wave, "top_set": _top_set, "step": _step, "volume": _volume,
    "rep_out": _rep_out,
}  # fmt: skip
CADENCES = st.sampled_from(["1 week", "2 weeks", "1 exposure", "3 exposures"])


@st.composite
def holds(draw: st.DrawFn) -> Data:
    """A walkout's rule, up to 115 % of the max."""
    low = draw(st.integers(70, 105))
    rule: Data = {"kind": "hold", "from": f"{low} %", "to": f"{low + draw(st.integers(0, 20))} %"}
    optional = {"rise": percents(1, 8), "every": CADENCES, "sets": st.integers(1, 3), "seconds": st.just("10 s")}
    return rule | draw(st.fixed_dictionaries({}, optional=optional))


@st.composite
def pins(draw: st.DrawFn, *, rack: bool) -> Data:
    """A pin squat's rule, in holes where the gym has a rack that says so, else in centimetres."""
    high, lower = draw(st.integers(6, 12)), draw(st.integers(0, 5))
    holes = rack and draw(st.booleans())
    rule: Data = {
        "kind": "pins",
        "from": f"hole {high}" if holes else f"{60 + high} cm",
        "to": f"hole {high - lower}" if holes else f"{60 + high - lower} cm",
    }
    optional = {
        "shares": st.sampled_from([["80 %", "65 %"], ["110 %", "95 %"], ["75 %", "75 %"]]),
        "every": CADENCES, "sets": st.integers(1, 4), "reps": st.integers(1, 6),
    }  # fmt: skip
    return rule | draw(st.fixed_dictionaries({}, optional=optional))
