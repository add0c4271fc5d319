"""Exit codes, and problems as they are shown on the terminal."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Iterable, Sequence

import click

from builder.values.problem import Problem, Severity

FINE, PROBLEMS, WRONG_USAGE, OUR_FAULT = 0, 1, 2, 3


class Stopped(Exception):
    """Ends a command with an exit code after it has said why."""

    def __init__(self, code: int) -> None:
        super().__init__(code)
        self.code = code


def stop_at(problems: Sequence[Problem]) -> None:
    """Shows the problems and, when one of them is an error, ends the command: nothing has been written then."""
    show(problems)
    if errors := sum(p.severity is Severity.ERROR for p in problems):
        click.echo(f"{errors} {'problem' if errors == 1 else 'problems'}. Nothing was written.", err=True)
        raise Stopped(PROBLEMS)


def show(problems: Iterable[Problem]) -> None:
    """Each problem on the error stream, in colour on a terminal that wants it."""
    for problem in problems:
        first, *rest = problem.as_text().split("\n")
        tint = "red" if problem.severity is Severity.ERROR else "yellow"
        click.echo("\n".join([_tinted(first, tint), *rest]), err=True)


def show_json(value: object) -> None:
    """A value for a program, on the standard output."""
    plain = "utf" not in (getattr(sys.stdout, "encoding", None) or "").lower()
    click.echo(json.dumps(value, ensure_ascii=plain, indent=2))


def stage(verbose: bool, name: str) -> None:
    """Names a stage of the pipeline on the error stream when asked to."""
    if verbose:
        click.echo(f"· {name}", err=True)


def _tinted(line: str, tint: str) -> str:
    wanted = sys.stderr.isatty() and "NO_COLOR" not in os.environ
    return click.style(line, fg=tint, bold=True) if wanted else line
