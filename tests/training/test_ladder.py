"""Looking loads up on a ladder, and the ladders of every implement."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.training.loading import (
    Ladder,
    Plate,
    Rung,
    barbell,
    bodyweight_plus,
    dumbbells,
    kettlebells,
    side_text,
    stack,
)
from builder.values.quantity import OnBar, Rounding, Ties

D = Decimal
KINDS = ["25", "20", "15", "10", "5", "2.5", "2", "1.25", "1", "0.5", "0.25"]


def ladder_of(pairs: dict[str, int]) -> Ladder:
    return barbell("bar", D(20), D(0), [(Plate(label, D(label)), count) for label, count in pairs.items()])


some_ladders = st.builds(ladder_of, st.dictionaries(st.sampled_from(KINDS), st.integers(1, 3), max_size=5))
targets = st.decimals(0, 300, places=3)


@settings(max_examples=60, deadline=None)
@given(ladder=some_ladders, target=targets)
def test_picking_agrees_with_looking_at_every_rung(ladder: Ladder, target: Decimal) -> None:
    every = [rung.mass for rung in ladder.rungs]
    gap = min(abs(mass - target) for mass in every)
    nearest = [mass for mass in every if abs(mass - target) == gap]
    assert ladder.pick(target).mass == nearest[0]
    assert ladder.pick(target, ties=Ties.HEAVIER).mass == nearest[-1]
    under, over = [m for m in every if m <= target], [m for m in every if m >= target]
    assert ladder.pick(target, Rounding.DOWN).mass == (under or every)[-1 if under else 0]
    assert ladder.pick(target, Rounding.UP).mass == (over or every)[0 if over else -1]


@settings(max_examples=60, deadline=None)
@given(ladder=some_ladders, target=targets, width=st.decimals(0, 20, places=2))
def test_neighbours_agree_with_looking_at_every_rung(ladder: Ladder, target: Decimal, width: Decimal) -> None:
    lighter = [rung for rung in ladder.rungs if rung.mass < target]
    same = [rung for rung in ladder.rungs if rung.mass == target]
    heavier = [rung for rung in ladder.rungs if rung.mass > target]
    assert ladder.below(target) == (lighter[-1] if lighter else None)
    assert ladder.at_most(target) == (same[0] if same else ladder.below(target))
    assert ladder.next_above(target) == (heavier[0] if heavier else None)
    assert ladder.holds(target) == bool(same)
    assert ladder.between(target, target + width) == tuple(
        rung for rung in ladder.rungs if target <= rung.mass < target + width
    )


# the ladder itself


def test_a_tie_goes_to_the_lighter_rung_unless_told_otherwise() -> None:
    ladder = dumbbells([D(10), D("12.5")])
    assert ladder.pick(D("11.25")).mass == 10
    assert ladder.pick(D("11.25"), ties=Ties.HEAVIER).mass == D("12.5")


def test_a_target_off_the_ladder_gets_its_end_whatever_the_rounding() -> None:
    ladder = barbell("bar", D(20), D(0), [(Plate("10", D(10)), 1)])
    for rounding in Rounding:
        assert ladder.pick(D(12), rounding) is ladder.lightest
        assert ladder.pick(D(120), rounding) is ladder.heaviest


def test_there_is_nothing_below_the_lightest_nor_above_the_heaviest() -> None:
    ladder = kettlebells([D(16), D(24)])
    assert ladder.below(D(16)) is None
    assert ladder.at_most(D("15.9")) is None
    assert ladder.next_above(D(24)) is None


def test_a_ladder_without_rungs_or_out_of_order_is_refused() -> None:
    with pytest.raises(ValueError, match="no load"):
        dumbbells([])
    with pytest.raises(ValueError, match="do not rise"):
        Ladder("odd", (Rung(OnBar(D(10))), Rung(OnBar(D("10.0")))))


def test_two_ladders_are_equal_only_when_they_are_the_same_one() -> None:
    one, other = dumbbells([D(10)]), dumbbells([D(10)])
    assert one == one
    assert one != other
    assert len({one, other}) == 2


def test_the_cap_stops_the_ladder_at_the_last_total_that_does_not_exceed_it() -> None:
    assert barbell("bar", D(20), D(0), [(Plate("25", D(25)), 8)], most=D(225)).heaviest.mass == 220
    assert barbell("bar", D(20), D(0), [(Plate("25", D(25)), 8)], most=D(220)).heaviest.mass == 220
    assert barbell("bar", D(20), D(0), [(Plate("25", D(25)), 20)]).heaviest.mass == 470
    assert masses(barbell("bar", D(20), D(5), [(Plate("25", D(25)), 8)], most=D(10))) == [D(25)]


@pytest.mark.parametrize("bad", [(Plate("nothing", D(0)), 1), (Plate("5", D(5)), -1)])
def test_plates_without_mass_or_with_a_negative_count_are_refused(bad: tuple[Plate, int]) -> None:
    with pytest.raises(ValueError, match="plates need"):
        barbell("bar", D(20), D(0), [bad])


def test_of_two_plates_of_equal_mass_the_one_named_first_is_used() -> None:
    steel, rubber = Plate("20 steel", D(20)), Plate("20 rubber", D(20))
    assert barbell("bar", D(20), D(0), [(rubber, 1), (steel, 1)]).pick(D(60)).side == (("20 rubber", 1),)


# other implements


def masses(ladder: Ladder) -> list[Decimal]:
    return [rung.mass for rung in ladder.rungs]


def test_dumbbells_and_kettlebells_are_sorted_unique_and_per_hand() -> None:
    rack, bells = dumbbells([D(12), D("7.5"), D("12.0")]), kettlebells([D(24), D(16)])
    assert masses(rack) == [D("7.5"), D(12)]
    assert masses(bells) == [D(16), D(24)]
    assert rack.per_hand
    assert bells.per_hand
    assert not rack.plated


def test_a_stack_offers_each_step_alone_and_with_any_of_its_add_ons() -> None:
    ladder = stack("pulldown", [D(5), D(10), D(15)], [D("2.5"), D("1.25")])
    assert masses(ladder) == [
        D(base) + D(extra) for base in (5, 10, 15) for extra in ("0", "1.25", "2.5", "3.75")
    ]
    assert [rung.plates for rung in ladder.rungs[:4]] == [0, 1, 1, 2]
    assert not ladder.per_hand


def test_a_stack_step_reached_without_an_add_on_counts_no_piece() -> None:
    assert stack("row", [D(5), D(10)], [D(5)]).pick(D(10)).plates == 0


def test_a_belt_starts_at_bodyweight_and_hangs_single_plates() -> None:
    ladder = bodyweight_plus([(Plate("10", D(10)), 1), (Plate("5", D(5)), 2)], most=D(15))
    assert masses(ladder) == [D(0), D(5), D(10), D(15)]
    assert [rung.plates for rung in ladder.rungs] == [0, 1, 1, 2]
    assert all(rung.side == () for rung in ladder.rungs)


# words under the bar


@pytest.mark.parametrize(
    ("side", "text"),
    [
        ((), ""),
        ((("25", 1),), "25"),
        ((("25", 2), ("10", 1), ("1.25", 1)), "25×2 + 10 + 1.25"),
        ((("45 lb", 2), ("10", 1)), "45 lb ×2 + 10"),
    ],
)
def test_a_side_is_written_inside_first_with_a_real_multiplication_sign(
    side: tuple[tuple[str, int], ...], text: str
) -> None:
    assert side_text(Rung(OnBar(D(20)), side, sum(count for _, count in side))) == text
