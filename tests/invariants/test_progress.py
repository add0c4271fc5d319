"""Loads move as each rule says, worked out here from the rule's own words, and a deload is less of the same."""

from __future__ import annotations

from collections import defaultdict
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from invariants.efforts import further, lengthy, wanted_sets, worked_out
from made.cases import Case, drawn, for_each_case
from made.masses import Data, Mass

from builder.given.progressions import PROGRESSIONS
from builder.plan import PlannedSet, PlannedSlot, PlannedWeek, WeekKind
from builder.review import review

Exposures = dict[int, PlannedSlot]
CLOSE = Fraction(1, 10**12)


def trained(case: Case) -> dict[str, Exposures]:
    """The training exposures of each slot of the block, by its cue and counted from 0."""
    found: dict[str, Exposures] = defaultdict(dict)
    for week, _, slot in case.slots():
        if week.kind is WeekKind.TRAINING and case.rule(slot):
            found[slot.cues[0]][slot.exposure - 1] = slot
    return found


def stepped(case: Case, *kinds: str) -> list[tuple[Data, PlannedSlot, Exposures]]:
    """Each slot with one of these rules whose first exposure has a load: the rule, that exposure, and all of them."""
    return [
        (case.rules[cue]["progression"], slots[0], slots)
        for cue, slots in trained(case).items()
        if 0 in slots and slots[0].kind in kinds and slots[0].work[0].target is not None
    ]


def raised(begun: Fraction, add: Any, times: int) -> Fraction:
    """A load after so many raises: by a mass each, or by a share of the last load each."""
    if isinstance(add, Mass):
        return begun + Fraction(add.kg) * times
    return begun if add is None else begun * (1 + share(add)) ** times


def share(text: str) -> Fraction:
    """A written share as a fraction."""
    return Fraction(text.removesuffix(" %")) / 100


def close(target: Decimal | None, wanted: Fraction) -> bool:
    """Equal but for the digits that decimals cut off."""
    return target is not None and abs(Fraction(target) - wanted) <= CLOSE * max(wanted, Fraction(1))


def jumps(rule: Data, exposure: int) -> int:
    """How often a rule has added load by an exposure."""
    match rule["kind"]:
        case "step":
            return exposure // rule["hold"]
        case "double":
            return exposure // _rises(rule)
        case "volume":
            low, high = (int(end) for end in rule["sets"].split("-"))
            return exposure // rule.get("every", 1) // (high - low + 1)
    return exposure


