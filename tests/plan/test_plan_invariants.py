"""What holds for every plan, over generated gyms, lifters and blocks."""

from __future__ import annotations

import random
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from itertools import combinations_with_replacement, pairwise, product

import yaml
from generated_sources import KINDS, Data, pairs
from hypothesis import given, settings
from hypothesis import strategies as st
from sources_for_tests import plan, sources, tonnage

from builder.plan import Plan, PlannedSet, PlannedSlot, Role, WeekKind, make_plan
from builder.quantity import LB_IN_KG, plain


def _text(data: object) -> str:
    return yaml.safe_dump(data, sort_keys=False, allow_unicode=True)


def _squats(rule: Data, weeks: int) -> Data:
    slot = {"movement": "back squat", "progression": rule}
    head = {"title": "T", "weeks": weeks, "suits": ["novice"]}
    return {"format": 1, "block": head, "days": [{"title": "D", "slots": [slot]}]}


def _plan(profile: Data, block: Data) -> Plan:
    return plan(_text(profile), _text(block))


def _every_set(made: Plan) -> Iterable[tuple[PlannedSlot, PlannedSet]]:
    for session in made.sessions():
        for slot in session.slots:
            yield from ((slot, planned) for planned in slot.sets)


def _masses(made: Plan) -> list[object]:
    """Everything of a plan but the labels: dates, movements, reps, loads, rests, minutes, outcomes."""
    found: list[object] = []
    for session in made.sessions():
        found.append((session.on, session.title, session.minutes))
        for slot in session.slots:
            found.append((slot.movement, slot.kind, slot.exposure, slot.estimated, slot.pin, slot.lift))
            found += [
                (s.role, s.reps, s.rir, s.rung and s.rung.mass, s.rest, s.milestone, s.mark and s.mark.reps)
                for s in slot.sets
            ]
            found += [(o.after, o.rung and o.rung.mass, o.reps) for o in slot.outcomes]
    return found  # fmt: skip


@given(pairs())
@settings(max_examples=80)
def test_there_is_always_a_plan_with_a_reason_for_every_load(pair: tuple[Data, Data]) -> None:
    """Never an exception; all weeks are there; no set is without reps; no load is without its why."""
    made = _plan(*pair)
    head = pair[1]["block"]
    assert isinstance(head, dict)
    assert [w.number for w in made.weeks] == list(range(1, head["weeks"] + 1))
    for slot, planned in _every_set(made):
        assert planned.reps >= 1
        assert planned.why
        assert planned.rung is None or planned.rung.mass >= 0
        assert slot.work


@given(pairs())
@settings(max_examples=60)
def test_each_load_on_a_bar_is_loadable_in_that_gym(pair: tuple[Data, Data]) -> None:
    """Bar, collars and twice the plates printed make the load, from plates that the gym has, found here by counting."""
    profile, block = pair
    gym = profile["gym"]
    assert isinstance(gym, dict)
    stock = {label.removesuffix(" kg"): count for label, count in gym["pairs"].items()}
    bars = {name: Decimal(str(weight).split()[0]) for name, weight in gym["bars"].items()}
    collars = 2 * Decimal(str(gym["collars"]).split()[0])
    for slot, planned in _every_set(_plan(profile, block)):
        if planned.rung is None or slot.implement not in bars:
            continue
        assert all(count <= stock[label] for label, count in planned.rung.side)
        side = sum((Decimal(label) * count for label, count in planned.rung.side), Decimal(0))
        assert planned.rung.mass == bars[slot.implement] + collars + 2 * side


def test_a_hand_of_plates_is_used_to_the_full() -> None:
    """Against counting every way to load three kinds of plates: no nearer load exists for any target."""
    profile = yaml.safe_load(_text(SMALL))
    profile["gym"] = {"bars": {"bar": 20}, "pairs": {15: 2, 10: 1, 2.5: 1}, "safeties": True}
    sides = [15 * a + 10 * b + Decimal("2.5") * c for a, b, c in product(range(3), range(2), range(2))]
    every = sorted({20 + 2 * side for side in sides})
    for target in range(20, 120, 3):
        block = _squats({"kind": "single", "reps": 5, "start": f"{target} kg", "add": "1 kg"}, 1)
        rung = _plan(profile, block).sessions()[0].slots[0].work[0].rung
        assert rung is not None
        assert abs(rung.mass - target) == min(abs(load - target) for load in every)


