"""Every load of every made-up plan can be loaded in that gym, is the right neighbour of its target, and keeps its caps.

The gym is counted out by `slow_gym`, plate by plate.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from functools import lru_cache
from itertools import pairwise

from invariants import slow_gym
from invariants.efforts import further, further_known, lengthy, wanted_sets, worked_out
from made.cases import Case, drawn, for_each_case
from made.masses import Data, Mass

from builder.given import Equipment
from builder.given.progressions import PROGRESSIONS
from builder.plan import PlannedSlot, Role, WeekKind
from builder.training.loading import Rung


def test_nearly_all_that_is_made_up_is_taken_by_intake() -> None:
    """Otherwise the invariants below would be held against little."""
    sound = [case for case in drawn() if not case.problems]
    assert len(sound) >= Decimal("0.95") * len(drawn())
    kinds = {slot.kind for case in sound for _, _, slot in case.slots()}
    assert kinds >= {*PROGRESSIONS}
    assert kinds >= {"attempts", "rep_test"}
    assert {slot.about.equipment for case in sound for _, _, slot in case.slots()} == set(Equipment)
    assert {session.slots[0] and week.kind for case in sound for week, session, _ in case.slots()} == set(WeekKind)


@for_each_case
def test_there_is_always_a_whole_plan_with_a_reason_for_every_set(case: Case) -> None:
    """Never a fault; all weeks are there, and no slot without work, no set without reps, no load without its why."""
    assert [week.number for week in case.plan.weeks] == list(range(1, case.block["block"]["weeks"] + 1))
    assert all(slot.work for _, _, slot in case.slots())
    for _, planned in case.sets():
        assert planned.reps >= 1 and planned.why and planned.rest >= 0
        assert planned.rung is None or planned.rung.mass >= 0
    assert all(session.minutes > 0 for _, session, _ in case.slots())


def rungs(slot: PlannedSlot) -> Iterator[Rung]:
    """Every load that a slot prints: sets, brackets, what comes next, and all rows of a decision table."""
    for planned in slot.sets:
        yield from filter(None, (planned.rung, *(planned.bracket or ())))
    yield from (outcome.rung for outcome in slot.outcomes if outcome.rung)
    if slot.attempts:
        yield slot.attempts.opener
        yield from (row.rung for row in (*slot.attempts.second, *slot.attempts.third))


def step_of(case: Case, rule: Data) -> Decimal | None:
    """How finely a slot's bar is to be loaded: its own step; the gym's, unless the rule adds in finer steps."""
    if "step" in rule:
        return rule["step"].kg
    usual, add = case.profile["gym"].get("step"), rule["progression"].get("add")
    return None if usual is None or (isinstance(add, Mass) and add.kg % usual.kg) else usual.kg


@lru_cache(maxsize=256)
def _loads(case: Case, kind: str, name: str, movement: str, step: Decimal | None) -> frozenset[Decimal]:
    profile, gym = case.profile, case.profile["gym"]
    match kind:
        case "barbell":
            return frozenset(slow_gym.on_a_bar(profile, name, movement, step))
        case "bodyweight":
            return frozenset(slow_gym.on_a_belt(profile))
        case "stack":
            return frozenset(slow_gym.off_a_rack(gym["stacks"][name]))
    return frozenset(slow_gym.off_a_rack(gym["dumbbells" if kind == "dumbbell" else "kettlebells"]))


def loads(case: Case, slot: PlannedSlot, step: Decimal | None = None) -> frozenset[Decimal]:
    """All loads of a slot's implement, kg."""
    return _loads(case, str(slot.about.equipment), slot.implement, slot.movement, step)


@for_each_case
def test_each_load_can_be_made_in_that_gym(case: Case) -> None:
    """Ramps, working sets, brackets, next loads and attempts are all among those counted out."""
    for _, _, slot in case.slots():
        printed = {rung.mass for rung in rungs(slot)}
        assert printed <= (loads(case, slot) if slot.implement else set())


@for_each_case
def test_bar_collars_and_twice_the_side_make_the_load_from_pairs_that_are_owned(case: Case) -> None:
    """Exactly, and never more pairs than there are, whichever load is printed."""
    plates = slow_gym.stock(case.profile)
    for _, _, slot in case.slots():
        if slot.about.equipment is Equipment.BARBELL:
            for rung in rungs(slot):
                assert all(0 < count <= plates[label][1] for label, count in rung.side)
                assert len({label for label, _ in rung.side}) == len(rung.side)
                side = sum((plates[label][0] * count for label, count in rung.side), Decimal(0))
                assert rung.mass == slow_gym.empty_bar(case.profile, slot.implement, slot.movement) + 2 * side


@for_each_case
def test_each_working_load_is_the_neighbour_that_the_rounding_asks_for(case: Case) -> None:
    """The slot's rounding, else the gym's; down for deloads and drills; of equals what `ties` says."""
    gym = case.profile["gym"]
    for week, _, slot in case.slots():
        rule = case.rule(slot)
        if rule is None or slot.kind in ("attempts", "rep_test"):
            continue
        usual = rule.get("rounding", gym.get("rounding", "nearest"))
        down = week.kind is WeekKind.DELOAD or slot.drill is not None
        among = set(loads(case, slot, step_of(case, rule))) if slot.implement else set()
        for planned in slot.work:
            if planned.rung is not None and planned.target is not None and not planned.kept:
                wanted = slow_gym.choose(among, planned.target, "down" if down else usual, gym.get("ties", "lighter"))
                assert planned.rung.mass == wanted


