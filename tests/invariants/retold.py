"""A small reader of `explain --json` that works each load out anew from its reasons, in floats, by its own sums."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from math import exp
from typing import Any

Json = dict[str, Any]

# The printed formulas of references.md, section 1: what one kg for `r` reps to failure says of the max.
WORTH: dict[str, Callable[[float], float]] = {
    "epley": lambda r: 1 + r / 30,
    "brzycki": lambda r: 1 / (1.0278 - 0.0278 * r),
    "lander": lambda r: 100 / (101.3 - 2.67123 * r),
    "lombardi": lambda r: r**0.10,
    "mayhew": lambda r: 100 / (52.2 + 41.9 * exp(-0.055 * r)),
    "oconner": lambda r: 1 + 0.025 * r,
    "wathan": lambda r: 100 / (48.8 + 53.8 * exp(-0.075 * r)),
}
HANDBOOK = {1: 100, 2: 95, 3: 93, 4: 90, 5: 87, 6: 85, 7: 83, 8: 80, 9: 77, 10: 75, 11: 70, 12: 67, 15: 65}
"""Percent of the max by reps to failure: Haff & Triplett 2016, table 17.7 (references.md)."""


def share_of_max(equation: str, reps: float, table: dict[int, float]) -> float:
    """The share of the max for reps to failure; from one rep, which is the max, in a straight line to two."""
    if equation == "table":
        (low, heavy), (high, light) = next(pair for pair in pairwise(sorted(table.items())) if reps <= pair[1][0])
        return (heavy - (heavy - light) * (reps - low) / (high - low)) / 100
    if reps < 2 and abs(WORTH[equation](1.0) - 1) > 1e-9:
        return 1 - (reps - 1) * (1 - 1 / WORTH[equation](2.0))
    return 1 / WORTH[equation](float(reps))


GAINS = {"belt": 0.05, "sleeves": 0.035, "low-bar": 0.075}
"""What each condition adds: common practice, no source, as the README tells."""


@dataclass
class Retelling:
    """How far the reasons of one set have led: the max and the target in kg, and the load of the last reason."""

    equation: str
    table: dict[int, float]
    gains: dict[str, float]
    max: float = 0.0
    working: float = 1.0
    test: tuple[float, float] = (0.0, 1.0)
    target: float | None = None
    load: float | None = None
    own: float = 0.0
    share: float | None = None
    likely: float = 0.0
    within: float | None = None
    top: float = 0.0

    def tell(self, step: str, facts: Json) -> None:
        """Takes one reason; what it says must be what was reckoned so far. AssertionError where it is not."""
        known = {name: _number(value) for name, value in facts.items()}
        self.own = known.get("own_kg", self.own)
        method = getattr(self, "_" + step.replace("-", "_"), None)
        if method is not None:
            method(known)
        elif step.startswith("loadable") or step in ("under-lightest", "over-heaviest", "body-heavier"):
            self._loaded(step, known)
        elif "factor_share" in known:
            word, way = step.rsplit("-", 1)
            gain = 1 + self.gains[word]
            _same(gain if way == "on" else 1 / gain, known["factor_share"], 2e-6)
            self.max = _same(self.max * known["factor_share"], known["max_kg"])
        else:
            told = (
                "sets-added", "rep-out", "back-off", "by-feel", "deload-reps", "taper", "further",
                "body-alone", "no-load", "by-feel-length", "length", "length-rising",
            )  # fmt: skip
            assert step in told, step

    def _test(self, k: Json) -> None:
        self.test = k["load_kg"], k["reps"] + k["rir"]

    def _estimate(self, k: Json) -> None:
        load, reps = self.test
        if load:  # Attempts begin with the estimate.
            _same(load / share_of_max(self.equation, reps, self.table), k["estimate_kg"])
        assert k["low_kg"] <= k["estimate_kg"] + 1e-5 and k["estimate_kg"] <= k["high_kg"] + 1e-5
        self.max = k["estimate_kg"]

    def _working_max(self, k: Json) -> None:
        self.max, self.working = _same(self.max * k["working_share"], k["working_kg"]), k["working_share"]

    def _ratio(self, k: Json) -> None:
        self.max = _same(self.max * k["ratio_share"], k["max_kg"])

    def _by_feel_long(self, k: Json) -> None:
        assert k["reps"] + k["rir"] > 15

    def _start_load(self, k: Json) -> None:
        self.target = k["target_kg"]

    def _start_share(self, k: Json) -> None:
        self.share, self.target = k["share"], _same(max(self.max * k["share"] - self.own, 0), k["target_kg"])
        _same(self.max, k["max_kg"])

    def _effort(self, k: Json) -> None:
        reps = min(k["reps"] + k["rir"], 15)
        _same(share_of_max(self.equation, reps, self.table), k["share"], 2e-6)
        self._start_share(k)

    def _raised_by_load(self, k: Json) -> None:
        self.target = _same(k["begun_kg"] + k["add_kg"] * k["times"], k["target_kg"])

    def _raised_by_share(self, k: Json) -> None:
        self.target = _same(k["begun_kg"] * (1 + k["add_share"]) ** k["times"], k["target_kg"])

    def _raised_by_points(self, k: Json) -> None:
        assert self.target is not None
        self.target = _same(self.target + self.max * k["add_share"] * k["times"], k["target_kg"])

    def _expected_gain(self, k: Json) -> None:
        assert self.target is not None
        self.target = _same(self.target * (1 + k["add_share"]) ** k["times"], k["target_kg"])

    def _expected_gain_load(self, k: Json) -> None:
        assert self.target is not None
        self.target = _same(self.target + k["add_kg"] * k["times"], k["target_kg"])

    def _of_top(self, k: Json) -> None:
        self.target = _same((k["top_kg"] + self.own) * k["of_top_share"] - self.own, k["target_kg"])

    def _of_last(self, k: Json) -> None:
        self.target = _same(max((k["last_kg"] + self.own) * k["of_last_share"] - self.own, 0), k["target_kg"])

    def _from_last(self, k: Json) -> None:
        self.target = _same(max(k["last_kg"] + k["more_kg"], 0), k["target_kg"])

    def _hold(self, k: Json) -> None:
        _same(self.max / self.working, k["max_kg"])
        self.share, self.target = k["share"], _same(k["max_kg"] * k["share"], k["target_kg"])

    def _pin_share(self, k: Json) -> None:
        _same(self.max, k["max_kg"])
        self.share, self.target = k["share"], _same(self.max * k["share"], k["target_kg"])

    def _deload(self, k: Json) -> None:
        if "target_kg" in k:
            assert self.target is not None
            # A deload cuts from what was really lifted, which may have been held.
            begun = self.target if self.load is None else self.load
            self.target = _same(max((begun + self.own) * k["load_share"] - self.own, 0), k["target_kg"])

    def _expected_max(self, k: Json) -> None:
        assert k["low_kg"] <= k["about_kg"] <= k["high_kg"]
        self.max, self.likely = k["about_kg"], k["high_kg"]

    def _as_trained(self, k: Json) -> None:
        assert self.target is not None
        assert k["target_kg"] > self.target
        self.target = k["target_kg"]

    def _held(self, k: Json) -> None:
        assert self.target is not None
        _same(self.target, k["target_kg"])
        # Nothing beyond reach, but for an implement that has nothing lighter.
        assert k["load_kg"] <= self.target + 1e-5
        self.load, self.within = k["load_kg"], k["most_kg"]

    def _held_reps(self, k: Json) -> None:
        assert self.target is not None
        _same(self.target, k["target_kg"])
        assert k["held_reps"] < k["reps"]
        # The body alone may be too heavy: then the heaviest load that may hang from it is told as none.
        assert k["load_kg"] > k["most_kg"] or k["most_kg"] == 0
        self.load = k["load_kg"]

    def _held_easier(self, k: Json) -> None:
        assert k["left"] >= 1
        self._held(k)

    def _held_easier_reps(self, k: Json) -> None:
        assert k["left"] >= 1
        self._held_reps(k)

    def _double(self, k: Json) -> None:
        self.top = k["high"]

    def _next_too_far(self, k: Json) -> None:
        assert self.target is not None
        _same(self.target, k["target_kg"])
        assert k["load_kg"] < k["next_kg"]
        assert k["next_kg"] > self.target * 1.1
        self.load = k["load_kg"]

    def _reps_instead(self, k: Json) -> None:
        assert self.target is not None
        assert k["load_kg"] < self.target
        # In a range they go on from its top.
        assert k["rule_reps"] < k["reps"] <= max(self.top, k["rule_reps"]) + 4
        self.load = k["load_kg"]

    def _deload_from(self, k: Json) -> None:
        assert self.target is not None and self.target > k["target_kg"]
        self.target, self.load = k["target_kg"], None

    def _taper(self, k: Json) -> None:
        assert 0 < k["sets_share"] <= 1
        self.target = self.target if self.load is None else self.load

    def _deload_unhung(self, k: Json) -> None:
        assert self.target is not None and 0 < self.target < 2.5
        self.target = _same(0.0, k["target_kg"])

    _re_entry_load = _deload

    def _planned_best(self, k: Json) -> None:
        assert self.max < k["estimate_kg"] <= self.likely + 1e-5
        self.max = k["estimate_kg"]

    def _attempt(self, k: Json) -> None:
        _same(self.max, k["max_kg"])
        self.share, self.target, self.load = k["share"], self.max * k["share"], k["load_kg"]

    def _ramp(self, k: Json) -> None:
        self.load = None
        self.target = k["work_kg"] * k["of_work_share"]

    def _loaded(self, step: str, k: Json) -> None:
        assert self.target is not None
        _same(self.target, k["target_kg"])
        self.load, self.within = k["load_kg"], None
        assert not step.endswith("-down") or self.load <= self.target + 1e-5
        assert not step.endswith("-up") or self.load >= self.target - 1e-5
        assert step != "under-lightest" or self.load > self.target
        assert step != "over-heaviest" or self.load < self.target


def _number(value: Any) -> Any:
    try:
        return float(value)
    except ValueError:
        return value


def _same(reckoned: float, told: float, within: float = 1e-3) -> float:
    """The told number, when it is the reckoned one: to a gram, since facts are told to six decimals."""
    assert abs(reckoned - told) <= within, (reckoned, told)
    return told
