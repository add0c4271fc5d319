"""What must not matter to a plan: units, the order of keys and files, the style of YAML, how often it is made."""

from __future__ import annotations

import json
import random
from typing import Any

from made.cases import Case, for_some_cases
from made.masses import written
from sources_for_tests import plan

from builder.pages.explain import plan_json
from builder.plan import Plan, make_plan
from builder.training.loading import Rung
from builder.values.quantity import LB_IN_KG, OnBar
from builder.work.texts import load_words


def all_of(made: Plan) -> list[object]:
    """Everything of a plan but its labels, sentences and the client's own words: all masses in kg."""
    found: list[object] = [made.cautions, *((n.movement, n.estimate, n.working_max, n.handled) for n in made.lifts)]
    for week in made.weeks:
        found.append((week.number, week.kind, week.starts, week.phase, week.total, week.by_movement))
        for session in week.sessions:
            found.append((session.on, session.day, session.title, session.minutes))
            for slot in session.slots:
                found.append(
                    (slot.movement, slot.kind, slot.exposure, slot.estimated, slot.pin, slot.lift, slot.implement)
                )
                found += [(o.after, _kg(o.rung), o.reps) for o in slot.outcomes]
                found += [_set(planned) for planned in slot.sets]
                if slot.attempts:
                    rows = (*slot.attempts.second, *slot.attempts.third)
                    found += [(row.after, row.follows, _kg(row.rung)) for row in rows]
    return found


def _set(s: Any) -> tuple[object, ...]:
    bracket = s.bracket and tuple(_kg(rung) for rung in s.bracket)
    mark = s.mark and (s.mark.reps, s.mark.basis)
    return (s.role, s.reps, s.rir, s.share, s.target, _kg(s.rung), _counts(s.rung), s.rest, s.seconds, s.metres,
            s.most_reps, bracket, mark, s.milestone)  # fmt: skip


def _kg(rung: Rung | None) -> object:
    return rung and rung.mass


def _counts(rung: Rung | None) -> object:
    return rung and tuple(count for _, count in rung.side)


@for_some_cases
def test_units_do_not_matter(case: Case) -> None:
    """The same lifter, gym and rules written in the other unit: the same loads, plates and reps, to the last digit."""
    assert all_of(plan(*case.made.twin().texts)) == all_of(case.plan)


def test_a_pound_gym_written_bare_is_the_same_as_one_written_out() -> None:
    """45 in a lifter's pounds is 45 lb; 100 lb is 45.359237 kg (NIST SP 811, App. B)."""
    for bare, full in (("45", "45 lb"), ("100", "45.359237 kg")):
        gyms = [f"gym: {{bars: {{bar: {bar}}}, pairs: {{10 lb: 9}}}}\n" for bar in (bare, full)]
        made = [plan(f"format: 1\nclient: {{name: Q, units: lb}}\n{_REST}{gym}", _FIVES) for gym in gyms]
        assert all_of(made[0]) == all_of(made[1])
        assert made[0].sessions()[0].slots[0].ramp[0].rung == Rung(OnBar(int(bare) * LB_IN_KG))


def _shuffled(data: Any, dice: random.Random) -> Any:
    if isinstance(data, dict):
        items = [(key, _shuffled(value, dice)) for key, value in data.items()]
        dice.shuffle(items)
        return dict(items)
    return [_shuffled(item, dice) for item in data] if isinstance(data, list) else data


@for_some_cases
def test_the_order_of_keys_and_files_and_the_style_of_writing_do_not_matter(case: Case) -> None:
    """Keys of every mapping and both files change places; all in braces, or none."""
    dice = random.Random(len(case.made.texts[0]))
    for flow in (True, False):
        mixed = [written(_shuffled(data, dice), flow=flow) for data in (case.profile, case.block)]
        dice.shuffle(mixed)
        made = plan(*mixed)
        assert _by_name(made) == _by_name(case.plan)


def _by_name(made: Plan) -> list[object]:
    """`all_of` with the tested lifts in the order of their names: the profile's own order is kept for printing."""
    lifts = len(made.lifts)
    head, *rest = all_of(made)
    return [head, sorted(rest[:lifts]), *rest[lifts:]]  # type: ignore[type-var]


@for_some_cases
def test_a_profile_cut_into_files_is_the_same_profile(case: Case) -> None:
    """One section a file, each with its format."""
    parts = [written({"format": 1, key: value}) for key, value in case.profile.items() if key != "format"]
    assert plan_as_text(plan(*parts, case.made.texts[1])) == plan_as_text(case.plan)


@for_some_cases
def test_the_same_input_twice_gives_the_same_json(case: Case) -> None:
    """From the texts anew, and from the same typed sources again."""
    first = plan_as_text(case.plan)
    assert plan_as_text(make_plan(case.sources)) == first
    assert plan_as_text(plan(*case.made.texts)) == first


def plan_as_text(made: Plan) -> str:
    """The JSON of `explain`."""
    return json.dumps(plan_json(made, load_words("en", made.unit)), sort_keys=False)


_REST = """training: {status: novice, months: 3, days: [mon], session_minutes: 60, starts: 2027-01-04}
lifts: {back squat: {tests: [{date: 2026-12-19, load: 300, reps: 5, rir: 1}]}}
"""
_FIVES = """format: 1
block: {title: T, weeks: 2, suits: [novice]}
days: [{title: D, slots: [{movement: back squat, progression: {kind: single, reps: 5, add: 5 lb}}]}]
"""