GRAM = Decimal("0.001")


@for_each_case
def test_nothing_is_planned_beyond_reach_unless_the_block_allows_it(case: Case) -> None:
    """No set, hold or attempt; but the lightest load of an implement stays where it is beyond."""
    for _, _, slot in case.slots():
        rule = case.rule(slot)
        if rule is not None and rule.get("beyond") == "allow":
            assert not any(planned.held for planned in slot.work)
            continue
        among = sorted(set(loads(case, slot, step_of(case, rule) if rule else None))) if slot.implement else []
        for planned in slot.work:
            if planned.rung is None or planned.reach is None:
                continue
            assert planned.rung.mass <= planned.reach + GRAM or planned.rung.mass == among[0]


@for_each_case
def test_reserve_is_what_the_load_leaves(case: Case) -> None:
    """Whole or half, 0 to 6, only where something is known; a single above the max leaves less than none."""
    for _, _, slot in case.slots():
        for planned in slot.work:
            left = planned.reserve
            if left is None:
                continue
            assert slot.expected is not None
            assert 0 <= left.reps <= 6 and left.reps * 2 % 1 == 0
            assert abs(min(max(left.exact, Decimal(0)), Decimal(6)) - left.reps) <= Decimal("0.31")
            assert planned.left is not None
            if planned.reps == 1:
                body = case.plan.client.client.bodyweight
                own = body.kg(case.plan.unit) if body and slot.about.equipment is Equipment.BODYWEIGHT else 0
                assert planned.rung is not None
                assert (planned.rung.mass + own > slot.expected.about) == (left.exact < 0) or abs(left.exact) < 1


@for_each_case
def test_a_load_is_left_open_only_where_nothing_is_known_or_nothing_is_there(case: Case) -> None:
    """With a tested lift behind it or a first load in the rule, at most 15 reps to failure, and something to load."""
    for _, _, slot in case.slots():
        rule = case.rule(slot)
        if rule is None or not slot.implement:
            assert slot.implement or all(planned.rung is None for planned in slot.sets)
            continue
        ruled, exposure = rule["progression"], slot.exposure - 1
        known = slot.lift is not None or isinstance(ruled.get("start"), Mass)
        known = known and worked_out(ruled, exposure)
        after = further_known(ruled, exposure, known=known, max_known=slot.lift is not None)
        wanted = [known] * wanted_sets(ruled, exposure) + after
        assert [planned.rung is not None for planned in slot.work] == wanted[: len(slot.work)]


@for_each_case
def test_stated_caps_hold(case: Case) -> None:
    """500 kg on a bar, 60 on a belt, the reserve, the end of an open set, and the most sets of a rule."""
    for week, _, slot in case.slots():
        rule = (case.rule(slot) or {}).get("progression", {})
        on_bar = Equipment.BARBELL is slot.about.equipment and slot.implement  # None where even the bar is too heavy.
        empty = slow_gym.empty_bar(case.profile, slot.implement, slot.movement) if on_bar else Decimal(0)
        for rung in rungs(slot):
            assert Equipment.BARBELL is not slot.about.equipment or rung.mass <= max(slow_gym.MOST_ON_A_BAR, empty)
            assert Equipment.BODYWEIGHT is not slot.about.equipment or rung.mass <= slow_gym.MOST_ON_A_BELT
        most = max(Decimal(6), *_reserves(rule))
        assert all(planned.rir is None or 0 <= planned.rir <= most for planned in slot.work)
        if "stop" in rule and (opened := [planned for planned in slot.work if planned.open_ended]):
            assert opened[0].most_reps == rule["stop"]["most"]
        if slot.kind == "volume" and rule:
            low, high = (int(end) for end in rule["sets"].split("-"))
            most_sets = high + len(further(rule, slot.exposure - 1))
            assert (low if week.kind is WeekKind.TRAINING else 1) <= len(slot.work) <= most_sets


def _reserves(rule: Data) -> list[Decimal]:
    """A double progression has its `rir` at the top of the range, and more below."""
    if rule.get("kind") != "double" or lengthy(rule):
        return [Decimal(0)]
    low, high = (int(end) for end in rule["reps"].split("-"))
    return [Decimal(rule.get("rir", 2)) + high - low]


@for_each_case
def test_ramps_rise_to_the_work(case: Case) -> None:
    """Each warm-up set is heavier than the one before and lighter than the first working set; reps never rise."""
    for _, _, slot in case.slots():
        rising = [planned.rung.mass for planned in (*slot.ramp, slot.work[0]) if planned.rung]
        assert all(low < high for low, high in pairwise(rising))
        reps = [planned.reps for planned in slot.ramp]
        assert reps == sorted(reps, reverse=True)
        assert len(slot.ramp) <= (1 if slot.accessory else 6)
        assert all(planned.role is not Role.RAMP for planned in slot.work)
