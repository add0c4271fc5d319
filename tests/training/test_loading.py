"""Ladders of real loads against the published plate checks, exhaustive search, a solver and pint."""

from decimal import Decimal, Inexact
from itertools import pairwise, product

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from builder.training.loading import Ladder, Plate, Rung, barbell
from builder.values.quantity import Rounding, Unit, to_kg

Pairs = list[tuple[Plate, int]]
D = Decimal


def kg(**pairs: int) -> Pairs:
    """Pairs by label: kg(p25=2, p1_25=1) is two pairs of 25 kg and one of 1.25 kg."""
    return [(Plate(label, D(label)), count) for label, count in _labelled(pairs)]


def lb(**pairs: int) -> Pairs:
    return [(Plate(f"{label} lb", to_kg(D(label), Unit.LB)), count) for label, count in _labelled(pairs)]


def _labelled(pairs: dict[str, int]) -> list[tuple[str, int]]:
    return [(name[1:].replace("_", "."), count) for name, count in pairs.items()]


IPF_PAIRS = kg(p25=5, p20=1, p15=1, p10=1, p5=1, p2_5=1, p1_25=1)
LB_PAIRS = lb(p45=3, p35=1, p25=1, p10=2, p5=1, p2_5=1)
GYMS: dict[str, tuple[Decimal, Decimal, Pairs]] = {
    "federation set with collars": (D(20), D(5), IPF_PAIRS),
    "scarce, greedy fails at 30 a side": (D(20), D(0), kg(p25=1, p15=2)),
    "scarce pounds, greedy fails at 70 a side": (to_kg(D(45), Unit.LB), D(0), lb(p45=1, p35=2)),
    "many ways to one sum": (D(15), D(0), kg(p20=2, p15=3, p10=4, p5=5)),
    "fractional": (D(20), D("0.5"), kg(p20=1, p10=2, p2_5=2, p1_25=2, p0_5=2, p0_25=1)),
    "kilograms and pounds mixed": (D(20), D(0), [*kg(p20=2, p10=1, p5=1), *lb(p45=1, p25=1, p2_5=2)]),
    "pound bar in a kilogram gym": (to_kg(D(45), Unit.LB), D(5), kg(p20=1, p15=2, p7_5=3, p1=2)),
}


def ladder_of(gym: str) -> Ladder:
    bar, collars, pairs = GYMS[gym]
    return barbell(gym, bar, collars, pairs)


def exhaustive(pairs: Pairs) -> dict[Decimal, tuple[tuple[int, ...], ...]]:
    """Every side sum with all ways to make it, each as the masses of the plates, by trying everything."""
    ways: dict[Decimal, list[tuple[int, ...]]] = {}
    for counts in product(*(range(count + 1) for _, count in pairs)):
        total = sum((plate.mass * n for (plate, _), n in zip(pairs, counts, strict=True)), D(0))
        ways.setdefault(total, []).append(counts)
    return {total: tuple(found) for total, found in ways.items()}


def counts_of(rung: Rung, pairs: Pairs) -> tuple[int, ...]:
    side = dict(rung.side)
    return tuple(side.get(plate.label, 0) for plate, _ in pairs)


def spread(rung: Rung) -> list[str]:
    return [label for label, count in rung.side for _ in range(count)]


# references, section 11: every row found by exhaustive search


@pytest.mark.parametrize(
    ("target", "collars", "plates"),
    [
        ("142.5", "5", "25 25 5 2.5 1.25"),
        ("100", "5", "25 10 2.5"),
        ("100", "0", "25 15"),
        ("227.5", "5", "25 25 25 25 1.25"),
    ],
)
def test_a_kilogram_bar_is_loaded_as_published(target: str, collars: str, plates: str) -> None:
    rung = barbell("bar", D(20), D(collars), IPF_PAIRS).pick(D(target))
    assert rung.mass == D(target)
    assert spread(rung) == plates.split()


def test_61_kg_is_not_loadable_on_25_kg_of_bar_and_collars_and_its_neighbours_are_60_and_62_5() -> None:
    ladder = barbell("bar", D(20), D(5), IPF_PAIRS)
    assert not ladder.holds(D(61))
    assert ladder.pick(D(61), Rounding.DOWN).mass == 60
    assert ladder.pick(D(61), Rounding.UP).mass == D("62.5")