@given(pairs())
@settings(max_examples=60)
def test_deloads_and_holds_never_round_up(pair: tuple[Data, Data]) -> None:
    """Unless the lightest load of the gym is already more."""
    made = _plan(*pair)
    for week in made.weeks:
        for session in week.sessions:
            for slot in session.slots:
                for planned in slot.work:
                    if planned.rung is None or planned.target is None or planned.why[-1].step == "under-lightest":
                        continue
                    if week.kind is WeekKind.DELOAD or planned.role is Role.HOLD or slot.kind == "pins":
                        assert planned.rung.mass <= planned.target


@given(pairs())
@settings(max_examples=60)
def test_a_deload_week_is_lighter_than_the_training_week_before(pair: tuple[Data, Data]) -> None:
    """In sets always; in kilograms times reps wherever anything is weighed."""
    made = _plan(*pair)
    for before, week in pairwise(made.weeks):
        if week.kind is not WeekKind.DELOAD or before.kind is not WeekKind.TRAINING:
            continue
        if any(slot.drill for w in (before, week) for s in w.sessions for slot in s.slots):
            continue  # A drill's own cadence may leave it out of the week before.
        if before.total.sets == 0:
            continue
        assert week.total.sets < before.total.sets
        weighed = [sum((tonnage(s) for s in w.sessions), Decimal(0)) for w in (before, week)]
        assert weighed[1] < weighed[0] or weighed[0] == 0


@given(pairs())
@settings(max_examples=80)
def test_holds_above_the_max_only_where_allowed(pair: tuple[Data, Data]) -> None:
    """With safeties, of age or supervised, and nothing that waits for a clinician."""
    profile, block = pair
    made = _plan(profile, block)
    gym, identity, screening = (profile[key] for key in ("gym", "client", "screening"))
    assert isinstance(gym, dict) and isinstance(identity, dict) and isinstance(screening, dict)
    barred = gym["safeties"] == "false" or identity["born"] == 2010 or screening["clinician_advised"] == "true"
    for slot, planned in _every_set(made):
        numbers = made.lift(slot.lift)
        if planned.role is Role.HOLD and planned.rung and numbers and not slot.estimated:
            lightest = planned.why[-1].step == "under-lightest"
            assert not barred or lightest or planned.rung.mass <= numbers.estimate
            if slot.exposure == 1 and not lightest:
                assert planned.rung.mass <= numbers.handled
        if planned.role is Role.ATTEMPT:
            assert identity["born"] != 2010 and screening["clinician_advised"] == "false"


@given(pairs())
@settings(max_examples=60)
def test_ramps_rise_to_the_work(pair: tuple[Data, Data]) -> None:
    """Every warm-up set is lighter than the first working set and heavier than the one before."""
    for session in _plan(*pair).sessions():
        for slot in session.slots:
            rising = [s.rung.mass for s in (*slot.ramp, slot.work[0]) if s.rung]
            assert all(low < high for low, high in pairwise(rising))
            falling = [s.reps for s in slot.ramp]
            assert falling == sorted(falling, reverse=True)


@given(pairs())
@settings(max_examples=50)
def test_units_do_not_matter(pair: tuple[Data, Data]) -> None:
    """A lifter who counts in pounds, with the same masses in the gym, has the same plan (each load names its unit)."""
    profile, block = pair
    identity = profile["client"]
    assert isinstance(identity, dict)
    twin = {**profile, "client": {**identity, "units": "lb"}}
    assert _masses(_plan(profile, block)) == _masses(_plan(twin, block))


def test_a_pound_gym_written_bare_is_the_same_as_one_written_out() -> None:
    """45 in a lifter's pounds is 45 lb, and 20.41165665 kg."""
    bare = {
        **SMALL,
        "client": {"name": "Q", "units": "lb"},
        "gym": {"bars": {"bar": 45}, "pairs": {45: 2, 10: 2, 5: 1, 2.5: 1}},
    }
    full = {**bare, "gym": {"bars": {"bar": "45 lb"}, "pairs": {"45 lb": 2, "10 lb": 2, "5 lb": 1, "2.5 lb": 1}}}
    kilograms = f"{plain(45 * LB_IN_KG)[:9]} kg"
    metric = {**full, "gym": {"bars": {"bar": kilograms}, "pairs": {"45 lb": 2, "10 lb": 2, "5 lb": 1, "2.5 lb": 1}}}
    assert _masses(_plan(bare, FIVES)) == _masses(_plan(full, FIVES))
    first, other = (_plan(p, FIVES).sessions()[0].slots[0].ramp[0].rung for p in (full, metric))
    assert first and other and abs(first.mass - other.mass) < Decimal("0.00001")


