"""What shows only when the sources are read together: names, weeks, tests, bars, holes, days."""

import pytest
from sources_for_tests import CLIENT, GYM, LIFTS, TRAINING, block, client, codes, problems_of, squat

from builder.values.problem import Problem, Span

SLOT = squat("kind: single, reps: 5, add: 2.5 kg")
BLOCK = block(SLOT)
WALKOUT = "drill: walkout, of: back squat, progression: {kind: hold, from: 95 %, to: 100 %}"


def _only(*texts: str) -> Problem:
    found = problems_of(*texts)
    assert len(found) == 1, "\n".join(p.as_text() for p in found)
    return found[0]


def _marked(problem: Problem) -> str:
    assert isinstance(problem.span, Span)
    at = problem.span
    return at.source[at.column - 1 : at.column - 1 + at.width]


def test_sound_sources_have_no_problem() -> None:
    """Nothing is said where nothing is wrong."""
    assert codes(CLIENT, BLOCK) == []
    assert (
        codes(CLIENT, block(SLOT, WALKOUT, weeks=12, head="deload: {every: 4}, test: {week: 12, lifts: [squat]}")) == []
    )


class TestNames:
    """Movements must exist, whatever they are called."""

    def test_an_unknown_movement_is_asked_for_its_neighbour(self) -> None:
        """In a slot, at the word."""
        problem = _only(CLIENT, BLOCK.replace("back squat", "back sqaut"))
        assert (problem.code, _marked(problem), problem.help) == (
            "unknown-movement",
            "back sqaut",
            'Did you mean "back squat"?',
        )

    @pytest.mark.parametrize("word", ["squat", "Back Squat", "barbell squat"])
    def test_any_of_its_names_will_do(self, word: str) -> None:
        """In any case."""
        assert codes(CLIENT, BLOCK.replace("back squat", word)) == []

    def test_an_unknown_lift_is_found_at_its_key(self) -> None:
        """In the profile."""
        problem = _only(client(lifts=LIFTS.replace("bench press", "bech press")), BLOCK)
        assert (problem.code, _marked(problem)) == ("unknown-movement", "bech press")

    def test_limits_name_movements(self) -> None:
        """What to avoid, and what to do instead."""
        for limit, word in (("avoid: [xyzzy]", "xyzzy"), ("avoid: [dip], instead: {dip: xyzzy}", "xyzzy")):
            problem = _only(client(screening=f"limits: [{{area: elbow, {limit}}}]\n"), BLOCK)
            assert (problem.code, _marked(problem)) == ("unknown-movement", word)

    def test_a_replacement_needs_something_that_it_replaces(self) -> None:
        """Else it would never be used."""
        assert (
            _only(client(screening="limits: [{area: elbow, avoid: [dip], instead: {push-up: dip}}]\n"), BLOCK).code
            == "not-avoided"
        )

    def test_a_drill_needs_its_lift(self) -> None:
        """A walkout of what?"""
        assert _only(CLIENT, block(WALKOUT.replace("of: back squat, ", ""))).code == "missing-key"


class TestWeeks:
    """Every week named lies in the block."""

    @pytest.mark.parametrize(
        ("head", "slot", "marked"),
        [
            ("phases: [{title: A, weeks: 3-5}]", SLOT, "3-5"),
            ("deload: {weeks: [4, 9]}", SLOT, "9"),
            ("test: {week: 5, lifts: [back squat]}", SLOT, "5"),
            ("", f"{SLOT}, weeks: 2-6", "2-6"),
        ],
    )
    def test_a_week_after_the_end_is_found(self, head: str, slot: str, marked: str) -> None:
        """At its number."""
        problem = _only(CLIENT, block(slot, weeks=4, head=head))
        assert (problem.code, _marked(problem)) == ("week-outside", marked)
        assert "1 to 4" in problem.help

    def test_more_days_than_the_client_trains_are_found_once(self) -> None:
        """Not once a week; a rolling block may have them."""
        more = f"  - title: B\n    slots: [{{{SLOT}}}]\n"
        two = block(SLOT, after=more)
        one_day = client(training=TRAINING.replace("[mon, wed, fri]", "[mon]"))
        assert _only(one_day, two).code == "too-many-days"
        assert codes(one_day, block(SLOT, after=more, head="rolling: true")) == []
        assert codes(client(training=TRAINING.replace("[mon, wed, fri]", "[mon, fri]")), two) == []


