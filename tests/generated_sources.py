"""Generated profiles and blocks, as data for YAML: any gym, lifter and rules that the sources allow."""

from __future__ import annotations

from collections.abc import Iterable

from hypothesis import strategies as st

KINDS = ("single", "double", "wave", "top_set", "step", "volume", "rep_out")
MOVEMENTS = (
    "back squat",
    "bench press",
    "deadlift",
    "front squat",
    "pause back squat",
    "barbell row",
    "barbell curl",
    "pull-up",
)
PLATES = ("25", "20", "15", "10", "5", "2.5", "1.25", "0.5")
EQUATIONS = ("epley", "brzycki", "lander", "lombardi", "mayhew", "oconner", "wathan", "table")
Data = dict[str, object]


@st.composite
def gyms(draw: st.DrawFn) -> Data:
    """A gym of one or two bars and few plates, all masses written in kg."""
    plates = draw(st.lists(st.sampled_from(PLATES), unique=True, max_size=6))
    bars = draw(st.lists(st.sampled_from([8, 15, 20, 25]), min_size=1, max_size=2))
    gym: Data = {
        "bars": {f"bar {n}": f"{weight} kg" for n, weight in enumerate(bars)},
        "pairs": {f"{plate} kg": draw(st.integers(0, 3)) for plate in plates},
        "collars": draw(st.sampled_from(["0 kg", "2.5 kg"])),
        "safeties": draw(st.sampled_from(["true", "false"])),
        "rounding": draw(st.sampled_from(["nearest", "down", "up"])),
        "ties": draw(st.sampled_from(["lighter", "heavier"])),
        "pins": {"first": 30, "spacing": 5, "holes": 20},
    }  # fmt: skip
    if draw(st.booleans()):
        gym["dumbbells"] = {"from": "4 kg", "to": "30 kg", "step": "2 kg"}
    if draw(st.integers(0, 3)) == 0:
        gym["step"] = "5 kg"
    return gym


@st.composite
def profiles(draw: st.DrawFn) -> Data:
    """A lifter with two to four tested lifts."""
    tested = {"back squat": 140, "bench press": 90, "deadlift": 170, "pull-up": 10}
    lifts = {}
    for name in draw(st.lists(st.sampled_from(sorted(tested)), unique=True, min_size=1)):
        load = tested[name] + draw(st.integers(-8, 60))
        test = {
            "date": "2026-12-19",
            "load": f"{max(load, 2)} kg",
            "reps": draw(st.integers(1, 8)),
            "rir": draw(st.integers(0, 4)),
        }
        test |= draw(st.fixed_dictionaries({}, optional={"belt": st.sampled_from(["true", "false"])}))
        lifts[name] = {"tests": [test], "working_max": f"{draw(st.integers(80, 100))} %"}
    body, born = draw(st.integers(45, 140)), draw(st.sampled_from([1950, 1990, 2010]))
    status = draw(st.sampled_from(["novice", "intermediate", "advanced"]))
    return {
        "format": 1,
        "client": {"name": "Q", "units": "kg", "bodyweight": f"{body} kg", "born": born},
        "training": {
            "status": status, "months": 12, "days": ["mon", "wed", "fri"],
            "session_minutes": 90, "starts": "2027-01-04",
        },
        "equation": draw(st.sampled_from(EQUATIONS)),
        "lifts": lifts,
        "gym": draw(gyms()),
        "screening": {"answered": "2027-01-01", "clinician_advised": draw(st.sampled_from(["false", "false", "true"]))},
    }  # fmt: skip


