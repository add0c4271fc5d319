"""The design review: a finished plan against the trade's norms, as findings with their sources.

Why one tuple that is written out: what is checked, and in which order it is told, is seen at a glance, and a test asks
for a case of each. And each check speaks once, at its worst place: of sixteen remarks on long sessions none is read.
"""

from collections.abc import Callable, Iterator
from datetime import date

from builder.plan import Plan
from builder.review import (
    checks_dose,
    checks_doubt,
    checks_drills,
    checks_order,
    checks_progression,
    checks_reach,
    checks_recovery,
    checks_safety,
    checks_schedule,
    checks_week,
    notes,
)
from builder.review.finding import Finding, Gravity, told

Check = Callable[[Plan, date], Iterator[Finding]]

CHECKS: tuple[Check, ...] = (
    checks_safety.client_cautions,
    checks_safety.squat_without_safeties,
    checks_safety.bench_alone,
    checks_safety.hold_alone,
    checks_safety.attempt_alone,
    checks_safety.novice_attempts,
    checks_safety.work_at_max,
    checks_safety.third_attempt,
    checks_safety.attempts_and_plates,
    checks_safety.left_out,
    checks_doubt.unlikely_test,
    checks_doubt.other_unit,
    checks_doubt.start_before_tests,
    checks_progression.future_test,
    checks_progression.stale_test,
    checks_progression.weak_test,
    checks_progression.estimate_wide,
    checks_progression.step_large,
    checks_progression.step_small,
    checks_progression.progress_steep,
    checks_reach.load_held,
    checks_reach.reserve_apart,
    checks_reach.week_unlikely,
    checks_schedule.status_unsuited,
    checks_schedule.training_days,
    checks_schedule.squat_frequency,
    checks_schedule.squat_late,
    checks_schedule.heavy_days,
    checks_recovery.deload_interval,
    checks_recovery.deload_none,
    checks_recovery.deload_not_lighter,
    checks_recovery.taper_volume,
    checks_recovery.deload_before_test,
    checks_recovery.last_heavy,
    checks_recovery.untested_lift,
    checks_dose.session_long,
    checks_dose.lifts_many,
    checks_dose.lifts_few,
    checks_dose.pattern_missing,
    checks_dose.no_equipment,
    checks_dose.load_capped,
    checks_dose.load_under_bar,
    checks_drills.walkout_share,
    checks_drills.walkouts_often,
    checks_drills.drill_late,
    checks_drills.pin_share,
    checks_drills.walkout_low,
    checks_order.small_first,
    checks_order.superset_heavy,
    checks_order.rest_short,
    checks_order.rest_long,
    checks_week.hinge_before_squat,
    checks_week.sets_many,
    checks_week.sets_few,
    checks_week.push_pull,
    checks_week.squat_hinge,
    checks_week.loads_fall,
    checks_week.tired_test,
)
"""Every check. Findings come by gravity, then in this order."""


def review(plan: Plan, today: date) -> tuple[Finding, ...]:
    """What all checks find in a plan, the gravest first; pure, since the day is given."""
    found = [finding for check in CHECKS for finding in check(plan, today)]
    return tuple(sorted(found, key=lambda finding: list(Gravity).index(finding.gravity)))


NOTES: tuple[Check, ...] = (notes.replaced, notes.changed_for_client, notes.pressed_alone)
"""What tells of a plan and doubts nothing."""


def noted(plan: Plan, today: date) -> tuple[Finding, ...]:
    """What the plan did for this client, so that nobody forgets it."""
    return tuple(note for tell in NOTES for note in tell(plan, today))


__all__ = ["CHECKS", "NOTES", "Check", "Finding", "Gravity", "noted", "review", "told"]
