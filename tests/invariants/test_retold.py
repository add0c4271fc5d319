"""`explain` reproduces each number: from the tested set to the plates on the bar, by an evaluator of its own."""

from __future__ import annotations

from collections.abc import Iterator

from invariants.retold import GAINS, HANDBOOK, Json, Retelling, share_of_max
from made.cases import Case, for_each_case
from made.profiles import TABLE

from builder.pages.reasons import reason_sentence
from builder.work.texts import load_words

POUND = 0.45359237
"""kg: NIST SP 811, App. B (references.md)."""


def _table(case: Case) -> dict[int, float]:
    own = "percent_table" in case.profile
    return {reps: float(text.removesuffix(" %")) for reps, text in TABLE.items()} if own else dict(HANDBOOK)


def _gains(case: Case) -> dict[str, float]:
    own = case.block["block"].get("gear", {})
    return GAINS | {word.replace("_", "-"): float(text.removesuffix(" %")) / 100 for word, text in own.items()}


def _slots(case: Case) -> Iterator[Json]:
    for week in case.json["weeks"]:
        for session in week["sessions"]:
            yield from session["slots"]


@for_each_case
def test_every_load_follows_from_its_reasons(case: Case) -> None:
    """Test, estimate, working max, ratio, conditions, share, progression, deload and rounding, each worked out anew."""
    unit = _unit(case)
    equations = {lift["movement"]: lift["equation"] for lift in case.json["client"]["lifts"]}
    for slot in _slots(case):
        usual = case.profile.get("equation", "wathan")
        for planned in slot["sets"]:
            told = Retelling(str(equations.get(slot["lift"], usual)), _table(case), _gains(case))
            for reason in planned["why"]:
                told.tell(reason["step"], reason["facts"])
            if planned["load"] is None:
                continue
            load = float(planned["load"]) * unit
            assert told.load is None or abs(told.load - load) <= 0.0006
            assert told.target is not None
            within = 0.03 if planned["role"] == "ramp" else 0.006
            assert planned["target"] is None or abs(told.target - float(planned["target"]) * unit) <= within
            if planned["share"] is not None and told.share is not None and slot["kind"] == "hold":
                assert abs(told.share - planned["share"]) <= 0.0001 or _lighter(planned) or planned["held"]


def _unit(case: Case) -> float:
    return POUND if case.json["client"]["units"] == "lb" else 1.0


def _lighter(planned: Json) -> bool:
    return any(reason["step"] == "deload" for reason in planned["why"])


@for_each_case
def test_each_share_is_the_target_over_the_max_that_is_told(case: Case) -> None:
    """Of the working max of the slot, of the whole max for holds, of the expected best for attempts; the body too."""
    for slot in _slots(case):
        for planned in slot["sets"]:
            told = Retelling(_equation(case, slot), _table(case), _gains(case))
            for reason in planned["why"]:
                told.tell(reason["step"], reason["facts"])
            if planned["share"] is None or told.target is None or planned["role"] in ("ramp", "backoff"):
                continue
            full = told.max / told.working if planned["role"] == "hold" else told.max
            assert full > 0
            if told.target:
                lifted = float(planned["load"]) * _unit(case) if planned["held"] else told.target
                assert abs((lifted + (told.own or _body(case, slot))) / full - planned["share"]) <= 0.0002


def _body(case: Case, slot: Json) -> float:
    """A step from the set before is the same with the body and without, so its reason does not tell it."""
    weight = case.profile["client"].get("bodyweight")
    return float(weight.kg) if weight and slot["implement"] == "bodyweight plus" else 0.0


def _equation(case: Case, slot: Json) -> str:
    equations = {lift["movement"]: lift["equation"] for lift in case.json["client"]["lifts"]}
    return str(equations.get(slot["lift"], case.profile.get("equation", "wathan")))


@for_each_case
def test_every_lift_s_numbers_follow_from_its_test(case: Case) -> None:
    """The test of the JSON, body included, through the equation to the estimate and the working max."""
    for lift in case.json["client"]["lifts"]:
        test = lift["test"]
        told = Retelling(lift["equation"], _table(case), _gains(case))
        told.tell("test", {"load_kg": test["load"], "reps": test["reps"], "rir": test["rir"]})
        low, high = lift["spread"]
        # The JSON rounds to two decimals, which the equations stretch.
        estimate = float(test["load"]) / _share(told)
        assert abs(estimate - float(lift["estimate"])) <= 0.02
        assert float(low) <= float(lift["estimate"]) <= float(high)
        working = case.profile["lifts"][lift["movement"]].get("working_max", "100 %")
        assert abs(estimate * float(working.removesuffix(" %")) / 100 - float(lift["working_max"])) <= 0.02


def _share(told: Retelling) -> float:
    return share_of_max(told.equation, told.test[1], told.table)


@for_each_case
def test_a_week_s_volume_is_the_sum_of_its_sets(case: Case) -> None:
    """Sets, reps and load times reps; both hands and both sides counted, lengths without reps, conditioning no sets."""
    for week, planned in zip(case.json["weeks"], case.plan.weeks, strict=True):
        sets = lifts = 0
        tonnage = 0.0
        for session, known in zip(week["sessions"], planned.sessions, strict=True):
            for slot, about in zip(session["slots"], known.slots, strict=True):
                work = [one for one in slot["sets"] if one["role"] != "ramp"]
                sides = 2 if about.about.each_side else 1
                hands = 2 if about.per_hand else 1
                reps = [0 if one["seconds"] or one["metres"] else one["reps"] * sides for one in work]
                sets, lifts = sets + (0 if about.conditioning else len(work)), lifts + sum(reps)
                tonnage += sum(float(one["load"] or 0) * hands * n for one, n in zip(work, reps, strict=True))
        assert (week["volume"]["sets"], week["volume"]["lifts"]) == (sets, lifts)
        assert abs(float(week["volume"]["tonnage"]) - tonnage) <= 0.01 + lifts * 0.001


@for_each_case
def test_every_reason_has_its_sentence_in_both_languages(case: Case) -> None:
    """Each step with its own facts, and with nothing of a template left in it."""
    words = [load_words(language, case.plan.unit) for language in ("en", "de")]
    reasons = {reason for _, planned in case.sets() for reason in planned.why}
    reasons |= {note for _, _, slot in case.slots() for note in slot.notes} | set(case.plan.notes)
    for reason in reasons:
        for language in words:
            sentence = reason_sentence(language, reason)
            assert sentence.endswith(".") and "{" not in sentence