def _rises(rule: Data) -> int:
    """How many exposures a range takes from its bottom to its top."""
    if lengthy(rule):
        low, high = _amounts(rule)
        return -((low - high) // _amounts({"time": rule["longer"]})[0]) + 1
    low, high = (int(end) for end in rule["reps"].split("-"))
    return high - low + 1


def _amounts(rule: Data) -> tuple[int, int]:
    """The shortest and the longest length of a rule, in seconds or metres."""
    ends, sign = str(rule.get("time") or rule["distance"]).split(" ")
    low, _, high = ends.partition("-")
    of = 60 if sign == "min" else 1
    return int(low) * of, int(high or low) * of


def own_sets(rule: Data, exposure: int, slot: PlannedSlot) -> tuple[PlannedSet, ...]:
    """The sets of the rule itself, without those after them."""
    return slot.work[: wanted_sets(rule, exposure)]


@for_each_case
def test_loads_rise_by_exactly_what_the_rule_adds(case: Case) -> None:
    """From the first load that could be loaded: each time, after a hold, or at the top of a range of reps or sets."""
    for rule, first, slots in stepped(case, "single", "step", "double", "volume", "rep_out"):
        assert first.work[0].rung is not None
        if first.work[0].kept:
            continue  # What it would have begun with is not on the page; the evaluator of the reasons follows it.
        begun = Fraction(first.work[0].rung.mass)
        for exposure, slot in slots.items():
            times = jumps(rule, exposure) if "add" in rule else 0
            wanted = raised(begun, rule.get("add"), times) if times else Fraction(first.work[0].target or 0)
            assert all(close(planned.target, wanted) for planned in own_sets(rule, exposure, slot))


@for_each_case
def test_loads_of_a_rule_that_adds_never_fall(case: Case) -> None:
    """On the bar as in the rule."""
    for _, _, slots in stepped(case, "single", "step", "double", "volume", "rep_out"):
        masses = [slots[exposure].work[0].rung for exposure in sorted(slots)]
        assert all(low and high and low.mass <= high.mass for low, high in pairwise(masses))


@for_each_case
def test_sets_and_reps_follow_the_rule(case: Case) -> None:
    """Reps climb through a range, sets are added one by one, entries and lists are taken in turn."""
    for cue, slots in trained(case).items():
        rule = case.rules[cue]["progression"]
        for exposure, slot in slots.items():
            known = slot.lift is not None or isinstance(rule.get("start"), Mass)
            known = known and worked_out(rule, exposure)
            reps, sets = wanted_reps(rule, exposure, known=known), wanted_sets(rule, exposure)
            wanted, after = reps[:1] + reps[-1:] * (sets - 1), further(rule, exposure)
            assert all(_as_ruled(rule, one, due) for one, due in zip(slot.work, wanted, strict=False))
            assert [one.reps for one in slot.work[sets:]] == [each.get("reps", 1) for each in after]


def _as_ruled(rule: Data, planned: PlannedSet, due: int) -> bool:
    """The rule's reps; fewer within its range where the load is held, up to four past its top before a far load."""
    steps = [reason.step for reason in planned.why]
    if "reps-instead" in steps:
        top = int(rule["reps"].split("-")[1]) if rule["kind"] == "double" else due
        return due < planned.reps <= top + 4
    if planned.held and rule["kind"] == "double" and "reps" in rule:
        return int(rule["reps"].split("-")[0]) <= planned.reps <= due
    return planned.reps == due


def wanted_reps(rule: Data, exposure: int, *, known: bool) -> list[int]:
    """The reps of the first set and of the others."""
    match rule["kind"]:
        case _ if lengthy(rule):
            return [1]
        case "double":
            low, high = (int(end) for end in rule["reps"].split("-"))
            return [low + exposure % (high - low + 1) if known else low]
        case "wave":
            return [rule["weeks"][exposure % len(rule["weeks"])]["reps"]]
        case "top_set":
            top = rule["reps"][min(exposure, len(rule["reps"]) - 1)]
            return [top, rule["backoff"]["reps"]] if "backoff" in rule else [top]
        case "hold":
            return [1]
    return [rule.get("reps", 5)]


@for_each_case
def test_lengths_follow_the_rule(case: Case) -> None:
    """They get longer each time, after a hold or up to the top of a range; in a rule of sets with each round of it."""
    for cue, slots in trained(case).items():
        rule = case.rules[cue]["progression"]
        if not lengthy(rule):
            continue
        low, high = _amounts(rule)
        longer = _amounts({"time": rule["longer"]})[0] if "longer" in rule else 0
        for exposure, slot in slots.items():
            times = exposure
            if rule["kind"] == "double":
                # Without more load it ends at the top of its range.
                times = exposure % _rises(rule) if "add" in rule else min(exposure, _rises(rule) - 1)
            elif rule["kind"] != "single":
                times = jumps(rule, exposure)
            wanted = min(low + longer * times, high) if rule["kind"] == "double" else low + longer * times
            found = {(one.seconds, one.metres) for one in own_sets(rule, exposure, slot)}
            assert found == {(wanted, None) if "time" in rule else (None, wanted)}
            assert all(one.reserve is None and one.mark is None for one in slot.work if one.length)


@for_each_case
def test_further_sets_step_from_the_set_before(case: Case) -> None:
    """Up or down by a load or a share of all that was lifted, or the same load again; shares are of the max."""
    for cue, slots in trained(case).items():
        rule = case.rules[cue]["progression"]
        for exposure, slot in slots.items():
            last = wanted_sets(rule, exposure) - 1
            for each, (before, one) in zip(further(rule, exposure), pairwise(slot.work[last:]), strict=True):
                if not {"share", "rir"} & set(each) and before.rung is not None:
                    wanted = _stepped(each, Fraction(before.rung.mass), _own(case, slot))
                    assert close(one.target, max(wanted, Fraction(0)))


def _stepped(each: Data, last: Fraction, own: Fraction) -> Fraction:
    step, sign = (each["up"], 1) if "up" in each else (each.get("down", "0 %"), -1)
    if isinstance(step, Mass):
        return last + sign * Fraction(step.kg)
    return (last + own) * (1 + sign * share(step)) - own


def _own(case: Case, slot: PlannedSlot) -> Fraction:
    """The bodyweight that a movement lifts besides."""
    body = case.profile["client"].get("bodyweight")
    return Fraction(body.kg) if body and slot.about.equipment == "bodyweight" else Fraction(0)


@for_each_case
def test_a_wave_comes_back_with_its_addition_on_top(case: Case) -> None:
    """Every time through: the same entry, and `add` once more: a mass, or points of the max."""
    for rule, first, slots in stepped(case, "wave"):
        full = _full(case, first)
        for exposure, slot in slots.items():
            cycle, place = divmod(exposure, len(rule["weeks"]))
            before = slots.get(exposure - len(rule["weeks"]))
            entry, target = rule["weeks"][place], slot.work[0].target
            if "share" in entry and cycle == 0 and slot.about.equipment != "bodyweight" and full:
                assert close(target, full * share(entry["share"]))
            if before is not None and before.work[0].target and full:
                add = rule.get("add")
                points = full * share(add) if isinstance(add, str) else Fraction(add.kg if add else 0)
                assert close(target, Fraction(before.work[0].target) + points)


def _full(case: Case, slot: PlannedSlot) -> Fraction | None:
    """The max that a slot takes shares of, told by its own reasons: the working max, with ratio and conditions."""
    told = [dict(reason.facts) for reason in slot.work[0].why]
    maxes = [Decimal(str(facts[key])) for facts in told for key in ("working_kg", "max_kg") if key in facts]
    numbers = case.plan.lift(slot.lift)
    return Fraction(maxes[-1]) if numbers and maxes else None


@for_each_case
def test_back_off_sets_are_their_share_of_the_loaded_top_set(case: Case) -> None:
    """Of what is on the bar, and of what it carries besides: the body counts."""
    for rule, _, slots in stepped(case, "top_set"):
        back = rule.get("backoff", {})
        part = share(back["share"]) if "share" in back else 1 - share(back.get("drop", "0 %"))
        for exposure, slot in slots.items():
            top, *others = own_sets(rule, exposure, slot)
            own = _own(case, slot)
            for lighter in others:
                assert top.rung and lighter.rung and lighter.rung.mass <= top.rung.mass
                assert close(lighter.target, (Fraction(top.rung.mass) + own) * part - own)


@for_each_case
def test_holds_rise_to_their_last_share_and_pins_fall_to_theirs(case: Case) -> None:
    """Shares of holds never fall; pins, and what is lifted from them, never rise."""
    for slots in trained(case).values():
        in_turn = [slots[exposure] for exposure in sorted(slots)]
        shares = [slot.work[0].share or Decimal(0) for slot in in_turn if not slot.work[0].held]
        if in_turn and in_turn[0].kind == "hold":
            assert shares == sorted(shares)
        if in_turn and in_turn[0].kind == "pins":
            assert shares == sorted(shares, reverse=True)
            heights = [slot.pin.centimetres for slot in in_turn if slot.pin and slot.pin.centimetres]
            assert heights == sorted(heights, reverse=True) and len(heights) == len(in_turn)
            masses = [slot.work[0].rung.mass for slot in in_turn if slot.work[0].rung and not slot.work[0].held]
            assert masses == sorted(masses, reverse=True)


@for_each_case
def test_a_deload_is_less_of_the_same_slot(case: Case) -> None:
    """Against the same exposure in training: no more sets, reps or load, more in reserve, nothing open or at stake."""
    rules, before = case.block["block"].get("deload", {}), trained(case)
    for week, _, slot in case.slots():
        if week.kind is not WeekKind.DELOAD:
            continue
        assert not any(planned.open_ended or planned.milestone for planned in slot.work)
        assert slot.outcomes == ()
        usual = before.get(slot.cues[0] if slot.cues else "", {}).get(slot.exposure - 1)
        if usual is None:
            continue
        assert len(slot.work) <= max(1, round(len(usual.work) * share(rules.get("sets", "60 %"))))
        for lighter, full in zip(slot.work, usual.work, strict=False):
            assert lighter.reps <= full.reps
            assert not (lighter.rung and full.rung) or lighter.rung.mass <= full.rung.mass
            easier = lighter.rir is None or full.rir is None or lighter.rir >= min(full.rir, Decimal(6))
            assert easier or full.open_ended


@for_each_case
def test_a_deload_week_is_lighter_than_the_training_week_before(case: Case) -> None:
    """Wherever the two train the same slots: in kilograms times reps, or in sets or reps where nothing is weighed.

    Where the gym has no lighter load and the rule cuts neither sets nor reps, the review says so.
    """
    for before, week in pairwise(case.plan.weeks):
        if (before.kind, week.kind) != (WeekKind.TRAINING, WeekKind.DELOAD) or not _same_slots(before, week):
            continue
        lighter = [week.total.tonnage < before.total.tonnage, week.total.sets < before.total.sets]
        lighter.append(week.total.reps < before.total.reps)
        told = [f for f in review(case.plan, before.starts) if f.code == "deload-not-lighter"]
        assert any(lighter) or told or _at_the_floor(before)
        assert week.total.tonnage <= before.total.tonnage and week.total.sets <= before.total.sets


def _same_slots(before: PlannedWeek, week: PlannedWeek) -> bool:
    """Whether each exposure of the lighter week was trained the week before."""
    seen = {(slot.cues, slot.movement, slot.exposure) for session in before.sessions for slot in session.slots}
    here = [(slot.cues, slot.movement, slot.exposure) for session in week.sessions for slot in session.slots]
    return bool(here) and len(set(here)) == len(here) and set(here) <= seen


def _at_the_floor(week: PlannedWeek) -> bool:
    """One set of one rep each, or nothing weighed: a deload leaves at least that."""
    work = [planned for session in week.sessions for slot in session.slots for planned in slot.work]
    return all(_least(planned) for planned in work) or week.total.tonnage == 0


def _least(planned: PlannedSet) -> bool:
    return planned.reps == 1 or planned.length is not None


@pytest.mark.parametrize("kind", PROGRESSIONS)
def test_the_pool_tries_every_kind_more_than_once(kind: str) -> None:
    """So that nothing above holds for want of cases."""
    tried = [slots for case in drawn() if not case.problems for slots in trained(case).values()]
    assert sum(1 for slots in tried if len(slots) > 1 and next(iter(slots.values())).kind == kind) >= 2
