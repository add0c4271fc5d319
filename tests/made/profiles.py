"""Made-up clients: any age, training age, days, tests, limits and screening, each with a gym."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

from hypothesis import strategies as st
from made.gyms import gyms
from made.masses import POUND, Data, Mass, mass, one_in, percents

EQUATIONS = ("epley", "brzycki", "lander", "lombardi", "mayhew", "oconner", "wathan", "table")
TABLE = {1: "100 %", 2: "94 %", 3: "91 %", 5: "86 %", 8: "78.5 %", 12: "66 %", 15: "60 %"}
TESTED = {
    "back squat": 140, "bench press": 95, "deadlift": 170, "overhead press": 55, "front squat": 115,
    "pull-up": 12, "dip": 20, "leg press": 90, "goblet squat": 24,
}  # fmt: skip
"""Lifts that may be tested, each with a load in kg that somebody might lift."""
BODYWEIGHT = ("pull-up", "dip")
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
AVOIDED = ("front squat", "bench press", "good morning", "barbell row", "pull-up", "back squat")
INSTEAD = ("pause back squat", "deadlift", "dumbbell bench press", "push-up", "front squat")


@st.composite
def profiles(draw: st.DrawFn) -> Data:
    """A client whom intake takes."""
    unit = draw(st.sampled_from(["kg", "lb"]))
    starts = draw(st.dates(date(2026, 1, 1), date(2028, 12, 31)))
    profile: Data = {
        "format": 1,
        "client": draw(_identities(unit)),
        "training": draw(_training(starts)),
        "gym": draw(gyms(unit)),
    }
    fewest = 0 if draw(one_in(8)) else 2
    names = st.lists(st.sampled_from(sorted(TESTED)), unique=True, min_size=fewest, max_size=4)
    tested = [name for name in draw(names) if name not in BODYWEIGHT or "bodyweight" in profile["client"]]
    if tested:
        profile["lifts"] = {name: draw(_lifts(name, unit, starts)) for name in tested}
    optional = {
        "equation": st.sampled_from(EQUATIONS),
        "percent_table": st.just(TABLE),
        "limits": st.lists(_limits(starts), min_size=1, max_size=2),
        "screening": _screenings(starts),
    }
    return profile | draw(st.fixed_dictionaries({}, optional=optional))


@st.composite
def _identities(draw: st.DrawFn, unit: str) -> Data:
    """Minors, adults, older lifters and those who do not say."""
    heavy = draw(st.integers(40, 150))
    optional = {
        "bodyweight": st.just(mass(heavy if unit == "kg" else heavy * 2, unit)),
        "born": st.sampled_from([1938, 1961, 1962, 1990, 2001, 2008, 2009, 2010, 2011, 2013]),
        "supervisor": st.just("Dr Ash"),
        "sex": st.sampled_from(["female", "male"]),
    }
    return {"name": "Q", "units": unit} | draw(st.fixed_dictionaries({}, optional=optional))


@st.composite
def _training(draw: st.DrawFn, starts: date) -> Data:
    days = draw(st.lists(st.sampled_from(WEEKDAYS), unique=True, min_size=1, max_size=6))
    return {
        "status": draw(st.sampled_from(["novice", "intermediate", "advanced"])),
        "months": draw(st.integers(0, 240)),
        "days": days,
        "session_minutes": draw(st.integers(30, 120)),
        "starts": starts.isoformat(),
    }


@st.composite
def _lifts(draw: st.DrawFn, name: str, unit: str, starts: date) -> Data:
    tests = draw(st.lists(_tests(name, unit, starts), min_size=1, max_size=3))
    tests[0].pop("missed", None)
    optional = {
        "working_max": percents(50, 100),
        "equation": st.sampled_from(EQUATIONS),
        "records": st.lists(_records(name, unit), max_size=2),
        "held": _loads(name, unit, 90, 130).map(lambda load: {"load": load, "seconds": "6 s"}),
    }
    return {"tests": tests} | draw(st.fixed_dictionaries({}, optional=optional))


def _loads(name: str, unit: str, low: int, high: int) -> st.SearchStrategy[Mass]:
    """A load for a lift, `low` to `high` percent of the usual one, in whole halves of the unit."""
    usual = TESTED[name] / (POUND if unit == "lb" else Decimal(1))
    return st.integers(int(usual * low / 50), int(usual * high / 50)).map(
        lambda halves: mass(format(Decimal(max(halves, 2)) / 2, "f"), unit)
    )


@st.composite
def _tests(draw: st.DrawFn, name: str, unit: str, starts: date) -> Data:
    reps = draw(st.integers(1, 12))
    test: Data = {
        "date": (starts - timedelta(days=draw(st.integers(1, 200)))).isoformat(),
        "load": draw(_loads(name, unit, 40, 150)),
        "reps": reps,
    }
    optional = {
        "rir": st.sampled_from(["0", "0.5", "1", "1.5", "2", "3"]),
        "missed": one_in(6),
        "bar": st.sampled_from(["high", "low"]),
        "belt": st.booleans(),
        "sleeves": st.booleans(),
        "depth": st.sampled_from(["parallel", "below parallel"]),
    }
    return test | draw(st.fixed_dictionaries({}, optional=optional))


@st.composite
def _records(draw: st.DrawFn, name: str, unit: str) -> Data:
    return {"load": draw(_loads(name, unit, 60, 120)), "reps": draw(st.integers(1, 8)), "date": "2025-11-30"}


@st.composite
def _limits(draw: st.DrawFn, starts: date) -> Data:
    """Something that hurts, long since, lately or not said; replaced by something else or left out."""
    avoid = draw(st.lists(st.sampled_from(AVOIDED), unique=True, min_size=1, max_size=2))
    limit: Data = {"area": "knee", "avoid": avoid}
    if draw(st.booleans()):
        limit["instead"] = {avoid[0]: draw(st.sampled_from([word for word in INSTEAD if word not in avoid]))}
    if draw(st.booleans()):
        limit["since"] = (starts - timedelta(days=draw(st.sampled_from([1, 20, 41, 42, 43, 300])))).isoformat()
    return limit


def _screenings(starts: date) -> st.SearchStrategy[Data]:
    """Answered; with a clinician advised; and cleared."""
    answered: Data = {"answered": (starts - timedelta(days=9)).isoformat()}
    advised = {**answered, "clinician_advised": True}
    cleared = {**advised, "cleared": (starts - timedelta(days=2)).isoformat()}
    return st.sampled_from([answered, answered, advised, cleared])
