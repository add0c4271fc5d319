"""Made-up blocks for a client, and the two together."""

from __future__ import annotations

from decimal import Decimal

from hypothesis import strategies as st
from made.masses import Data, Made, mass, one_in, percents
from made.profiles import profiles
from made.rules import adds, holds, lengths, pins, progressions

MOVEMENTS = (
    "back squat", "squat", "bench press", "deadlift", "overhead press", "front squat", "pause back squat",
    "high-bar squat", "push press", "barbell row", "pull-up", "dip", "leg press", "lat pull-down", "goblet squat",
    "dumbbell bench press", "kettlebell swing", "good morning", "Romanian deadlift", "plank",
    "side plank", "farmer's carry",
)  # fmt: skip
ON_A_BAR = ("back squat", "bench press", "deadlift", "overhead press", "front squat")


@st.composite
def made(draw: st.DrawFn, kind: str, movement: str = "") -> Made:
    """A client and a block for this client, whose first slot is of a kind and, where it is no drill, of a movement."""
    profile = draw(profiles())
    block = draw(blocks(profile))
    if kind in ("hold", "pins"):
        first = draw(_drills(profile, walkout=kind == "hold"))
    else:
        rule = draw(progressions(profile["client"]["units"], kind))
        first = {"movement": movement, "progression": rule}
    block["days"][0]["slots"].insert(0, {**first, **_called("first of all")})
    _spared(profile, block["days"])
    return Made(profile, block)


def barbell_lifts(profile: Data) -> list[str]:
    """The tested lifts that are done with a bar."""
    return [name for name in profile.get("lifts", ()) if name in ON_A_BAR]


@st.composite
def blocks(draw: st.DrawFn, profile: Data) -> Data:
    """Two to ten weeks with phases, deloads of all sorts, drills, variants, supersets and a test."""
    weeks = draw(st.integers(2, 10))
    head: Data = {"title": "T", "weeks": weeks, "suits": ["novice", "advanced"]}
    head |= draw(_heads(profile, weeks))
    trained = len(profile["training"]["days"])
    count = draw(st.integers(1, min(trained, 3)))
    if draw(one_in(5)):
        head["rolling"], count = True, count + 1
    track = draw(_slots(profile, weeks))
    days = [draw(_days(profile, weeks, number, track)) for number in range(count)]
    return {"format": 1, "block": head, "days": _spared(profile, days)}


def _spared(profile: Data, days: list[Data]) -> list[Data]:
    """The days without what is forbidden to some clients: nothing to failure, no share at the max or above it."""
    screened = profile.get("screening", {})
    young = profile["client"].get("born", 1990) > 2005 and "supervisor" not in profile["client"]
    bare = profile["gym"].get("safeties", False) in (False, "no")
    if not (young or bare or "clinician_advised" in screened):
        return days
    for slot in (slot for day in days for slot in day["slots"]):
        _spare(slot["progression"])
    return days


def _spare(rule: Data) -> None:
    if isinstance(rule.get("rir"), list):
        rule["rir"] = [left if Decimal(left) >= 1 else "1" for left in rule["rir"]]
    elif "rir" in rule and Decimal(rule["rir"]) < 1:
        rule["rir"] = "1"
    if rule.get("kind", "wave") == "wave" and Decimal(str(rule.get("share", "0 %")).rstrip(" %")) >= 100:
        rule["share"] = "99 %"
    for entry in rule.get("weeks", ()):
        _spare(entry)


@st.composite
def _heads(draw: st.DrawFn, profile: Data, weeks: int) -> Data:
    optional: dict[str, st.SearchStrategy[object]] = {
        "deload": _deloads(weeks),
        "taper": st.fixed_dictionaries({}, optional={"sets": percents(30, 80), "drop": st.just(["drills"])}),
        "milestones": st.sampled_from(["1 week", "3 exposures"]),
        "phases": st.just([{"title": "First", "weeks": "1-2", "aim": "Begin."}]),
        "gear": st.just({"belt": "4 %", "low_bar": "6 %"}),
    }
    lifts = sorted(profile.get("lifts", ()))
    if lifts:
        optional["test"] = _test_weeks(lifts, weeks, len(profile["training"]["days"]))
    head: Data = draw(st.fixed_dictionaries({}, optional=optional))
    if "test" not in head and "deload" in head:
        head["deload"].pop("before_test", None)
    if "taper" in head:
        _tapers(head)
    return head


def _tapers(head: Data) -> None:
    """A taper needs a test that comes later, and takes the place of a deload before it."""
    if "test" not in head or head["test"]["week"] < 2:
        del head["taper"]
    else:
        head.get("deload", {}).pop("before_test", None)


