"""What is written on the opener of a week and below the trend of a lift is read and told, and never guessed."""

from __future__ import annotations

import json
from decimal import Decimal

from log.small import manifest

from builder.log import Answers, Log, read_log
from builder.log.model import TrendLog, WeekLog
from builder.log.progress import progress
from builder.log.tell import as_json
from builder.values.fields import TrendField, WeekField, write
from builder.values.problem import Cell, Problem

GOOD, MEND = write(WeekField(2, "good")), write(WeekField(2, "mend"))
WEIGHT, SLEEP = write(WeekField(2, "bodyweight")), write(WeekField(2, "sleep"))
SQUAT, CHINS = write(TrendField(1, 2)), write(TrendField(2, 3))
WRITTEN = {GOOD: "all walkouts", MEND: "bed by ten", WEIGHT: "81,5", SLEEP: "7:30", SQUAT: "205", CHINS: "101.5 kg"}


def read(texts: dict[str, str]) -> tuple[Log, tuple[Problem, ...]]:
    about = manifest().model_copy(update={"fields": (*manifest().fields, *WRITTEN)})
    cells = {name: Cell("filled.pdf", 1, name) for name in about.fields}
    return read_log(Answers(about, texts, cells, {}))


def test_a_week_that_was_looked_back_on_and_the_maxes_of_a_trend_are_read() -> None:
    log, unclear = read(WRITTEN)
    assert unclear == ()
    assert log.weeks == (WeekLog(2, Decimal("81.5"), Decimal("7.5"), "all walkouts", "bed by ten"),)
    assert log.trend == (TrendLog("back squat", 2, Decimal(205)), TrendLog("chin-up", 3, Decimal("101.5")))
    assert log.others == ()


def test_they_are_told_and_a_week_left_blank_is_not() -> None:
    told = json.loads(as_json(log := read(WRITTEN)[0], progress(log)))
    week = {"week": 2, "bodyweight": "81.5", "sleep_hours": "7.5", "good": "all walkouts", "mend": "bed by ten"}
    assert told["week_reviews"] == [week]
    assert told["trend"][0] == {"movement": "back squat", "week": 2, "max": "205"}
    assert read({})[0].weeks == read({})[0].trend == ()


def test_hours_of_sleep_are_told_to_hundredths() -> None:
    """Seven hours and twenty minutes are 7.333… hours."""
    told = json.loads(as_json(log := read({SLEEP: "7:20"})[0], progress(log)))
    assert [week["sleep_hours"] for week in told["week_reviews"]] == ["7.33"]


def test_what_is_no_weight_is_unclear_and_counts_for_nothing() -> None:
    log, unclear = read({SQUAT: "strong", WEIGHT: "+5"})
    assert [problem.code for problem in unclear] == ["log-unclear"] * 2
    assert log.trend == () and log.weeks == (WeekLog(2),)
