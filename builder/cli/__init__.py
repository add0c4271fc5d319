"""The command `loadleaf`: arguments to calls, values to messages, outcomes to exit codes."""

from __future__ import annotations

import errno
import io
import os
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from importlib import import_module
from typing import Any

import click

from builder import __version__
from builder.cli.commands import COMMANDS
from builder.cli.outcome import FINE, OUR_FAULT, PROBLEMS, QUIET, Stopped, say, say_text
from builder.values.problem import did_you_mean


class _Commands(click.Group):
    """The commands, each loaded when it is asked for.

    A reader that wants no more of the output ends them well, where click would end with 1.
    """

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        cmd_name = _ALSO.get(cmd_name, cmd_name)
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = getattr(import_module(f"builder.cli.{cmd_name}"), cmd_name)
        if not any("--quiet" in param.opts for param in command.params):
            command.params += [_shared("-v", "--verbose", _TELL, _louder), _shared("-q", "--quiet", _HUSH, _quieter)]
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and args[0] not in (*COMMANDS, *_ALSO) and not args[0].startswith("-"):
            meant = did_you_mean(args[0], list(COMMANDS)) or f"Commands: {', '.join(COMMANDS)}."
            raise click.UsageError(f'there is no command "{args[0]}". {meant}', ctx)
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))

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


_ALSO = {"handbook": "manual"}
"""Other names that people type. The PDF of the reference is no "handbook" here, since an edition is called so."""
_TELL = "Name each stage while it runs, and show details of faults."
_HUSH = "Say nothing of what went well; problems are told."


def _louder(context: click.Context, _option: click.Parameter, wanted: bool) -> None:
    if wanted:
        context.obj = True


def _quieter(context: click.Context, _option: click.Parameter, wanted: bool) -> None:
    if wanted:
        context.meta[QUIET] = True


def _shared(
    short: str, long: str, help_: str, heard: Callable[[click.Context, click.Parameter, bool], None]
) -> click.Option:
    """An option that every command takes as well as the whole."""
    return click.Option([short, long], is_flag=True, expose_value=False, callback=heard, help=help_)


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="loadleaf")
@click.option("-v", "--verbose", is_flag=True, help=_TELL)
@click.option("-q", "--quiet", is_flag=True, help=_HUSH)
@click.pass_context
def loadleaf(context: click.Context, verbose: bool, quiet: bool) -> None:
    """Turn a client profile and block rules into every load of a program and a printable, fillable booklet.

    Files are YAML; a folder stands for the YAML files in it. Exit codes: 0 fine, 1 problems in the input,
    2 wrong usage, 3 our own fault. To begin: loadleaf start mine. To look up a word: loadleaf help deload.
    """
    context.obj = verbose
    context.meta[QUIET] = quiet


def main() -> None:
    """The entry point: nothing that goes wrong shows a traceback unless it is asked for."""
    _listen()
    try:
        loadleaf(standalone_mode=False)
    except Stopped as stopped:
        sys.exit(stopped.code)
    except (click.exceptions.Abort, KeyboardInterrupt):
        say("Stopped; nothing is left half-written.", err=True)
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
        import traceback

        say_text(traceback.format_exc(), err=True)
    name = type(error).__name__
    say(f"loadleaf {__version__} has a fault of its own ({name}: {error}). Nothing was written.", err=True)
    say('Run it again with "loadleaf --verbose …" and report what it prints.', err=True)
