"""Exit codes, and problems as they are shown on the terminal."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Sequence
from typing import TypeVar

import click

from builder.values.mouth import as_json, visible
from builder.values.problem import Problem, Severity

T = TypeVar("T")
FINE, PROBLEMS, WRONG_USAGE, OUR_FAULT = 0, 1, 2, 3


class Stopped(Exception):
    """Ends a command with an exit code after it has said why."""

    def __init__(self, code: int) -> None:
        super().__init__(code)
        self.code = code


def say(line: object, err: bool = False) -> None:
    """One line for the terminal; what strangers wrote into it can neither paint nor move, nor begin another line."""
    click.echo(visible(str(line)), err=err)


QUIET = "loadleaf.quiet"
"""The mark of a run that says nothing of what went well."""


def quiet() -> bool:
    """Whether this run was asked to say nothing of what goes well."""
    context = click.get_current_context(silent=True)
    return bool(context and context.meta.get(QUIET))


def tell(line: object, err: bool = False) -> None:
    """The same for what nobody misses who asked for quiet: what was made, and how to go on."""
    if not quiet():
        say(line, err)


def say_text(text: str, err: bool = False) -> None:
    """Several lines that end with one, made line by line before; other unseen signs are spelled out."""
    click.echo(visible(text, "\n"), err=err, nl=False)


def say_tinted(text: str, tint: str, err: bool = False) -> None:
    """Several lines, the first in colour where it goes to a terminal that wants it."""
    first, *rest = visible(text, "\n").split("\n")
    if (sys.stderr if err else sys.stdout).isatty() and "NO_COLOR" not in os.environ:
        first = click.style(first, fg=tint, bold=True)
    click.echo("\n".join([first, *rest]), err=err)


def stop_at(problems: Sequence[Problem]) -> None:
    """Shows the problems and, when one of them is an error, ends the command: nothing has been written then."""
    show(problems)
    if errors := sum(p.severity is Severity.ERROR for p in problems):
        say(f"{errors} {'problem' if errors == 1 else 'problems'}. Nothing was written.", err=True)
        raise Stopped(PROBLEMS)


def got(answer: tuple[T | None, Sequence[Problem]]) -> T:
    """The value of a use case, its problems shown; the command ends where they stopped it."""
    value, problems = answer
    stop_at(problems)
    assert value is not None, "what gives nothing says why"
    return value


def show(problems: Iterable[Problem]) -> None:
    """Each problem on the error stream, in colour on a terminal that wants it."""
    for problem in problems:
        say_tinted(problem.as_text(), "red" if problem.severity is Severity.ERROR else "yellow", err=True)


def show_json(value: object) -> None:
    """A value for a program, on the standard output."""
    # JSON has its own way to write what a terminal or a pipe cannot take.
    plain = "utf" not in (getattr(sys.stdout, "encoding", None) or "").lower()
    say_text(as_json(value, ascii_only=plain) + "\n")


def stage(verbose: bool, name: str) -> None:
    """Names a stage of the pipeline on the error stream when asked to."""
    if verbose:
        say(f"· {name}", err=True)
