"""One order to a finished PDF, in a process of its own or in this one; and what it is made from, as a digest."""

from __future__ import annotations

import hashlib
import os
import signal
from dataclasses import dataclass, replace
from functools import lru_cache
from importlib.metadata import version
from multiprocessing import parent_process
from threading import Thread

from builder import __version__
from builder.intake import understood
from builder.pdf import locked
from builder.review import Gravity, review
from builder.values.problem import Problem, Severity
from builder.work.publish import publish
from builder.work.roster.orders import Order, Texts


@dataclass(frozen=True, slots=True)
class Printed:
    """What came of one order: its bytes with their pages and remarks, or the problems that stopped it."""

    pdf: bytes | None
    pages: int
    remarks: tuple[str, ...]
    problems: tuple[Problem, ...]


@dataclass(slots=True)
class _Shared:
    texts: Texts = ()
    password: str = ""


_SHARED = _Shared()


def ready(texts: Texts, password: str) -> None:
    """A worker begins: it is told once what all its booklets share, and leaves quietly when the run is stopped."""
    # First of all, so that no worker is left behind by a run that is killed while they begin.
    Thread(target=_leave_with_the_run, daemon=True).start()
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    _SHARED.texts, _SHARED.password = texts, password


def _leave_with_the_run() -> None:
    """A run that is killed cannot end its workers, and none of them would ever hear of it."""
    if (run := parent_process()) is not None:
        run.join()
        os._exit(1)


def printed(order: Order) -> Printed:
    """The booklet of an order, whose shared sources `ready` has told."""
    return printed_with(order, _SHARED.texts, _SHARED.password)


def printed_with(order: Order, shared: Texts, password: str) -> Printed:
    """The booklet of an order, made here and now."""
    loaded = understood((*shared, *order.texts))
    if loaded.sources is None:
        return Printed(None, 0, (), loaded.problems)
    # Whole booklets are made side by side already.
    done = publish(loaded, replace(order.choices, jobs=1))
    if done.pressed is None or any(problem.severity is Severity.ERROR for problem in done.problems):
        return Printed(None, 0, (), done.problems)
    pdf = locked(done.pressed.pdf, password) if password else done.pressed.pdf
    assert done.plan is not None
    findings = review(done.plan, order.choices.on)
    remarks = dict.fromkeys(one.code for one in findings if one.gravity is Gravity.CAUTION)
    return Printed(pdf, done.pressed.pages, tuple(remarks), done.problems)


def inputs_of(order: Order, shared: Texts, password: str) -> str:
    """The digest of all that the bytes of a booklet come from, the day and the versions of the programs included."""
    digest = hashlib.sha256()
    # Only whether there is a password: a digest of it would lie in the folder, for anybody to try words against.
    for part in (_programs(), repr(order.choices), repr(bool(password)), order.brand.digest):
        digest.update(part.encode() + b"\0")
    for name, data in (*shared, *order.texts):
        digest.update(name.encode() + b"\0" + hashlib.sha256(data).digest())
    return digest.hexdigest()


@lru_cache(maxsize=1)
def _programs() -> str:
    return f"{__version__} {version('weasyprint')}"


__all__ = ["Printed", "inputs_of", "printed", "printed_with", "ready"]
