"""A session's minutes: warm-up, change-overs, every rep and every rest, rounded up."""

import pytest
from sources_for_tests import CLIENT, block, plan

ROW = """format: 1
movements:
  still row: {pattern: horizontal pull, equipment: bodyweight, seconds_per_rep: 5}
  still lunge: {pattern: lunge, equipment: bodyweight, seconds_per_rep: 5, each_side: true}
  still press: {pattern: vertical push, equipment: bodyweight, seconds_per_rep: 3}
"""


def _minutes(*slots: str) -> int:
    return plan(CLIENT, ROW, block(*slots, weeks=1)).sessions()[0].minutes


def _slot(movement: str, rest: int, sets: int = 3, **more: str) -> str:
    other = "".join(f", {key}: {value}" for key, value in more.items())
    return (
        f"movement: {movement}, rest: {rest} s{other}, progression: {{kind: single, sets: {sets}, reps: 8, add: 1 kg}}"
    )


@pytest.mark.parametrize(
    ("slots", "seconds"),
    [
        # 6 min warm-up, 1 min change-over, three sets of 8 s set-up and 8 x 5 s, two rests.
        ([_slot("still row", 60)], 360 + 60 + 3 * 48 + 2 * 60),
        ([_slot("still row", 61)], 360 + 60 + 3 * 48 + 2 * 61),
        # Both sides.
        ([_slot("still lunge", 60)], 360 + 60 + 3 * (8 + 2 * 40) + 2 * 60),
        # 2-1-1 takes 4 s a rep, X about one.
        ([_slot("still row", 60, tempo='"2-1-1"')], 360 + 60 + 3 * (8 + 32) + 2 * 60),
        ([_slot("still row", 60, tempo='"3-1-X-2"')], 360 + 60 + 3 * (8 + 56) + 2 * 60),
        # Two alone, and the same as a superset: one change-over, 15 s from one to the other, the longer rest once.
        ([_slot("still row", 60), _slot("still press", 90)], 360 + 2 * 60 + 3 * 48 + 3 * 32 + 2 * 60 + 2 * 90),
        (
            [_slot("still row", 60, superset="A"), _slot("still press", 90, superset="A")],
            360 + 60 + 3 * 48 + 3 * 32 + 2 * 90 + 3 * 15,
        ),
        # A superset of unequal members has as many rounds as its longest.
        (
            [_slot("still row", 60, 2, superset="A"), _slot("still press", 60, 4, superset="A")],
            360 + 60 + 2 * 48 + 4 * 32 + 3 * 60 + 2 * 15,
        ),
        # Two supersets do not share a rest.
        (
            [_slot("still row", 60, superset="A"), _slot("still press", 60, superset="B")],
            360 + 2 * 60 + 3 * 48 + 3 * 32 + 4 * 60,
        ),
    ],
)
def test_time_is_counted_by_hand(slots: list[str], seconds: int) -> None:
    """To the next full minute."""
    assert _minutes(*slots) == -(-seconds // 60)


def test_a_hold_counts_its_seconds_and_ramps_their_plates() -> None:
    """More warm-up sets, longer holds and longer rests all take longer."""
    rule = "{{kind: hold, from: 95 %, to: 100 %, sets: 2, seconds: {} s}}"
    hold = f"drill: walkout, of: back squat, rest: {{}} s, progression: {rule}"
    assert _minutes(hold.format(60, 30)) > _minutes(hold.format(60, 2))
    assert _minutes(hold.format(300, 8)) >= _minutes(hold.format(60, 8)) + 4


def test_every_slot_makes_a_session_longer() -> None:
    """No work is free."""
    one, two = _minutes(_slot("still row", 60)), _minutes(_slot("still row", 60), _slot("still lunge", 60))
    assert two > one
