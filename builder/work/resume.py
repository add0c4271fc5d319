"""The half-way change of a block: its rest planned anew from a week on, with the entries made so far."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from builder.given import Resume, Sources
from builder.intake import Loaded, understood
from builder.log import Answers, Moved, moved, overlay, progress, read_log
from builder.log.manifest import knowing, planned_rows
from builder.pdf.fence import Answer
from builder.plan import Plan, WeekKind, make_plan
from builder.values.problem import Problem, Severity
from builder.work.read import worked

NO_WEEK = 100
"""Above every week: without a new plan the entries of all weeks move."""
NOTHING = Moved((), ())


def resume(
    loaded: Loaded, stretch: Resume | None, answers: Answers | None
) -> tuple[Loaded, Moved, tuple[Problem, ...]]:
    """Sources with the new stretch laid over them, and the entries of a log that its booklet takes over.

    A problem where the sources do not bear the stretch, or an entry would stand beside another plan.
    """
    if loaded.sources is None:
        return loaded, NOTHING, loaded.problems
    if stretch is not None:
        added, absurd = _stretched(loaded.sources, stretch, answers)
        if added is None:
            return loaded, NOTHING, absurd
        # As one file more, laid over the others: so it is checked as they are, and travels in the booklet with them.
        loaded = understood([*loaded.texts, added])
    if answers is None or loaded.sources is None:
        return loaded, NOTHING, loaded.problems
    plan = make_plan(loaded.sources)
    rows, week = planned_rows(plan), stretch.week if stretch else NO_WEEK
    entries, problems = moved(answers, rows, week, rated=loaded.sources.rated)
    return loaded, entries, (*loaded.problems, *problems, *_light_week_due(answers, plan, week))


def _light_week_due(answers: Answers, plan: Plan, week: int) -> tuple[Problem, ...]:
    """A warning where several lifts stalled in the week before, and the block goes on as if they had not."""
    begins = next((one.kind for one in plan.weeks if one.number == week), None)
    if begins is not WeekKind.TRAINING:
        return ()
    before = next((one.stalled for one in progress(read_log(answers)[0]).weeks if one.week == week - 1), None)
    if before is None or not before.tired:
        return ()
    fact = f"several lifts stalled in week {week - 1} ({', '.join(before.told)}), and week {week} is no light one"
    help_ = f'Write "deload: {{weeks: [{week}]}}" in the block, or add {week} there, unless the lifter is rested.'
    return (Problem("light-week-due", None, fact, help_, Severity.WARNING),)


def _stretched(sources: Sources, stretch: Resume, answers: Answers | None) -> Answer[tuple[str, bytes]]:
    """The source that plans the rest anew, with the records of the log."""
    if answers is None:
        return overlay(sources, stretch, None), ()
    known = replace(answers, manifest=knowing(answers.manifest, sources))
    files = sorted({Path(cell.file) for cell in answers.cells.values()})
    return worked(lambda: overlay(sources, stretch, read_log(known)[0]), files)


__all__ = ["resume"]
