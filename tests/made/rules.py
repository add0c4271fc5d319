"""Made-up progressions of every kind, with further sets, and those of time and distance."""

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
    """A rule for a movement, of a kind or of any; one in four has further sets."""
    kind = kind or draw(st.sampled_from(KINDS))
    rule: Data = {"kind": kind} | draw(_RULES[kind](unit))
    for each in rule["weeks"] if kind == "wave" else [rule]:
        if draw(one_in(4)):
            each["then"] = draw(st.lists(_further(unit), min_size=1, max_size=3))
    return rule


@st.composite
def lengths(draw: st.DrawFn, unit: str, *, loaded: bool = True) -> Data:
    """A rule whose sets are counted in time or distance, with a load of its own or without."""
    kind = draw(st.sampled_from(["single", "double", "step", "volume"]))
    key, sign, low, step = draw(st.sampled_from(_LENGTHS))
    first = low + step * draw(st.integers(0, 6))
    rule: Data = {"kind": kind, key: f"{first} {sign}"}
    if kind == "double":
        rule[key] = f"{first}-{first + step * draw(st.integers(1, 4))} {sign}"
    if kind == "volume":
        rule |= {"sets": "2-4", "every": draw(st.integers(1, 2))}
    elif draw(st.booleans()):
        rule["sets"] = draw(st.integers(1, 4))
    if kind == "step":
        rule["hold"] = draw(st.integers(2, 3))
    if kind in ("double", "step") or draw(st.booleans()):
        rule["longer"] = f"{step} {sign}"
    if loaded and draw(st.booleans()):
        rule["start"] = draw(starts(unit))
        rule |= {"add": draw(adds(unit))} if draw(st.booleans()) else {}
    if draw(one_in(6)):
        rule["then"] = [{key: f"{low} {sign}", "sets": draw(st.integers(1, 2))}]
    return rule


_LENGTHS = (("time", "s", 20, 5), ("time", "min", 5, 1), ("distance", "m", 20, 10), ("distance", "m", 400, 100))


@st.composite
def _further(draw: st.DrawFn, unit: str) -> Data:
    """Sets after those of a rule: with a load of their own, steps up or down, or the load that is on the bar."""
    each: Data = {"reps": draw(st.integers(1, 12))}
    each |= draw(
        st.one_of(
            st.just({}),
            st.fixed_dictionaries({"share": percents(40, 95)}),
            st.fixed_dictionaries({"rir": st.sampled_from(["1", "2", "3.5"])}),
            st.fixed_dictionaries({"up": adds(unit)}),
            st.fixed_dictionaries({"down": adds(unit)}),
        )
    )
    optional = {"sets": st.integers(1, 3), "rest": st.just("45 s"), "stop": st.just({"rir": "2", "most": 12})}
    return each | draw(st.fixed_dictionaries({}, optional=optional))


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
