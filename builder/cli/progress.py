"""What is done of long work: a bar on a terminal that was not hushed, nothing elsewhere."""

from __future__ import annotations

import os
import sys
from contextlib import ExitStack
from types import TracebackType
from typing import Any, Self

import click

from builder.cli.outcome import quiet, say, stage


class ProgressBar:
    """A bar for a time, shown from the first word of what is done; with `verbose` stages are named besides.

    `label` says what is counted.
    """

    def __init__(self, label: str, verbose: bool = False) -> None:
        self.label, self.verbose = label, verbose
        self.shown = sys.stderr.isatty() and os.environ.get("TERM") != "dumb" and not quiet()
        self._bar: Any = None
        self._open = ExitStack()

    def stage(self, name: str) -> None:
        """A stage begins, and a bar that stood there is done with."""
        self._end()
        stage(self.verbose, name)

    def told(self, done: int, expected: int) -> None:
        """So much is done of what is expected, which may grow on the way."""
        if not self.shown:
            return
        if self._bar is None:
            bar = click.progressbar(length=expected, label=self.label, file=sys.stderr, show_pos=True)
            self._bar = self._open.enter_context(bar)
        self._bar.length = expected
        # A bar that was full once takes itself for done, and what is expected may grow.
        self._bar.finished = False
        self._bar.update(done - self._bar.pos)

    def aside(self) -> None:
        """What is said next stands on a line of its own, and the bar goes on below it."""
        if self._bar is not None:
            say("", err=True)

    def _end(self) -> None:
        self._open.close()
        self._bar = None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._end()
