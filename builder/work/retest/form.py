"""The result of a test day out of a booklet whose retest form was filled in."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from builder.given import Client
from builder.log import outcome_of
from builder.log.results import Outcome
from builder.pdf.fence import Answer
from builder.values.problem import Cell, Problem, Severity
from builder.work.read import read, worked


def outcome_in(forms: Sequence[Path], client: Client, day: date | None, *, sure: bool = False) -> Answer[Outcome]:
    """What the form says of a client's test day, None when it is blank, not clear, or another client's.

    `day` is taken where the form names none. With `sure` another name on the form is a warning.
    """
    found, unclear = read(forms)
    if found is None:
        return None, unclear
    answer, absurd = worked(lambda: outcome_of(found.log, unclear, day), forms)
    outcome, problems = answer or (None, absurd)
    said = [problem for problem in unclear if not isinstance(problem.span, Cell)]
    name, mine = found.log.manifest.client, client.client.name
    other = () if name == mine else (_other(name, mine, sure),)
    if other and not sure:
        outcome = None
    return outcome, tuple(dict.fromkeys((*said, *problems, *other)))


def _other(name: str, mine: str, sure: bool) -> Problem:
    severity = Severity.WARNING if sure else Severity.ERROR
    fact = f'the form is that of "{name}", and the profile that of "{mine}"'
    return Problem("form-other", None, fact, "If they are the same person, say --yes.", severity)


__all__ = ["outcome_in"]
