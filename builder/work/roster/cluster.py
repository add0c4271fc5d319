"""The booklets of a roster made on many machines: sources travel to the workers of a Dask cluster, PDFs come back.

Workers get texts and bytes and no paths, since they see none of this machine's files. They must have the same
programs as it, or a booklet would depend on who made it.
"""

from __future__ import annotations

import hashlib
import platform
import warnings
import zlib
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from importlib.metadata import version
from pathlib import Path
from threading import Lock
from typing import Any, TypeAlias

import builder
from builder import places
from builder.door import passing_folder
from builder.values.problem import Problem
from builder.work.roster.due import Due
from builder.work.roster.orders import BrandFiles, Order, Texts
from builder.work.roster.press import Printed, printed_with

PATIENCE = 10
"""Seconds in which a scheduler must answer and have a worker."""
AHEAD = 2
"""Orders that are handed out for each thread of a worker, so that none waits, and few PDFs lie about."""
LIBRARIES = ("weasyprint", "pydyf", "fonttools", "pikepdf", "jinja2", "markdown-it-py", "segno")
EXTRA = "pip install 'loadleaf[cluster]'"
Programs: TypeAlias = tuple[tuple[str, str], ...]
_ONE_AT_A_TIME = Lock()
"""The press changes parts of the typesetter while it works, and a worker may have several threads."""


class ClusterError(Exception):
    """There is no cluster that can do the work, or none any more; `problems` says why."""

    def __init__(self, *problems: Problem) -> None:
        super().__init__(*problems)
        self.problems = problems


@dataclass(frozen=True, slots=True)
class Parcel:
    """What many orders share: sources, the password of their lock, and the files of a brand.

    Each of these has its name, where that really leads, and its bytes.
    """

    shared: Texts
    password: str
    files: tuple[tuple[str, str, bytes], ...]


@lru_cache(maxsize=1)
def installed() -> Programs:
    """What the bytes of a booklet come from besides its inputs: loadleaf's own files and the libraries below it."""
    from weasyprint.text.ffi import pango

    here = Path(builder.__file__).parent
    digest = hashlib.sha256()
    for root in (here, places.templates(), places.styles(), places.fonts()):
        for path in sorted(path for path in root.rglob("*") if path.is_file()):
            name = path.relative_to(root)
            # Templates and styles lie beside the package in a checkout and inside it, under this name, in a wheel:
            # counted once, so that both come to the same.
            if path.suffix != ".pyc" and name.parts[0] != "_share":
                digest.update(name.as_posix().encode() + hashlib.sha256(path.read_bytes()).digest())
    return (
        ("loadleaf", f"{builder.__version__} ({digest.hexdigest()[:12]})"),
        *((name, version(name)) for name in LIBRARIES),
        ("pango", str(pango.pango_version())),
        ("zlib", zlib.ZLIB_RUNTIME_VERSION),
    )


@contextmanager
def press(address: str, shared: Texts, password: str) -> Iterator[Callable[[Sequence[Due]], Iterator[Any]]]:
    """Who makes booklets on the cluster at `address`; ClusterError where it does not answer or is not of our kind."""
    with _connected(address) as client:
        _look(client, address)
        yield partial(_pressed, client=client, shared=shared, password=password, address=address)


@contextmanager
def _connected(address: str) -> Iterator[Any]:
    client_of = _client_of()
    with warnings.catch_warnings():
        # What Dask warns of, such as a large parcel or another patch of Python, is judged here by other means.
        warnings.simplefilter("ignore")
        try:
            client = client_of(address, timeout=PATIENCE)
        except Exception as error:  # each transport has errors of its own
            why = " ".join(str(error).split())[:200] or type(error).__name__
            fact, help_ = f"no scheduler answers at {address}: {why}", 'Write its address as in "tcp://10.0.0.5:8786".'
            raise ClusterError(Problem("scheduler", None, fact, help_)) from None
        with client:
            yield client


def _client_of() -> Any:
    """Dask's client, whose own log stays off the screen."""
    try:
        import dask.config

        dask.config.set({"logging": {"distributed": "critical", "distributed.client": "critical"}})
        from distributed import Client
    except ImportError:
        fact = "Dask distributed, which speaks to a cluster, is not installed"
        raise ClusterError(Problem("cluster-missing", None, fact, f"Install it: {EXTRA}.")) from None
    return Client


def _look(client: Any, address: str) -> None:
    """Whether there are workers, and all of them would make the same bytes as this machine."""
    try:
        client.wait_for_workers(1, timeout=PATIENCE)
    except TimeoutError:
        raise ClusterError(_no_worker(address)) from None
    # A worker that cannot even answer is told with the others, and does not end the question.
    answers = client.run(installed, on_error="return")
    others = [_other(worker, told) for worker, told in sorted(answers.items()) if told != installed()]
    if others:
        raise ClusterError(*others)


