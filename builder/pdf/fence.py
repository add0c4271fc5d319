"""Strangers' PDFs are read in a process of their own, with bounded time and memory."""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Callable
from multiprocessing.connection import Connection
from pathlib import Path
from typing import TypeAlias, TypeVar

from builder.values.problem import Problem

T = TypeVar("T")
Answer: TypeAlias = tuple[T | None, tuple[Problem, ...]]
MOST_SECONDS = 20
MOST_MEMORY = 1024 * 1024 * 1024
"""Bytes; a booklet of 170 pages takes a tenth of it."""


def fenced(read: Callable[[Path], Answer[T]], path: Path) -> Answer[T]:
    """What `read(path)` gives; one problem when it takes more time or memory than any booklet.

    Where the system has no processes to be limited so, it is called as it is.
    """
    if not hasattr(os, "fork"):
        return read(path)
    fork = multiprocessing.get_context("fork")
    here, there = fork.Pipe(duplex=False)
    child = fork.Process(target=_limited, args=(there, read, path), daemon=True)
    child.start()
    there.close()
    try:
        if here.poll(MOST_SECONDS):
            answer: Answer[T] | None = here.recv()
            if answer is not None:
                return answer
    except EOFError:
        pass  # killed by the system for what it took
    finally:
        child.kill()
        child.join()
    fact = f"{path} takes more than {MOST_SECONDS} seconds or {MOST_MEMORY // 1024**2} MiB to read"
    return None, (Problem("pdf-large", None, fact, "No booklet does. It may be damaged, or made to do harm."),)


def _limited(there: Connection, read: Callable[[Path], object], path: Path) -> None:
    """In the child: the answer, or None when the memory did not suffice."""
    import resource

    resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS, MOST_SECONDS))
    try:
        answer = read(path)
    except (MemoryError, RecursionError):
        answer = None
    there.send(answer)
    there.close()
