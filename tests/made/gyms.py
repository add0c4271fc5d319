"""Made-up gyms: bars, few or many plates of one unit or two, bells, machines, racks and what keeps a lifter safe."""

from __future__ import annotations

from hypothesis import strategies as st
from made.masses import Data, Mass, mass, one_in

BARS = {"kg": ("20", "15", "10", "25", "7.5", "8"), "lb": ("45", "35", "33", "15", "55", "44.1")}
PLATES = {
    "kg": ("25", "20", "15", "10", "5", "2.5", "2", "1.25", "1", "0.75", "0.5", "0.25"),
    "lb": ("45", "35", "25", "10", "5", "2.5", "1.25", "0.5", "100"),
}
COLLARS = {"kg": ("0", "2.5", "0.2", "1"), "lb": ("0", "5", "0.5", "5.5")}
STEPS = {"kg": ("5", "2.5", "2", "1"), "lb": ("10", "5", "2.5")}
MACHINES = ("leg press", "lat pull-down", "the old machine")


@st.composite
def gyms(draw: st.DrawFn, unit: str) -> Data:
    """A gym that counts in `unit`; one in five has plates, bars or bells of the other unit too."""
    gym: Data = {"bars": draw(_bars(unit)), "pairs": draw(_pairs(unit))}
    optional = {
        "collars": _of(COLLARS[unit], unit),
        "dumbbells": _steps_or_list(unit),
        "kettlebells": _steps_or_list(unit),
        "stacks": st.dictionaries(st.sampled_from(MACHINES), _steps_or_list(unit), max_size=2),
        "pins": st.sampled_from(
            [{"first": 30, "spacing": 5, "holes": 24}, {"first": "42.5", "spacing": 10, "holes": 12}]
        ),
        "safeties": st.sampled_from([True, True, False, "yes"]),
        "spotter": st.sampled_from(["never", "sometimes", "always"]),
        "rounding": st.sampled_from(["nearest", "down", "up"]),
        "ties": st.sampled_from(["lighter", "heavier"]),
    }
    gym |= draw(st.fixed_dictionaries({}, optional=optional))
    if draw(one_in(4)):
        gym["step"] = draw(_of(STEPS[unit], unit))
    return gym


def _of(numbers: tuple[str, ...], unit: str) -> st.SearchStrategy[Mass]:
    return st.builds(mass, st.sampled_from(numbers), st.just(unit), bare=st.booleans())


@st.composite
def _bars(draw: st.DrawFn, unit: str) -> Data:
    names = draw(
        st.lists(
            st.sampled_from(["bar", "short bar", "thick bar", "Männerstange"]), min_size=1, max_size=3, unique=True
        )
    )
    bars: Data = {}
    for name in names:
        own = _other(unit) if draw(one_in(8)) else unit
        weight = mass(draw(st.sampled_from(BARS[own])), own, bare=own == unit)
        with_collars = {"weight": weight, "collars": draw(_of(COLLARS[unit], unit))}
        bars[name] = with_collars if draw(one_in(4)) else weight
    return bars


@st.composite
def _pairs(draw: st.DrawFn, unit: str) -> Data:
    """Few plates of few kinds, or many of many; none at all now and then."""
    many = draw(st.booleans())
    kinds = draw(
        st.lists(st.sampled_from(PLATES[unit]), unique=True, min_size=4 if many else 0, max_size=9 if many else 4)
    )
    pairs = {mass(kind, unit): draw(st.integers(0, 8 if many else 3)) for kind in kinds}
    if draw(one_in(5)):
        pairs[mass(draw(st.sampled_from(PLATES[_other(unit)])), _other(unit), bare=False)] = draw(st.integers(1, 3))
    return pairs


@st.composite
def _steps_or_list(draw: st.DrawFn, unit: str) -> object:
    """Bells or a stack: even steps, perhaps with small pieces to add, or each one by itself."""
    low, step, count = draw(st.integers(2, 12)), draw(st.sampled_from(["1", "2", "2.5", "5"])), draw(st.integers(1, 25))
    first, rise = mass(low, unit), mass(step, unit)
    if draw(one_in(3)):
        return [mass(str(first.number + rise.number * n * n), unit) for n in range(min(count, 8))]
    steps: Data = {"from": first, "to": mass(str(first.number + rise.number * count), unit), "step": rise}
    if draw(one_in(3)):
        steps["add"] = draw(st.lists(_of(("1.25", "0.5"), unit), min_size=1, max_size=2, unique_by=lambda m: m.number))
    return steps


def _other(unit: str) -> str:
    return "lb" if unit == "kg" else "kg"
