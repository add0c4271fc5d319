"""What comes when, and what is said to come next: cadences, shares and heights of drills, tables of outcomes."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

from invariants.efforts import lengthy
from invariants.test_progress import close, share, trained
from made.cases import Case, for_each_case
from made.masses import Data

from builder.plan import PlannedSlot, WeekKind

FOR_LIFTER = ("no-safeties", "minor", "clinician", "recent-limit")


def gated(case: Case) -> bool:
    """Whether a caution keeps drills at or below the max; `test_gates` holds the cautions to the profile."""
    return any(code in FOR_LIFTER for code in case.plan.cautions)


def told(slot: PlannedSlot, name: str) -> Fraction:
    """A fact of the reasons of a slot's first set, the last of its name before the deload or the bar."""
    facts = [dict(reason.facts) for reason in slot.work[0].why if reason.step in ("hold", "pin-share")]
    return Fraction(facts[-1][name])  # type: ignore[arg-type]


@for_each_case
def test_holds_go_up_by_their_rise_from_what_was_handled(case: Case) -> None:
    """The share of the rule, or of what was really handled if that is less; then `rise` each time, up to `to`."""
    for cue, slots in trained(case).items():
        rule = case.rules[cue]["progression"]
        for exposure, slot in slots.items():
            if slot.kind != "hold":
                continue
            best, numbers = told(slot, "max_kg"), case.plan.lift(slot.lift)
            assert numbers is not None
            begin = min(share(rule["from"]), Fraction(max(numbers.held or Decimal(0), numbers.handled)) / best)
            wanted = best * min(begin + share(rule.get("rise", "2 %")) * exposure, share(rule["to"]))
            known = min(best, Fraction(numbers.estimate))
            assert close(slot.work[0].target, min(wanted, known) if gated(case) else wanted)
            capped = any(note.step.startswith("hold-capped") for note in slot.notes)
            assert capped is (gated(case) and wanted > known + Fraction(1, 10**12))


@for_each_case
def test_pins_go_down_hole_by_hole_and_the_share_with_them(case: Case) -> None:
    """From the first height to the last, in a straight line from the first share to the second."""
    for cue, slots in trained(case).items():
        rule = case.rules[cue]["progression"]
        for exposure, slot in slots.items():
            if slot.kind != "pins" or gated(case) or _too_heavy(slot):
                continue
            high, low = (int(rule[key].replace("hole", "").replace("cm", "")) for key in ("from", "to"))
            height = max(high - exposure, low)
            first, last = (share(text) for text in rule.get("shares", ["80 %", "65 %"]))
            way = Fraction(high - height, high - low) if high > low else Fraction(1)
            assert close(slot.work[0].target, told(slot, "max_kg") * (first - (first - last) * way))
            assert slot.pin is not None
            if rule["from"].startswith("hole"):
                assert slot.pin.hole == height
            elif slot.pin.hole is None:
                assert slot.pin.centimetres == height
            else:
                assert slot.pin.centimetres is not None
                assert slot.pin.centimetres <= height or slot.pin.hole == 1


@for_each_case
def test_drills_come_at_their_cadence(case: Case) -> None:
    """Counted in weeks from the first that they could come in; never twice in one session by one slot."""
    weeks: dict[str, list[int]] = {}
    for week, _, slot in case.slots():
        if slot.drill and case.rule(slot) and not case.block["block"].get("rolling"):
            weeks.setdefault(slot.cues[0], []).append(week.number)
    for cue, numbers in weeks.items():
        count, of = case.rules[cue]["progression"].get("every", "2 weeks").split()
        apart = [later - earlier for earlier, later in pairwise(numbers)]
        if of.startswith("week"):
            assert all(gap % int(count) == 0 and gap > 0 for gap in apart)
        assert all(gap >= (1 if of.startswith("week") else int(count)) for gap in apart)