class TestTests:
    """A test must say something."""

    @pytest.mark.parametrize(
        ("set_", "fine"),
        [
            ("reps: 15", True),
            ("reps: 16", False),
            ("reps: 12, rir: 3", True),
            ("reps: 12, rir: 4", False),
            ("reps: 15, rir: 0.5", False),
        ],
    )
    def test_more_than_fifteen_to_failure_are_refused(self, set_: str, fine: bool) -> None:
        """Reps done and reps left together."""
        lifts = LIFTS.replace("load: 200, reps: 1", f"load: 100, {set_}")
        assert codes(client(lifts=lifts), BLOCK) == ([] if fine else ["weak-test"])

    def test_a_lift_with_only_missed_tests_has_none(self) -> None:
        """A missed one beside a made one is fine."""
        missed = LIFTS.replace("load: 200, reps: 1", "load: 200, reps: 1, missed: true")
        assert _only(client(lifts=missed), BLOCK).code == "no-test"
        both = LIFTS.replace(
            "[{date: 2026-12-19, load: 200",
            "[{date: 2026-12-18, load: 210, reps: 1, missed: true}, {date: 2026-12-19, load: 200",
        )
        assert codes(client(lifts=both), BLOCK) == []

    def test_nothing_on_the_bar_is_no_test_but_the_body_alone_is(self) -> None:
        """0 kg squats say nothing, pull-ups with 0 kg do."""
        assert _only(client(lifts=LIFTS.replace("load: 200", "load: 0")), BLOCK).code == "out-of-range"
        assert codes(client(lifts="lifts: {pull-up: {tests: [{date: 2026-12-19, load: 0, reps: 8}]}}\n"), BLOCK) == []

    def test_a_lift_to_test_must_have_been_tested_before(self) -> None:
        """Attempts come from an estimate; another name of the lift will do."""
        assert _only(CLIENT, block(SLOT, head="test: {week: 4, lifts: [deadlift]}")).code == "not-tested"
        assert codes(CLIENT, block(SLOT, head="test: {week: 4, lifts: [Squat]}")) == []


_BAR = 'Bars of this gym: bar. Or add "pull bar: …" with its weight to "bars:".'
_STACK = 'Stacks of this gym: none. Or add "tower: {from: 5, to: 80, step: 5}", as it is there, to "stacks:".'


class TestGear:
    """What the block asks for must be in the gym."""

    def test_an_unknown_bar_is_found(self) -> None:
        """With those that there are."""
        problem = _only(CLIENT, block(squat("kind: single, reps: 5, add: 1 kg", barbell="pull bar")))
        assert (problem.code, problem.help) == ("unknown-bar", _BAR)

    def test_an_unknown_stack_is_found(self) -> None:
        """Or that there are none."""
        problem = _only(
            CLIENT, block("movement: lat pull-down, stack: tower, progression: {kind: single, reps: 8, add: 5 kg}")
        )
        assert (problem.code, problem.help) == ("unknown-stack", _STACK)

    @pytest.mark.parametrize(
        ("rack", "start", "code"),
        [
            ("", "hole 10", "no-pins"),
            ("", "95 cm", None),
            ("pins: {first: 30, spacing: 5, holes: 9}", "hole 10", "no-such-hole"),
            ("pins: {first: 30, spacing: 5, holes: 10}", "hole 10", None),
        ],
    )
    def test_holes_must_be_in_the_rack(self, rack: str, start: str, code: str | None) -> None:
        """Centimetres need no rack."""
        gym = GYM.replace("safeties", f"{rack}, safeties") if rack else GYM
        unit = "hole 8" if "hole" in start else "80 cm"
        slot = f"drill: pin squat, of: back squat, progression: {{kind: pins, from: {start}, to: {unit}}}"
        assert codes(client(gym=gym), block(slot)) == ([code] if code else [])

    @pytest.mark.parametrize("rule", ["from: hole 3, to: hole 0", "from: hole 0, to: hole 0"])
    def test_holes_count_from_one(self, rule: str) -> None:
        """There is no hole 0."""
        gym = GYM.replace("safeties", "pins: {first: 30, spacing: 5, holes: 24}, safeties")
        assert (
            codes(client(gym=gym), block(f"drill: pin squat, of: back squat, progression: {{kind: pins, {rule}}}"))
            != []
        )


class TestTracks:
    """One track is one progression."""

    def test_slots_of_a_track_must_agree(self) -> None:
        """In movement and progression."""
        one = SLOT + ", track: main"
        assert codes(CLIENT, block(one, one)) == []
        assert _only(CLIENT, block(one, one.replace("reps: 5", "reps: 4"))).code == "track"
        assert _only(CLIENT, block(one, one.replace("back squat", "front squat"))).code == "track"


class TestDemos:
    """Demonstrations of a brand name movements."""

    @staticmethod
    def _brand(demos: str) -> str:
        return f"format: 1\nbrand: {{name: Ferry Street Strength, demos: {{{demos}}}}}\n"

    def test_any_name_of_a_movement_will_do(self) -> None:
        """Whether it is trained or not."""
        brand = self._brand("barbell squat: https://a.example/s, deadlift: https://a.example/d")
        assert codes(CLIENT, BLOCK, brand) == []

    def test_an_unknown_movement_is_asked_for_its_neighbour(self) -> None:
        """At its key."""
        problem = _only(CLIENT, BLOCK, self._brand("back sqaut: https://a.example/s"))
        assert (problem.code, _marked(problem), problem.help) == (
            "unknown-movement",
            "back sqaut",
            'Did you mean "back squat"?',
        )

    def test_one_movement_has_one_address(self) -> None:
        """Under whatever names."""
        problem = _only(CLIENT, BLOCK, self._brand("back squat: https://a.example/s, squat: https://a.example/t"))
        assert (problem.code, _marked(problem)) == ("duplicate-lift", "squat")

    def test_an_address_is_on_the_web(self) -> None:
        """And safe."""
        problem = _only(CLIENT, BLOCK, self._brand("back squat: a.example/s"))
        assert (problem.code, _marked(problem)) == ("wrong-form", "a.example/s")
        assert "https://" in problem.help
