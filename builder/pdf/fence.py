"""Foreign bytes are worked on in a child process with bounded time and memory, from which nothing but an answer comes.

What a library writes to the screen, raises or crashes with stays behind.

A thread would not do: it cannot be ended from outside, shares all memory, and a crash in it ends the command.
"""

from __future__ import annotations

import contextlib
import logging
import os
import pickle
import select
import signal
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any, NoReturn, TypeAlias, TypeVar, cast

from builder.values.problem import Problem

T = TypeVar("T")
Answer: TypeAlias = tuple[T | None, tuple[Problem, ...]]
MOST_SECONDS = 5
"""Of processor time; a booklet of 170 pages takes a tenth of it."""
MOST_WAIT = 60
"""Seconds on the clock, for a machine that is busy with other things."""
MOST_MEMORY = 400 * 1024 * 1024
"""Bytes, beyond those that the command itself has."""
MOST_WRITTEN = 64 * 1024 * 1024
"""Bytes of a file, where the work needs files of its own."""


class Beyond(Exception):
    """The work took more time or memory than it may."""


class Broken(Exception):
    """The work ended with an error that nobody foresaw; the message names its kind."""


def within(work: Callable[[], T], *, writes: bool = False) -> T:
    """What `work` gives, done in a child process, which can write no file unless `writes` is true.

    Raises Beyond or Broken, and nothing else.
    Where the system has no processes that can be limited so, the work is done here and its errors are told alike.
    """
    if not hasattr(os, "fork"):
        return cast(T, _opened(*_tried(work)))
    here, there = os.pipe()
    # By the system itself: a worker of a cluster is a daemon, to which the standard library gives no children.
    child = os.fork()
    if not child:
        os.close(here)
        _live(there, work, writes)
    os.close(there)
    try:
        # Heard to its end before the child is waited for: an answer larger than the pipe would keep it writing for
        # ever.
        told = _heard(here)
    except BaseException:
        # However the command is ended, the child does not outlive it.
        os.kill(child, signal.SIGKILL)
        raise
    finally:
        os.close(here)
        _, status = os.waitpid(child, 0)
    if not told:
        # Either may come, since the soft limit is the hard one; and a system that is short of memory kills too.
        greedy = os.WIFSIGNALED(status) and os.WTERMSIG(status) in (signal.SIGXCPU, signal.SIGKILL)
        raise Beyond if greedy else Broken("it crashed the library")
    return cast(T, _opened(*pickle.loads(told)))


def _heard(here: int) -> bytes:
    """All that the child says before it ends; nothing if it says only a part. Beyond when that takes too long."""
    parts, until = list[bytes](), time.monotonic() + MOST_WAIT
    while True:
        if not select.select([here], [], [], max(0.0, until - time.monotonic()))[0]:
            raise Beyond
        part = os.read(here, 1 << 20)
        if not part:
            break
        parts.append(part)
    told = b"".join(parts)
    size = int.from_bytes(told[:8], "big")
    return told[8:] if len(told) == size + 8 else b""


def fenced(read: Callable[[Path], Answer[T]], path: Path) -> Answer[T]:
    """What `read(path)` answers about a PDF; one problem when it takes too much, or ends in an unforeseen error."""
    try:
        value, problems = within(lambda: read(path))
        return value, tuple(_named(problem, path) for problem in problems)
    except Beyond:
        limit = f"{MOST_SECONDS} seconds or {MOST_MEMORY // 1024**2} MiB"
        help_ = "No booklet does. It may be damaged, or made to do harm."
        return None, (Problem("pdf-large", None, f"{path} takes more than {limit} to read", help_),)
    except Broken as broken:
        fact = f"{path} is damaged and cannot be read ({broken})"
        help_ = "Take the copy on the device where it was filled in."
        return None, (Problem("pdf-damaged", None, fact, help_),)


def _named(problem: Problem, path: Path) -> Problem:
    """The problem with the name of its file, which a reader deep in a file may not know."""
    if problem.span is not None or str(path) in problem.fact:
        return problem
    return replace(problem, fact=f"{path}: {problem.fact}")


def _opened(kind: str, value: Any) -> Any:
    if kind == "beyond":
        raise Beyond
    if kind == "broken":
        raise Broken(value)
    return value


def _tried(work: Callable[[], object]) -> tuple[str, object]:
    """The answer, or how the work failed."""
    try:
        return "answer", work()
    # Depth is a bound as memory is: a file may nest without end.
    except (MemoryError, RecursionError):
        return "beyond", None
    except Exception as error:  # each library has errors of its own
        return "broken", type(error).__name__


def _live(there: int, work: Callable[[], object], writes: bool) -> NoReturn:
    """The child's whole life. It ends here, so that nothing of the command is done twice."""
    try:
        _be_still()
        _be_small(MOST_WRITTEN if writes else 0)
        try:
            told = pickle.dumps(_tried(work))
        except MemoryError:
            told = pickle.dumps(("beyond", None))
        with os.fdopen(there, "wb") as pipe:
            pipe.write(len(told).to_bytes(8, "big"))
            pipe.write(told)
    finally:
        os._exit(0)


def _be_still() -> None:
    """Nothing that a library says reaches the screen, and nothing can be typed into it."""
    logging.disable(logging.CRITICAL)
    nowhere = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(nowhere, stream)


def _be_small(most_written: int) -> None:
    """Sets the limits that this system knows; no file grows beyond `most_written`, and none remembers a crash."""
    import resource

    limits = (
        # What the command has mapped already counts, so it is added.
        ("RLIMIT_AS", _size() + MOST_MEMORY),
        ("RLIMIT_CPU", MOST_SECONDS),
        ("RLIMIT_FSIZE", most_written),
        ("RLIMIT_CORE", 0),
    )
    for name, most in limits:
        with contextlib.suppress(AttributeError, ValueError, OSError):
            resource.setrlimit(getattr(resource, name), (most, most))


def _size() -> int:
    """The bytes of address space that this process has; where the system does not tell, a usual amount."""
    try:
        return int(Path("/proc/self/statm").read_text("ascii").split()[0]) * os.sysconf("SC_PAGE_SIZE")
    except (OSError, ValueError):
        return 1024 * 1024 * 1024
