"""The result of a test day out of a booklet whose retest form was filled in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from builder.given import Sources
from builder.log import Log, outcome_of
from builder.log.manifest import knowing
from builder.log.results import DayOutcome, FromLog
from builder.log.shown import from_log
from builder.pdf.fence import Answer
from builder.values.problem import Cell, Problem, Severity
from builder.work.read import read, worked


def outcome_in(
    forms: Sequence[Path], sources: Sources, day: date | None, *, sure: bool = False, log: bool = True
) -> Answer[DayOutcome]:
    """What the form says of a client's test day, None when it is blank, not clear, or another client's.

    `day` is taken where the form names none. With `sure` another name on the form is a warning. With `log` what the
    other pages show of the lifts comes along; what is not clear there counts for nothing, and is told.
    """
    assert sources.client is not None
    found, unclear = read(forms)
    if found is None:
        return None, unclear
    answer, absurd = worked(lambda: _outcome(found.log, unclear, day, sources if log else None), forms)
    outcome, problems = answer or (None, absurd)
    said = [problem for problem in unclear if not isinstance(problem.span, Cell)]
    lost = _unread(unclear) if log else ()
    name, mine = found.log.manifest.client, sources.client.client.name
    other = () if name == mine else (_other(name, mine, sure),)
    if other and not sure:
        outcome = None
    return outcome, tuple(dict.fromkeys((*said, *problems, *lost, *other)))


def _outcome(log: Log, unclear: Sequence[Problem], day: date | None, sources: Sources | None) -> Answer[DayOutcome]:
    outcome, problems = outcome_of(log, unclear, day)
    if outcome is None or sources is None or sources.block is None:
        return outcome, problems
    return replace(outcome, shown=_shown(log, outcome, sources)), problems


def _shown(log: Log, outcome: DayOutcome, sources: Sources) -> tuple[FromLog, ...]:
    """What a log shows besides the results of its test, which become tests and not records."""
    assert sources.client is not None
    unit, log = sources.client.unit, replace(log, manifest=knowing(log.manifest, sources))
    results = {(outcome.day_of(one), one.result.load.kg(unit), one.result.reps) for one in outcome.lifts if one.result}
    found = (
        replace(one, records=tuple(r for r in one.records if (r.on, r.load, r.reps) not in results))
        for one in from_log(sources, log)
    )
    return tuple(one for one in found if one.records or one.logged)


def _unread(unclear: Sequence[Problem]) -> tuple[Problem, ...]:
    """One remark for all cells of the log that are not clear."""
    cells = [one for one in unclear if isinstance(one.span, Cell) and not one.span.field.startswith("retest")]
    if not cells:
        return ()
    what = "1 cell of the log is" if len(cells) == 1 else f"{len(cells)} cells of the log are"
    fact = f"{what} not clear, and so no evidence of the max; the first: {cells[0].fact}"
    help_ = "To have them count, mend them in the PDF first: loadleaf read names each."
    return (Problem("log-unread", cells[0].span, fact, help_, Severity.WARNING),)


def _other(name: str, mine: str, sure: bool) -> Problem:
    severity = Severity.WARNING if sure else Severity.ERROR
    fact = f'the form is that of "{name}", and the profile that of "{mine}"'
    return Problem("form-other", None, fact, "If they are the same person, say --yes.", severity)


__all__ = ["outcome_in"]
