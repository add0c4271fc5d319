"""Coming back after a pause: the first week, the weeks until the load is back, and pauses cut to a span."""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from builder.training.reentry import Pause, first_week_cut, load_share, weeks_back

FIRST = date(2027, 2, 1)


@pytest.mark.parametrize(("days", "weeks"), [(0, 0), (6, 0), (7, 1), (14, 1), (15, 2), (28, 2), (70, 5)])
def test_the_load_is_back_after_half_of_the_time_away(days: int, weeks: int) -> None:
    # Halonen et al. 2024: what ten weeks without training had cost was back after five; rounded up to whole weeks
    assert weeks_back(days) == weeks
    assert load_share(days, weeks) == 1
    shares = [load_share(days, week) for week in range(weeks + 1)]
    assert shares == sorted(set(shares)), "it rises every week"
    assert shares[0] == 1 - first_week_cut(days)


@pytest.mark.parametrize(("days", "cut"), [(6, "0"), (7, "0.025"), (13, "0.025"), (14, "0.050")])
def test_in_two_weeks_no_strength_is_lost_and_the_cut_is_the_trades(days: int, cut: str) -> None:
    # 2.5 % for each full week: common practice, no source; nothing lost in two weeks: Hortobagyi et al. 1993
    assert first_week_cut(days) == Decimal(cut)


def test_a_pause_is_cut_to_a_span_and_is_none_where_no_day_is_left() -> None:
    pause = Pause(FIRST, FIRST + timedelta(10))
    assert pause.days == 10
    assert pause.between(FIRST + timedelta(3), FIRST + timedelta(5)) == Pause(
        FIRST + timedelta(3), FIRST + timedelta(5)
    )
    assert pause.between(pause.back, pause.back + timedelta(5)) is None
    assert pause.between(FIRST - timedelta(5), FIRST) is None


def test_what_a_pause_cost_comes_back_evenly() -> None:
    pause = Pause(FIRST, FIRST + timedelta(28))
    assert [pause.returned(pause.back + timedelta(days)) for days in (0, 7, 14, 30)] == [0, 0.5, 1, 1]
    assert Pause(FIRST, FIRST + timedelta(5)).returned(FIRST + timedelta(5)) == 1