def test_185_lb_is_a_45_and_a_25_a_side() -> None:
    ladder = barbell("bar", to_kg(D(45), Unit.LB), D(0), LB_PAIRS)
    rung = ladder.pick(to_kg(D(185), Unit.LB))
    assert rung.mass == to_kg(D(185), Unit.LB)
    assert rung.side == (("45 lb", 1), ("25 lb", 1))


def test_142_5_lb_lies_between_140_and_145_when_the_smallest_plate_is_2_5_lb() -> None:
    ladder = barbell("bar", to_kg(D(45), Unit.LB), D(0), LB_PAIRS)
    target = to_kg(D("142.5"), Unit.LB)
    assert not ladder.holds(target)
    assert ladder.pick(target, Rounding.DOWN).mass == to_kg(D(140), Unit.LB)
    assert ladder.pick(target, Rounding.UP).mass == to_kg(D(145), Unit.LB)


def test_two_15s_are_found_where_taking_the_25_first_would_leave_5_kg() -> None:
    assert ladder_of("scarce, greedy fails at 30 a side").pick(D(80)).side == (("15", 2),)


def test_two_35s_are_found_where_taking_the_45_first_would_leave_25_lb() -> None:
    ladder = ladder_of("scarce pounds, greedy fails at 70 a side")
    rung = ladder.pick(to_kg(D(185), Unit.LB))
    assert (rung.mass, rung.side) == (to_kg(D(185), Unit.LB), (("35 lb", 2),))


@pytest.mark.parametrize(
    ("smallest", "step"), [("1.25", "2.5"), ("0.5", "1"), ("0.25", "0.5")]
)  # references, section 11: kg pairs give these steps
def test_the_smallest_pair_sets_the_step(smallest: str, step: str) -> None:
    plates = [*kg(p5=2), (Plate(smallest, D(smallest)), 20)]
    masses = [rung.mass for rung in barbell("bar", D(20), D(0), plates).rungs]
    assert {upper - lower for lower, upper in pairwise(masses)} == {D(step)}


def test_a_45_lb_bar_is_not_a_20_kg_bar() -> None:
    assert to_kg(D(45), Unit.LB) == D("20.41165665")  # references, section 11: 20.41 kg


# the trade's other way of finding it: trying everything, and a general solver


@pytest.mark.parametrize("gym", GYMS)
def test_the_ladder_holds_exactly_the_totals_that_exhaustive_search_finds(gym: str) -> None:
    bar, collars, pairs = GYMS[gym]
    totals = sorted(bar + collars + 2 * side for side in exhaustive(pairs))
    assert [rung.mass for rung in ladder_of(gym).rungs] == totals


@pytest.mark.parametrize("gym", GYMS)
def test_among_equal_totals_the_fewest_plates_win_then_the_heavier_ones(gym: str) -> None:
    bar, collars, pairs = GYMS[gym]
    heavy_first = sorted(pairs, key=lambda entry: -entry[0].mass)
    ways = exhaustive(heavy_first)
    for rung in ladder_of(gym).rungs:
        found = ways[(rung.mass - bar - collars) / 2]
        fewest = min(sum(counts) for counts in found)
        best = max(counts for counts in found if sum(counts) == fewest)
        assert counts_of(rung, heavy_first) == best
        assert rung.plates == fewest


def solver_fewest(pairs: Pairs, side: Decimal) -> int | None:
    """The fewest plates for `side` kg by OR-tools CP-SAT over whole tenths of a milligram; None if none."""
    model = cp_model.CpModel()
    counts = [model.new_int_var(0, count, plate.label) for plate, count in pairs]
    units = [int(plate.mass * 10**10) for plate, _ in pairs]
    model.add(sum(n * unit for n, unit in zip(counts, units, strict=True)) == int(side * 10**10))
    model.minimize(sum(counts))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    assert status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
    return round(solver.objective_value) if status == cp_model.OPTIMAL else None