@st.composite
def progressions(draw: st.DrawFn, kind: str) -> Data:
    """One mapping of a kind; at least three sets, so that a deload can leave some out."""
    sets, reps, rir = draw(st.integers(3, 6)), draw(st.integers(4, 10)), draw(st.integers(0, 4))
    add = draw(st.sampled_from(["1 kg", "2.5 kg", "5 kg", "1 %", "2.5 %"]))
    more: Data = {"rir": rir}
    if draw(st.booleans()):
        more["start"] = draw(st.sampled_from(["30 kg", "67.3 kg", "60 %", "85 %"]))
    match kind:
        case "single":
            return {"kind": kind, "sets": sets, "reps": reps, "add": add, **more}
        case "double":
            return {"kind": kind, "sets": sets, "reps": f"{reps}-{reps + draw(st.integers(1, 5))}", "add": add, **more}
        case "step":
            return {"kind": kind, "sets": sets, "reps": reps, "add": add, "hold": draw(st.integers(2, 4)), **more}
        case "rep_out":
            return {"kind": kind, "sets": sets, "reps": reps, "add": add, **more}
        case "volume":
            return {
                "kind": kind,
                "sets": f"{sets}-{sets + 2}",
                "reps": reps,
                "add": add,
                "every": draw(st.integers(1, 3)),
                **more,
            }
        case "top_set":
            return {
                "kind": kind,
                "reps": [reps, 2],
                "rir": [rir, 1],
                "gain": add,
                "backoff": {"sets": sets, "reps": reps, "share": "85 %"},
            }
    entries = [
        {"share": f"{draw(st.integers(50, 100))} %", "sets": sets, "reps": reps},
        {"rir": rir, "sets": sets, "reps": reps},
    ]
    return {"kind": "wave", "weeks": entries, "add": add}  # fmt: skip


@st.composite
def slots(draw: st.DrawFn) -> Data:
    """A slot of any kind; a drill one time in five."""
    if draw(st.integers(0, 4)) == 0:
        drill = draw(st.sampled_from(["walkout", "pin squat"]))
        cadence = draw(st.sampled_from(["1 week", "2 weeks", "2 exposures"]))
        hold = {
            "kind": "hold",
            "from": f"{draw(st.integers(80, 105))} %",
            "to": f"{draw(st.integers(105, 115))} %",
            "rise": "5 %",
            "every": cadence,
        }
        pins = {"kind": "pins", "from": "hole 12", "to": "hole 9", "every": cadence}
        return {"drill": drill, "of": "back squat", "progression": hold if drill == "walkout" else pins}
    slot: Data = {
        "movement": draw(st.sampled_from(MOVEMENTS)),
        "progression": draw(progressions(draw(st.sampled_from(KINDS)))),
    }
    more: dict[str, st.SearchStrategy[object]] = {
        "accessory": st.sampled_from(["true", "false"]), "superset": st.sampled_from(["A", "B"]),
        "trained": st.sampled_from([{"belt": "true"}, {"belt": "false"}]), "rest": st.just("90 s"),
    }  # fmt: skip
    return slot | draw(st.fixed_dictionaries({}, optional=more))


@st.composite
def blocks(draw: st.DrawFn, tested: Iterable[str] = ()) -> Data:
    """Three to nine weeks of one to three days with deloads, and perhaps a test of a tested lift."""
    weeks = draw(st.integers(3, 9))
    head: Data = {"title": "T", "weeks": weeks, "suits": ["novice"]}
    deload: Data = {
        "every": draw(st.integers(2, 4)),
        "sets": "60 %",
        "load": f"{draw(st.integers(70, 95))} %",
        "drop": draw(st.lists(st.sampled_from(["drills", "accessories"]), unique=True)),
    }
    if draw(st.integers(0, 4)):
        head["deload"] = deload
    names = list(tested)
    if draw(st.booleans()) and names:
        head["test"] = {"week": weeks, "lifts": [draw(st.sampled_from(names))]}
    days = [
        {"title": f"D{n}", "slots": draw(st.lists(slots(), min_size=1, max_size=3))}
        for n in range(draw(st.integers(1, 3)))
    ]
    return {"format": 1, "block": head, "days": days}  # fmt: skip


@st.composite
def pairs(draw: st.DrawFn) -> tuple[Data, Data]:
    """A profile and a block for it."""
    profile = draw(profiles())
    lifts = profile["lifts"]
    assert isinstance(lifts, dict)
    return profile, draw(blocks(sorted(lifts)))