def _no_worker(address: str) -> Problem:
    fact = f"no worker is at the scheduler {address}"
    help_ = f'Start some, with loadleaf installed: "dask worker {address} --nthreads 1".'
    return Problem("no-worker", None, fact, help_)


def _other(worker: str, told: object) -> Problem:
    """A worker that has other programs than this machine, or none."""
    help_ = "Give every worker the same installation as this machine, best from one container image."
    if not isinstance(told, tuple):
        fact = f"the worker {worker} cannot run this loadleaf ({type(told).__name__}: {told})"
        return Problem("worker-version", None, fact, help_)
    theirs = dict(told)
    apart = (f"{name} {theirs.get(name)} instead of {mine}" for name, mine in installed() if theirs.get(name) != mine)
    return Problem("worker-version", None, f"the worker {worker} has {', '.join(apart)}", help_)


def _pressed(
    todo: Sequence[Due], *, client: Any, shared: Texts, password: str, address: str
) -> Iterator[tuple[Due, Printed]]:
    """Every order with what came of it. Dask gives the order of a lost worker to another one."""
    waiting, under_way = deque(todo), dict[Any, Due]()
    parcels = dict[BrandFiles, Any]()
    while waiting or under_way:
        with _heard(address):
            for _ in range(min(len(waiting), _room(client) - len(under_way))):
                one = waiting.popleft()
                parcel = parcels.get(one.order.brand) or client.submit(
                    _kept, Parcel(shared, password, tuple(_packed(one.order.brand))), pure=False
                )
                parcels[one.order.brand] = parcel
                under_way[client.submit(task, one.order, parcel, installed(), pure=False)] = one
            ended = {future: _ended(future) for future in _finished(client, list(under_way), address)}
        for future, (result, error) in ended.items():
            one = under_way.pop(future)
            yield one, result or _fault(one, error)
        # Dask keeps every result as long as somebody holds its future.
        del ended, future


@contextmanager
def _heard(address: str) -> Iterator[None]:
    """Tells where the scheduler is gone, which ends the run."""
    from asyncio import CancelledError as Cancelled
    from concurrent.futures import CancelledError

    try:
        yield
    except (OSError, Cancelled, CancelledError, RuntimeError) as error:
        fact = f"the scheduler at {address} was lost ({type(error).__name__})"
        help_ = "What was made stays. Start it, and run this again."
        raise ClusterError(Problem("scheduler", None, fact, help_)) from None


def _room(client: Any) -> int:
    return AHEAD * max(1, sum(map(int, client.nthreads().values())))


def _finished(client: Any, futures: Sequence[Any], address: str) -> list[Any]:
    """Those that have come to an end, at least one; ClusterError when no worker is left to end one."""
    from distributed import wait

    while True:
        try:
            return list(wait(futures, timeout=PATIENCE, return_when="FIRST_COMPLETED").done)
        except TimeoutError:
            # Long work is no fault; only a cluster without workers is.
            if not client.nthreads():
                raise ClusterError(_no_worker(address)) from None


def _ended(future: Any) -> tuple[Printed | None, BaseException | None]:
    error = future.exception()
    return (None, error) if error else (future.result(), None)


def _fault(one: Due, error: BaseException | None) -> Printed:
    """What stopped the worker; a fault of our own stops the run."""
    assert error is not None
    if type(error).__name__ == "KilledWorker":
        fact, help_ = "every worker that took it died, perhaps for want of memory", "Give the workers more memory."
        return Printed(None, 0, (), (Problem("worker-died", one.order.span, fact, help_),))
    if isinstance(error, ImportError):
        return Printed(None, 0, (), (_other("that took it", error),))
    raise error


def _packed(brand: BrandFiles) -> Iterator[tuple[str, str, bytes]]:
    for name in brand.names:
        real = (brand.folder / name).resolve()
        yield name, real.relative_to(brand.folder).as_posix(), real.read_bytes()


def _kept(parcel: Parcel) -> Parcel:
    """A parcel as a task of its own, so that it travels once to each worker and outlives any of them."""
    return parcel


def task(order: Order, parcel: Parcel, programs: Programs) -> Printed:
    """On a worker: the booklet of an order, if this is the same program as that of who ordered it."""
    # Asked again here: a worker may join after all were asked.
    if installed() != programs:
        fact = f"a worker that joined later has another installation ({platform.node()})"
        return Printed(None, 0, (), (Problem("worker-version", order.span, fact, "Take it out, and run again."),))
    with _ONE_AT_A_TIME, passing_folder("brand") as made:
        folder = made.resolve()
        _unpacked(parcel, folder)
        mine = replace(order, choices=replace(order.choices, brand_at=folder))
        return printed_with(mine, parcel.shared, parcel.password)


def _unpacked(parcel: Parcel, folder: Path) -> None:
    for name, real, data in parcel.files:
        place, link = folder / real, folder / name
        for path in (place, link):
            path.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(data)
        if not link.exists():
            link.symlink_to(place)


__all__ = ["ClusterError", "installed", "press", "task"]