@st.composite
def _deloads(draw: st.DrawFn, weeks: int) -> Data:
    """Every so many weeks, named weeks, or before the test; fewer sets, fewer reps, less load."""
    when: dict[str, st.SearchStrategy[object]] = {
        "every": st.integers(2, 4),
        "weeks": st.lists(st.integers(1, weeks), min_size=1, max_size=2, unique=True),
        "before_test": st.just(True),
    }
    how: dict[str, st.SearchStrategy[object]] = {
        "sets": st.sampled_from(["50 %", "60 %", "100 %"]),
        "reps": st.sampled_from(["50 %", "80 %"]),
        "load": percents(50, 95),
        "easier": st.sampled_from(["0", "1", "3"]),
        "drop": st.sampled_from([["drills"], ["accessories"], ["drills", "accessories"], []]),
        "counts": st.booleans(),
    }
    return draw(st.fixed_dictionaries({}, optional=when | how))


@st.composite
def _test_weeks(draw: st.DrawFn, lifts: list[str], weeks: int, days: int) -> Data:
    per_day = draw(st.integers(1, 3))
    names = draw(st.lists(st.sampled_from(lifts), unique=True, min_size=1, max_size=min(3, days * per_day)))
    test: Data = {
        "week": weeks if draw(st.booleans()) else draw(st.integers(2, weeks)),
        "lifts": names,
        "per_day": per_day,
    }
    if draw(one_in(3)):
        opener = draw(st.integers(80, 90))
        test["attempts"] = {"opener": f"{opener} %", "second": f"{opener + 5} %", "third": f"{opener + 12} %"}
    return test


@st.composite
def _days(draw: st.DrawFn, profile: Data, weeks: int, number: int, track: Data) -> Data:
    """A day whose slots are known by their cue in any week's session, unless something replaces them."""
    slots = draw(st.lists(_slots(profile, weeks), min_size=1, max_size=4))
    if draw(st.booleans()):
        slots.insert(draw(st.integers(0, len(slots))), draw(_drills(profile, walkout=draw(st.booleans()))))
    slots = [{**slot, **_called(f"slot {number}.{place}")} for place, slot in enumerate(slots)]
    if draw(one_in(6)):
        slots.append({**track, "track": "one", "cues": ["the track"]})
    day: Data = {"title": f"D{number}", "slots": slots}
    if draw(one_in(8)):
        day["weeks"] = f"1-{draw(st.integers(1, weeks))}"
    return day


def _called(name: str) -> Data:
    """The name of a slot, by which changes find it, and its cue, by which the plan is read."""
    return {"name": name, "cues": [name]}


@st.composite
def _slots(draw: st.DrawFn, profile: Data, weeks: int) -> Data:
    """A movement: tested itself, a variant by the library's ratio or its own, or found by feel."""
    unit, gym = profile["client"]["units"], profile["gym"]
    if draw(one_in(12)):
        easy = draw(lengths(unit, loaded=False))
        return {"conditioning": "easy bike", "zone": "you can talk", "progression": {"sets": 1, **easy}}
    movement = draw(st.sampled_from(sorted(profile.get("lifts", ())) or MOVEMENTS) | st.sampled_from(MOVEMENTS))
    rule = draw(lengths(unit) if draw(one_in(6)) else progressions(unit))
    slot: Data = {"movement": movement, "progression": rule}
    optional: dict[str, st.SearchStrategy[object]] = {
        "rest": st.sampled_from(["90 s", "3 min", "0 s"]),
        "tempo": st.sampled_from(["3-1-X", "2-0-2-1"]),
        "superset": st.sampled_from(["A", "B"]),
        "rounding": st.sampled_from(["nearest", "down", "up"]),
        "accessory": st.booleans(),
        "trained": st.sampled_from([{"belt": True}, {"belt": False, "bar": "low"}, {"sleeves": True, "bar": "high"}]),
        "weeks": st.integers(1, weeks).map(lambda first: f"{first}-{weeks}"),
    }
    few = draw(st.sets(st.sampled_from(sorted(optional)), max_size=3))
    slot |= {key: draw(optional[key]) for key in sorted(few)}
    if draw(one_in(4)):
        slot["barbell"] = draw(st.sampled_from(sorted(gym["bars"])))
    if draw(one_in(6)):
        slot["step"] = mass(draw(st.sampled_from(["1", "2.5", "5"])), unit)
    if gym.get("stacks") and draw(one_in(4)):
        slot["stack"] = draw(st.sampled_from(sorted(gym["stacks"])))
    if draw(one_in(5)) and barbell_lifts(profile):
        slot |= {"of": draw(st.sampled_from(barbell_lifts(profile))), "ratio": draw(percents(40, 120))}
    return slot


@st.composite
def _drills(draw: st.DrawFn, profile: Data, *, walkout: bool) -> Data:
    """A walkout or a pin squat, of a tested lift where there is one."""
    lift = draw(st.sampled_from(barbell_lifts(profile) or ON_A_BAR))
    if walkout:
        slot: Data = {"drill": "walkout", "of": lift, "progression": draw(holds())}
    else:
        slot = {"drill": "pin squat", "of": lift, "progression": draw(pins(rack="pins" in profile["gym"]))}
    return slot | draw(st.fixed_dictionaries({}, optional={"ratio": percents(70, 100)}))


__all__ = ["adds", "blocks", "made"]