def _shuffled(data: object, dice: random.Random, keep: frozenset[str] = frozenset()) -> object:
    if isinstance(data, dict):
        items = [(key, value if key in keep else _shuffled(value, dice, keep)) for key, value in data.items()]
        dice.shuffle(items)
        return dict(items)
    return [_shuffled(item, dice, keep) for item in data] if isinstance(data, list) else data


@given(pairs(), st.integers(0, 1000))
@settings(max_examples=50)
def test_the_order_of_keys_and_files_does_not_matter(pair: tuple[Data, Data], seed: int) -> None:
    """Keys anywhere and files may change places."""
    profile, block = pair
    dice = random.Random(seed)
    mixed = [_text(_shuffled(profile, dice)), _text(_shuffled(block, dice))]
    dice.shuffle(mixed)
    assert _masses(plan(*mixed)) == _masses(_plan(profile, block))


@given(pairs())
@settings(max_examples=25)
def test_a_profile_cut_into_files_is_the_same_profile(pair: tuple[Data, Data]) -> None:
    """One section a file, each with its format."""
    profile, block = pair
    parts = [_text({"format": 1, key: value}) for key, value in profile.items() if key != "format"]
    assert _masses(plan(*parts, _text(block))) == _masses(_plan(profile, block))


@given(pairs())
@settings(max_examples=25)
def test_the_same_sources_give_the_same_plan(pair: tuple[Data, Data]) -> None:
    """Twice from one value, and the sources are left as they were."""
    made = sources(_text(pair[0]), _text(pair[1]))
    copy = replace(made)
    first, second = make_plan(made), make_plan(made)
    assert _masses(first) == _masses(second)
    assert first.notes == second.notes
    assert (made.client, made.block) == (copy.client, copy.block)


@given(st.sampled_from(["single", "step"]), st.sampled_from(["1 kg", "2.5 kg", "3 %"]), st.integers(4, 12))
def test_loads_never_fall_from_one_exposure_to_the_next(kind: str, add: str, weeks: int) -> None:
    """And the target rises by exactly what the rule adds."""
    rule: Data = {"kind": kind, "reps": 5, "start": "60 kg", "add": add, **({"hold": 2} if kind == "step" else {})}
    work = [session.slots[0].work[0] for session in _plan(SMALL, _squats(rule, weeks)).sessions()]
    loads = [s.rung.mass for s in work if s.rung]
    targets = [s.target for s in work if s.target is not None]
    assert loads == sorted(loads)
    jumps = [number // 2 if kind == "step" else number for number in range(weeks)]
    assert targets == [60 * Decimal("1.03") ** n if "%" in add else 60 + n * Decimal(add.split()[0]) for n in jumps]


def test_any_two_kinds_in_one_session_make_a_plan() -> None:
    """All pairs of the seven kinds on the same lift, with and without a deload."""
    for first, second in combinations_with_replacement(KINDS, 2):
        rules = [RULES[first], RULES[second]]
        days = [{"title": "D", "slots": [{"movement": "back squat", "progression": rule} for rule in rules]}]
        block = {
            "format": 1,
            "block": {"title": "T", "weeks": 5, "suits": ["novice"], "deload": {"every": 3}},
            "days": days,
        }
        made = _plan(SMALL, block)
        assert [[slot.kind for slot in s.slots] for s in made.sessions()] == [[first, second]] * 5


RULES: dict[str, Data] = {
    "single": {"kind": "single", "reps": 5, "add": "1 kg"},
    "double": {"kind": "double", "reps": "4-6", "add": "1 kg"},
    "wave": {"kind": "wave", "weeks": [{"share": "70 %", "sets": 3, "reps": 5}]},
    "top_set": {"kind": "top_set", "reps": 3, "rir": 2},
    "step": {"kind": "step", "reps": 5, "hold": 2, "add": "1 kg"},
    "volume": {"kind": "volume", "sets": "3-5", "reps": 5},
    "rep_out": {"kind": "rep_out", "sets": 3, "reps": 5},
}
SMALL: Data = {
    "format": 1,
    "client": {"name": "Q", "units": "kg"},
    "training": {"status": "novice", "months": 3, "days": ["mon"], "session_minutes": 60, "starts": "2027-01-04"},
    "lifts": {"back squat": {"tests": [{"date": "2026-12-19", "load": 100, "reps": 5, "rir": 1}]}},
    "gym": {"bars": {"bar": 20}, "pairs": {20: 4, 10: 1, 5: 1, 2.5: 1, 1.25: 1}, "safeties": True},
}
FIVES = _squats(RULES["single"], 2)
