"""Volume: totals that a coach can redo on paper, and sums that agree however they are grouped."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from builder.training.volume import (
    SetLoad,
    VolumeSummary,
    average_intensity,
    by_movement,
    by_pattern,
    lifts,
    sets,
    summary,
    tonnage,
)


def row(
    movement: str,
    load: str | None,
    reps: int,
    share: str | None = None,
    working: bool = True,
    pattern: str = "squat",
) -> SetLoad:
    """A set, its numbers written as text."""
    return SetLoad(
        pattern, movement, Decimal(load) if load else None, reps, Decimal(share) if share else None, working
    )


SESSION = (
    row("back squat", "60", 5, "0.4", working=False),
    row("back squat", "120", 3, "0.85"),
    row("back squat", "100", 5, "0.7"),
    row("pause squat", "90", 4),
    row("pull-up", None, 8, pattern="pull"),
    row("row", "40", 10, pattern="pull", working=False),
)


def test_totals_count_working_sets_alone() -> None:
    # By hand: 120 x 3 + 100 x 5 + 90 x 4 = 1220
    assert (sets(SESSION), lifts(SESSION), tonnage(SESSION)) == (4, 20, Decimal(1220))


def test_intensity_counts_each_rep_of_sets_with_a_share() -> None:
    # By hand: (0.85 x 3 + 0.7 x 5) / 8 = 0.75625; a mean over sets would be 0.775
    assert average_intensity(SESSION) == Decimal("0.75625")


def test_without_a_share_there_is_no_intensity() -> None:
    assert average_intensity([row("pull-up", None, 8)]) is None
    assert average_intensity([row("squat", "60", 5, "0.4", working=False)]) is None
    assert average_intensity([]) is None


def test_groups_come_in_order_of_appearance_and_leave_out_what_was_only_warmed_up() -> None:
    assert by_movement(SESSION) == (
        ("back squat", VolumeSummary(2, 8, Decimal(860), Decimal("0.75625"))),
        ("pause squat", VolumeSummary(1, 4, Decimal(360), None)),
        ("pull-up", VolumeSummary(1, 8, Decimal(0), None)),
    )
    assert [pattern for pattern, _ in by_pattern(SESSION)] == ["squat", "pull"]


def test_pound_loads_add_up_exactly() -> None:
    # 225 lb = 102.05828325 kg exactly (international agreement of 1959)
    assert tonnage([row("squat", "102.05828325", 5)] * 3) == Decimal("1530.87424875")


set_loads = st.builds(
    SetLoad,
    pattern=st.sampled_from(["squat", "hinge", "press"]),
    movement=st.sampled_from(["a", "b", "c", "d"]),
    load=st.none() | st.decimals(0, 400, places=3),
    reps=st.integers(0, 20),
    share=st.none() | st.decimals("0.3", "1.1", places=3),
    working=st.booleans(),
)


@given(st.lists(set_loads, max_size=20))
def test_groups_add_up_to_the_whole(rows: list[SetLoad]) -> None:
    whole = summary(rows)
    for groups in (by_pattern(rows), by_movement(rows)):
        parts = [part for _, part in groups]
        assert sum(part.sets for part in parts) == whole.sets
        assert sum(part.reps for part in parts) == whole.reps
        assert sum(part.tonnage for part in parts) == whole.tonnage


@given(st.lists(set_loads, max_size=20))
def test_the_mean_lies_between_the_lightest_and_the_heaviest_share(rows: list[SetLoad]) -> None:
    mean = average_intensity(rows)
    shares = [done.share for done in rows if done.working and done.reps and done.share is not None]
    assert (mean is None) == (not shares)
    if mean is not None:
        assert min(shares) <= mean <= max(shares)
