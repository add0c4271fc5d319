"""The command `loadleaf`: arguments to calls, values to messages, outcomes to exit codes."""

from __future__ import annotations

import errno
import io
import os
import signal
import sys
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import click

from builder import __version__
from builder.cli.build import build
from builder.cli.carries import carries
from builder.cli.check import check
from builder.cli.doctor import doctor
from builder.cli.enrol import enrol
from builder.cli.explain import explain
from builder.cli.help import help
from builder.cli.impose import impose
from builder.cli.intake import intake
from builder.cli.manual import manual
from builder.cli.outcome import FINE, OUR_FAULT, PROBLEMS, Stopped, say, say_text
from builder.cli.read import read
from builder.cli.report import report
from builder.cli.retest import retest
from builder.cli.roster import roster
from builder.cli.schema import schema
from builder.cli.start import start
from builder.cli.strip import strip
from builder.cli.unpack import unpack


class _Commands(click.Group):
    """The commands; a reader that wants no more of the output ends them well, where click would end with 1."""

    def make_context(self, *arguments: Any, **more: Any) -> click.Context:
        with _while_read():
            return super().make_context(*arguments, **more)

    def invoke(self, ctx: click.Context) -> Any:
        with _while_read():
            return super().invoke(ctx)


@contextmanager
def _while_read() -> Iterator[None]:
    try:
        yield
    except BrokenPipeError:
        # What is still unwritten goes nowhere, or Python would complain of it at the end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        raise Stopped(FINE) from None


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="loadleaf")
@click.option("-v", "--verbose", is_flag=True, help="Name each stage while it runs, and show details of faults.")
@click.pass_context
def loadleaf(context: click.Context, verbose: bool) -> None:
    """Turn a client profile and block rules into every load of a program and a printable, fillable booklet.

    Files are YAML; a folder stands for the YAML files in it. Exit codes: 0 fine, 1 problems in the input,
    2 wrong usage, 3 our own fault.
    """
    context.obj = verbose


_COMMANDS = (
    start, check, build, explain, read, report, retest, intake, enrol, roster, unpack, carries, strip, impose, schema,
    help, manual, doctor,
)  # fmt: skip
for _command in _COMMANDS:
    loadleaf.add_command(_command)


def main() -> None:
    """The entry point: nothing that goes wrong shows a traceback unless it is asked for."""
    _listen()
    try:
        loadleaf(standalone_mode=False)
    except Stopped as stopped:
        sys.exit(stopped.code)
    except (click.exceptions.Abort, KeyboardInterrupt):
        say("Stopped; nothing was written.", err=True)
        sys.exit(1)
    except click.ClickException as error:
        shown = io.StringIO()
        error.show(shown)
        say_text(shown.getvalue(), err=True)
        sys.exit(error.exit_code)
    except click.exceptions.Exit as leaving:
        sys.exit(leaving.exit_code)
    except Exception as error:
        if isinstance(error, OSError) and error.errno in _NO_ROOM:
            say(f"The output cannot be written: {os.strerror(error.errno).lower()}.", err=True)
            sys.exit(PROBLEMS)
        _own_fault(error)
        sys.exit(OUR_FAULT)


def _listen() -> None:
    """A wish to end is heard as Ctrl-C is; signs that a terminal lacks are spelled out."""
    for name in ("SIGTERM", "SIGHUP"):
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), signal.default_int_handler)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


_NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)


def _own_fault(error: Exception) -> None:
    if "-v" in sys.argv or "--verbose" in sys.argv:
        say_text(traceback.format_exc(), err=True)
    name = type(error).__name__
    say(f"loadleaf {__version__} has a fault of its own ({name}: {error}). Nothing was written.", err=True)
    say('Run it again with "loadleaf --verbose …" and report what it prints.', err=True)
