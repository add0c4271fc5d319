"""A run over a roster: only what changed is made, on as many cores as wanted, and one failure stops nobody else."""

from __future__ import annotations

import hashlib
import sys
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from contextlib import AbstractContextManager, closing, contextmanager, nullcontext
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from multiprocessing import active_children, get_context
from pathlib import Path
from typing import TypeAlias

from builder.door import Spot, Writing, locked, put, said
from builder.values.problem import Problem
from builder.work.publish import output_spot
from builder.work.roster import cluster
from builder.work.roster.due import Due
from builder.work.roster.orders import Order, Texts
from builder.work.roster.press import Printed, printed, ready
from builder.work.roster.state import STATE, Journal, Made, State

TASKS_A_WORKER = 40
"""Then workers give their memory back and new ones take their place."""
BEGIN = "forkserver" if sys.platform == "linux" else "spawn"
"""How workers begin: Windows knows no fork, and a Mac's libraries may not outlive one."""


@dataclass(frozen=True, slots=True)
class Finished:
    """What came of one order: the booklet that lies in the folder, or the problems that stopped it."""

    order: Order
    made: Made | None
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class Run:
    """What is to be made, where, and with how many workers; no booklet is more open than the files in `like`.

    With the address of a `scheduler` the workers are those of a cluster.
    """

    wanted: tuple[Due, ...]
    shared: Texts
    password: str
    state: State
    folder: Path
    day: date
    jobs: int
    like: tuple[Path, ...]
    scheduler: str = ""


Press: TypeAlias = Callable[[Sequence[Due]], Iterator[tuple[Due, Printed]]]
"""Gives every order with what came of it, in the order of finishing."""


def make(run: Run, done: Callable[[Finished], None]) -> tuple[Finished, ...]:
    """Makes what is due; `done` hears of each booklet as soon as it lies in its place.

    A filled booklet is never overwritten. Whenever the run is stopped, the state of the folder is true. LockedError
    where another run works on the folder, ClusterError where there is no cluster that can do it, or none any more.
    """
    with _press(run) as press:
        run.folder.mkdir(parents=True, exist_ok=True)
        with locked([run.folder / STATE]), closing(_journal(run)) as journal:
            return tuple(_told(one, done) for one in _made(run, press, journal))


def _press(run: Run) -> AbstractContextManager[Press]:
    """Who makes the booklets: this machine, or a cluster, which must answer before anything is written."""
    if run.scheduler and run.wanted:
        return cluster.press(run.scheduler, run.shared, run.password)
    return nullcontext(partial(_pressed, shared=run.shared, password=run.password, jobs=run.jobs))


def _journal(run: Run) -> Journal:
    return Journal(run.folder, run.day, run.state.made.values(), run.like)


def _made(run: Run, press: Press, journal: Journal) -> Iterator[Finished]:
    spots: dict[str, tuple[Spot, tuple[Problem, ...]]] = {}
    for one in run.wanted:
        file, made = run.folder / one.order.file, one.order.choices.protection
        # Nobody typed this name, so a link under it is refused. What is seen here must still lie there when the booklet
        # is put in place: one may be filled in while the run goes on.
        place, told = output_spot(file, (), kind="booklet", replace=False, chosen=False, made=made)
        if place is None:
            yield Finished(one.order, None, told)
        else:
            spots[one.order.file] = place, tuple(_by_column(problem) for problem in told)
    todo = [one for one in run.wanted if one.order.file in spots]
    for one, result in press(todo):
        place, told = spots[one.order.file]
        yield _placed(one, replace(result, problems=(*told, *result.problems)), place, journal, run.like)


def _by_column(problem: Problem) -> Problem:
    """What keeps a copy protected here, where rows say what options say elsewhere."""
    help_ = "As it was: keep the sources back, fill in the columns of buyer and order, lock it."
    return replace(problem, help=help_) if problem.code == "copy-open" else problem


def _told(one: Finished, done: Callable[[Finished], None]) -> Finished:
    done(one)
    return one


def _placed(one: Due, result: Printed, place: Spot, journal: Journal, like: Sequence[Path]) -> Finished:
    if result.pdf is None:
        return Finished(one.order, None, result.problems)
    try:
        put([Writing(place, result.pdf, tuple(like))])
    except OSError as error:
        fact = f"{one.order.file} cannot be written: {said(error)}"
        return Finished(one.order, None, (Problem("output", None, fact, "Check the rights and the free space."),))
    made = Made(one.order.file, one.inputs, hashlib.sha256(result.pdf).hexdigest(), result.pages, result.remarks)
    # Behind the booklet: a run that is killed between the two makes one anew, where the other order would lose one.
    journal.add(made)
    return Finished(one.order, made, result.problems)


def _pressed(todo: Sequence[Due], shared: Texts, password: str, jobs: int) -> Iterator[tuple[Due, Printed]]:
    """Every order with what came of it, in the order of finishing.

    A worker that dies takes the pool with it, and nobody can say which order it had: those that were left are then
    made one by one, and the one that kills again is told.
    """
    left = list(todo)
    try:
        for one, result in _together(left, shared, password, min(jobs, len(left))):
            left.remove(one)
            yield one, result
    except BrokenProcessPool:
        for one in left:
            yield one, _alone(one, shared, password)


def _alone(one: Due, shared: Texts, password: str) -> Printed:
    try:
        ((_, result),) = _together([one], shared, password, 1)
    except BrokenProcessPool:
        fact, help_ = "its worker was ended from outside, perhaps for want of memory", "Try again with --jobs 1."
        return Printed(None, 0, (), (Problem("worker-died", one.order.span, fact, help_),))
    return result


def _together(todo: Sequence[Due], shared: Texts, password: str, jobs: int) -> Iterator[tuple[Due, Printed]]:
    """Workers begin anew for every stretch of orders: a pool that is to replace one after so many tasks, all given out
    at once, takes those that were done for a worker that is free, and waits for ever (seen on Python 3.11).
    """
    stretch = max(1, TASKS_A_WORKER * jobs)
    for few in [todo[start : start + stretch] for start in range(0, len(todo), stretch)]:
        with _workers(shared, password, jobs) as pool:
            futures: dict[Future[Printed], Due] = {pool.submit(printed, one.order): one for one in few}
            for future in as_completed(futures):
                yield futures[future], future.result()


@contextmanager
def _workers(shared: Texts, password: str, jobs: int) -> Iterator[ProcessPoolExecutor]:
    """Processes that share what was imported before they began; none outlives the run."""
    context = get_context(BEGIN)
    context.set_forkserver_preload(["builder.work.roster.press"])
    pool = ProcessPoolExecutor(jobs, mp_context=context, initializer=ready, initargs=(shared, password))
    try:
        yield pool
        pool.shutdown()
    except BaseException:
        pool.shutdown(wait=False, cancel_futures=True)
        for child in active_children():
            # One in the middle of a booklet would finish it first.
            child.terminate()
        raise