@for_each_case
def test_what_is_said_to_come_next_is_what_comes_next(case: Case) -> None:
    """When all goes as planned the next exposure has the load and the reps that the table of outcomes told."""
    for cue, slots in trained(case).items():
        rule = case.rules[cue]["progression"]
        for exposure, slot in slots.items():
            following = slots.get(exposure + 1)
            if following is None or not slot.outcomes or slot.kind == "top_set":
                continue
            if _too_heavy(following) or slot.work[0].kept or following.work[0].kept:
                continue  # The page says what holds there; that it is within reach stands with the loads.
            rows = {row.after: row for row in slot.outcomes}
            if "felt-top" in rows or "wave-hard-made" in rows:
                continue  # The lifter finds the load, or the next exposure is a light day.
            usual = {"double": _after(rule, slot), "rep_out": "reps-reached"}
            usual |= {"volume": "sets-made", "wave": "wave-made"}
            row = rows["length-made" if "length-made" in rows else usual.get(slot.kind, "all-reps")]
            assert row.length in (None, following.work[0].length)
            assert row.rung == following.work[0].rung
            assert row.reps in (None, following.work[0].reps)
            assert row.sets in (None, _own_sets(rule, following))


@for_each_case
def test_the_back_off_load_of_the_planned_top_set_is_the_planned_back_off_load(case: Case) -> None:
    """And a heavier top set never has lighter back-off sets."""
    for _, _, slot in case.slots():
        rows = [row for row in slot.outcomes if row.top is not None and row.rung is not None]
        planned = [row.rung for row in rows if row.top == slot.work[0].rung]
        assert planned in ([], [slot.work[1].rung] if len(slot.work) > 1 else [])
        loads = [(row.top.mass, row.rung.mass) for row in rows if row.top and row.rung]
        assert loads == sorted(loads)
        assert [mass for _, mass in loads] == sorted(mass for _, mass in loads)


def _own_sets(rule: Data, slot: PlannedSlot) -> int:
    """The sets of the rule itself, those of "then" left out."""
    return len(slot.work) - sum(int(each.get("sets", 1)) for each in rule.get("then", ()))


def _after(rule: Data, slot: PlannedSlot) -> str:
    """What it is for a range to go as planned: a rep more each time, until the top."""
    if slot.kind != "double" or lengthy(rule):
        return ""
    return "top-reps" if slot.work[0].reps == int(rule["reps"].split("-")[1]) else "short-of-top"


@for_each_case
def test_after_a_miss_nothing_gets_heavier(case: Case) -> None:
    """Repeated, or reduced: never more than today, and after two misses never more than after one."""
    for week, _, slot in case.slots():
        rows = {row.after: row.rung for row in slot.outcomes}
        missed = [rung.mass for rung in (rows.get("missed-once"), rows.get("missed-twice")) if rung]
        if week.kind is WeekKind.TRAINING and missed and slot.work[0].rung:
            assert all(mass <= slot.work[0].rung.mass for mass in missed)


@for_each_case
def test_records_are_beaten_by_their_mark_and_not_by_a_rep_less(case: Case) -> None:
    """More reps than anything done with at least that load; one mark a slot; at a milestone the plan reaches it."""
    for week, _, slot in case.slots():
        numbers = case.plan.lift(slot.lift)
        marked = [planned for planned in slot.sets if planned.mark is not None]
        assert len(marked) <= 1 and (not marked or week.kind is WeekKind.TRAINING)
        for planned in marked:
            assert numbers is not None and planned.mark is not None and planned.rung is not None
            load = planned.rung.mass + numbers.own
            as_heavy = [done.reps for done in numbers.performances if done.load >= load]
            assert max(as_heavy, default=0) < planned.mark.reps <= 15
            assert planned.milestone == (planned.mark.reps <= planned.reps)


def _too_heavy(slot: PlannedSlot) -> bool:
    """Whether even the lightest implement is beyond reach, so that the lift is found by feel."""
    return any(note.step == "implement-too-heavy" for note in slot.notes)