@pytest.mark.parametrize("gym", GYMS)
def test_a_general_solver_finds_no_way_with_fewer_plates(gym: str) -> None:
    bar, collars, pairs = GYMS[gym]
    rungs = ladder_of(gym).rungs
    for rung in rungs[:: max(1, len(rungs) // 12)]:
        assert solver_fewest(pairs, (rung.mass - bar - collars) / 2) == rung.plates


@pytest.mark.parametrize("gym", GYMS)
def test_a_general_solver_finds_no_way_between_two_rungs(gym: str) -> None:
    bar, collars, pairs = GYMS[gym]
    rungs = ladder_of(gym).rungs
    step = max(1, len(rungs) // 6)
    for lower, upper in zip(rungs[::step], rungs[1::step], strict=False):
        middle = ((lower.mass + upper.mass) / 2 - bar - collars) / 2
        assert solver_fewest(pairs, middle) is None


# exact pounds


@pytest.mark.parametrize(
    ("pounds", "kilograms"), [("225", "102.05828325"), ("315", "142.88159655")]
)  # references, section 11: exact
def test_pound_loads_are_exact_in_kilograms_and_agree_with_pint(pounds: str, kilograms: str) -> None:
    registry: pint.UnitRegistry[Decimal] = pint.UnitRegistry(non_int_type=Decimal)
    rung = barbell("bar", to_kg(D(45), Unit.LB), D(0), LB_PAIRS).pick(to_kg(D(pounds), Unit.LB))
    assert rung.mass == D(kilograms)
    assert rung.mass == registry.Quantity(D(pounds), "pound").to("kilogram").magnitude


def test_every_rung_of_a_pound_gym_is_a_multiple_of_5_lb_to_the_last_digit_by_pint() -> None:
    registry: pint.UnitRegistry[Decimal] = pint.UnitRegistry(non_int_type=Decimal)
    ladder = barbell("bar", to_kg(D(45), Unit.LB), D(0), LB_PAIRS)
    expected = [registry.Quantity(D(n), "pound").to("kilogram").magnitude for n in range(45, 495, 5)]
    assert [rung.mass for rung in ladder.rungs] == expected


def test_a_sum_that_28_digits_cannot_hold_is_an_error_not_a_rounding() -> None:
    tiny = Plate("tiny", D("1e-27"))
    with pytest.raises(Inexact):
        barbell("bar", D(20), D(0), [(tiny, 1), (Plate("25", D(25)), 1)])


# properties over many gyms

KINDS = ["25", "20", "15", "10", "5", "2.5", "2", "1.25", "1", "0.5", "0.25"]
POUND_KINDS = ["45", "35", "25", "10", "5", "2.5"]
some_pairs = st.builds(
    lambda metric, pounds: (
        [(Plate(label, D(label)), count) for label, count in metric.items()]
        + [(Plate(f"{label} lb", to_kg(D(label), Unit.LB)), count) for label, count in pounds.items()]
    ),
    st.dictionaries(st.sampled_from(KINDS), st.integers(0, 3), max_size=4),
    st.dictionaries(st.sampled_from(POUND_KINDS), st.integers(0, 2), max_size=3),
)
some_bars = st.sampled_from([D(20), D(15), D(10), to_kg(D(45), Unit.LB), to_kg(D(35), Unit.LB)])


@settings(max_examples=60, deadline=None)
@given(bar=some_bars, collars=st.sampled_from([D(0), D(5)]), pairs=some_pairs)
def test_a_rung_weighs_bar_collars_and_two_sides_exactly_and_uses_only_pairs_owned(
    bar: Decimal, collars: Decimal, pairs: Pairs
) -> None:
    mass = {plate.label: plate.mass for plate, _ in pairs}
    owned = {plate.label: count for plate, count in pairs}
    for rung in barbell("bar", bar, collars, pairs).rungs:
        assert rung.mass == bar + collars + 2 * sum((mass[label] * n for label, n in rung.side), D(0))
        assert all(1 <= n <= owned[label] for label, n in rung.side)
        assert rung.plates == sum(n for _, n in rung.side)
        assert sorted(rung.side, key=lambda entry: -mass[entry[0]]) == list(rung.side)
