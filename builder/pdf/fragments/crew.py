"""Work divided among forked processes: each takes the next number when it is free, and none outlives the work."""

from __future__ import annotations

import os
import pickle
import select
import signal
import sys
import traceback
from collections.abc import Callable, Generator, Iterable, Iterator, Sequence
from typing import Any, NoReturn, TypeVar

T = TypeVar("T")
MOST_NUMBERS = 8192
"""As many as a pipe holds (64 KiB on Linux, 16 KiB at least elsewhere), four bytes each, with room."""
_WORD = 4


class WorkerDied(Exception):
    """A worker was ended from outside, twice over."""


def cores() -> int:
    """The processors that this process may use; one on a Mac, whose libraries may not outlive a fork."""
    if sys.platform == "darwin":
        return 1
    affinity = getattr(os, "sched_getaffinity", None)
    return len(affinity(0)) if affinity else os.cpu_count() or 1


def together(work: Callable[[int], T], count: int, jobs: int) -> Generator[tuple[int, T], None, None]:
    """The results of `work(0)`, `work(1)` … with their numbers, in the order of finishing.

    With one job, or where processes cannot be forked, all is done in this one. An error of `work` is raised here. What
    a worker had in hand when it was ended from outside is done by one more; WorkerDied when that one is ended too.
    """
    if min(jobs, count) < 2 or count > MOST_NUMBERS or not hasattr(os, "fork"):
        yield from ((number, work(number)) for number in range(count))
        return
    left = set(range(count))
    # One worker alone the second time: if memory was short, as many would end in the same way.
    for workers in (min(jobs, count), 1):
        for number, result in _crew(work, sorted(left), workers):
            left.discard(number)
            yield number, result
        if not left:
            return
    raise WorkerDied


def _crew(work: Callable[[int], T], numbers: Sequence[int], workers: int) -> Iterator[tuple[int, T]]:
    """What some workers make of the numbers, as far as they come."""
    queue, told = os.pipe()
    # All numbers lie in the pipe before there is anybody to read them; more than it holds would wait for ever.
    os.write(told, b"".join(number.to_bytes(_WORD, "big") for number in numbers))
    os.close(told)
    pipes: dict[int, int] = {}
    try:
        for _ in range(workers):
            here, there = os.pipe()
            if not (child := os.fork()):
                # A worker must not hold a reading end, not even its own: while there is one, it can write to a command
                # that was killed, and waits for ever once the pipe is full.
                _live(work, queue, there, (*pipes, here))
            # Held here too, the pipe would not end with its worker.
            os.close(there)
            pipes[here] = child
        os.close(queue)
        queue = -1
        yield from _heard(list(pipes))
    except BaseException:
        for child in pipes.values():
            os.kill(child, signal.SIGKILL)
        raise
    finally:
        for here, child in pipes.items():
            # First closed, then waited for: a worker that is still writing ends by that.
            os.close(here)
            os.waitpid(child, 0)
        if queue >= 0:
            os.close(queue)


def _heard(pipes: list[int]) -> Iterator[tuple[int, Any]]:
    """Every result that the workers tell whole, until the last has nothing more to say."""
    parts: dict[int, bytearray] = {pipe: bytearray() for pipe in pipes}
    while parts:
        # All ends at once: a worker whose pipe is full waits until it is heard.
        for pipe in select.select(list(parts), [], [])[0]:
            read = os.read(pipe, 1 << 20)
            if not read:
                del parts[pipe]
                continue
            said = parts[pipe]
            said += read
            while len(said) >= 8 and len(said) >= (end := 8 + int.from_bytes(said[:8], "big")):
                number, result, error = pickle.loads(bytes(said[8:end]))
                del said[:end]
                if error is not None:
                    raise error
                yield number, result


def _live(work: Callable[[int], object], queue: int, there: int, others: Iterable[int]) -> NoReturn:
    """A worker's whole life. It ends here, so that nothing of the command is done twice.

    Nobody but the command hears the workers: when it is killed, each ends with the first thing that it says.
    """
    try:
        # Ended at once: the command's own way to end would say something, and clean up what is not a worker's.
        signal.signal(signal.SIGINT, signal.SIG_DFL)
        signal.signal(signal.SIGTERM, signal.SIG_DFL)
        for pipe in others:
            os.close(pipe)
        # One pipe for all: who is free takes the next number, so a leaf that takes long holds up nobody else.
        while word := os.read(queue, _WORD):
            _say(there, _done(work, int.from_bytes(word, "big")))
    finally:
        os._exit(0)


def _done(work: Callable[[int], object], number: int) -> bytes:
    try:
        return pickle.dumps((number, work(number), None), pickle.HIGHEST_PROTOCOL)
    except Exception as error:  # whatever it was, it is told where the command can hear it
        # A traceback does not go through a pipe, a note does.
        error.add_note(traceback.format_exc())
        try:
            # Unpacked here to see whether it can be: the class of an error may ask for other arguments than it was
            # given to keep.
            pickle.loads(told := pickle.dumps((number, None, error)))
        except Exception:  # an error that cannot be sent
            return pickle.dumps((number, None, RuntimeError(f"{type(error).__name__}: {error}")))
        return told


def _say(there: int, told: bytes) -> None:
    left = memoryview(len(told).to_bytes(8, "big") + told)
    while left:
        left = left[os.write(there, left) :]
