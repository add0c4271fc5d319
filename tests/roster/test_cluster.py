"""A roster on many machines: a real scheduler and workers of Dask distributed, which share no folder with the coach."""

from __future__ import annotations

import os
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from cli.test_commands import SAMPLES, loadleaf
from roster.test_roster_command import ROWS, Shop

from builder.places import fonts
from builder.work.roster import cluster
from builder.work.roster.state import STATE, recall

pytestmark = pytest.mark.slow

BRAND = """format: 1
brand:
  name: Nine Herons Barbell Parlour
  logo: mark.svg
  heading_font:
    - {file: fonts/head.ttf, weight: 500}
    - {file: fonts/head.ttf, weight: 600}
    - {file: fonts/head.ttf, weight: 700}
"""
MORE = ("Bo Li;2027-01-02;50 x 5;A-4;",)
"""Buyers besides those of the shop."""


class Cluster:
    """A scheduler and its workers, which run in an empty folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.running: list[subprocess.Popen[bytes]] = []
        self.told = folder / "scheduler.json"
        self._start("dask_scheduler", "--port", "0", "--host", "127.0.0.1", "--no-dashboard", "--no-show")
        until = time.monotonic() + 60
        while not self.told.exists():
            assert time.monotonic() < until, (folder / "dask_scheduler.log").read_text()
            time.sleep(0.05)

    @property
    def address(self) -> str:
        """Where the scheduler listens."""
        return next(part for part in self.told.read_text().split('"') if part.startswith("tcp://"))

    def worker(self, **environment: str) -> subprocess.Popen[bytes]:
        """One more worker, with modules of its own where its environment says so."""
        options = ("--nthreads", "1", "--no-nanny", "--no-dashboard", "--host", "127.0.0.1")
        return self._start("dask_worker", *options, **environment)

    def _start(self, program: str, *options: str, **environment: str) -> subprocess.Popen[bytes]:
        command = [sys.executable, "-m", f"distributed.cli.{program}", "--scheduler-file", str(self.told), *options]
        alone = {**os.environ, "PYTHONPATH": str(Path(cluster.__file__).parents[3]), **environment}
        log = (self.folder / f"{program}.log").open("ab")
        run = subprocess.Popen(command, cwd=self.folder, env=alone, stdout=log, stderr=log)
        self.running.append(run)
        return run

    def close(self) -> None:
        """Ends all of them."""
        for run in reversed(self.running):
            run.kill()
            run.wait()


@pytest.fixture(scope="module")
def two_workers(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Cluster]:
    made = Cluster(tmp_path_factory.mktemp("cluster"))
    made.worker()
    made.worker()
    yield made
    made.close()


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    """Four buyers and a brand with a logo, a font and a page; the files are named from where the command runs."""
    made = Shop(tmp_path)
    made.write(*ROWS, *MORE)
    brand = tmp_path / "brand"
    (brand / "fonts").mkdir(parents=True)
    shutil.copy(SAMPLES / "brand" / "logo.svg", brand / "mark.svg")
    shutil.copy(fonts() / "barlow-condensed" / "medium.ttf", brand / "fonts" / "plain.ttf")
    (brand / "fonts" / "head.ttf").symlink_to("plain.ttf")
    (brand / "brand.yaml").write_text(BRAND)
    return made


def branded(shop: Shop, out: str, *more: str) -> list[str]:
    """The arguments with names that mean something in the shop's folder only."""
    there = ["roster", "roster.csv", "shared.yaml", "block.yaml", "brand", "-o", out]
    return [*there, "--edition", "log", "--paper", "A5", "--date", "2027-01-04", *more]


def test_a_cluster_makes_the_same_bytes_though_a_worker_is_lost(shop: Shop, two_workers: Cluster) -> None:
    """Two workers in another folder, of which one is killed after the first booklet; then the same on this machine."""
    command = [sys.executable, "-m", "builder", *branded(shop, "far", "--scheduler", two_workers.address)]
    run = subprocess.Popen(command, cwd=shop.folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    while run.poll() is None and not list(shop.folder.glob("far/*.pdf")):
        time.sleep(0.02)
    two_workers.running[-1].send_signal(signal.SIGKILL)
    told, _ = run.communicate(timeout=120)
    assert run.returncode == 0, told
    assert "far: 4 made, 0 unchanged" in told
    assert "distributed" not in told, "what the library logs is not for the coach"
    near = loadleaf(*branded(shop, "near", "--jobs", "2"), cwd=shop.folder)
    assert near.returncode == 0, near.stderr
    for path in sorted([*shop.folder.glob("near/*.pdf"), shop.folder / "near" / "delivery.csv"]):
        assert (shop.folder / "far" / path.name).read_bytes() == path.read_bytes(), path.name
    assert len(list(shop.folder.glob("near/*.pdf"))) == 4
    again = loadleaf(*branded(shop, "far", "--scheduler", "tcp://127.0.0.1:1"), cwd=shop.folder)
    assert "0 made, 4 unchanged" in again.stdout, "a scheduler is not asked for nothing"


def test_a_worker_with_another_loadleaf_is_named(shop: Shop, two_workers: Cluster, tmp_path: Path) -> None:
    """An older one, which knows nothing of clusters; nothing is made then."""
    (tmp_path / "old" / "builder").mkdir(parents=True)
    (tmp_path / "old" / "builder" / "__init__.py").write_text('__version__ = "0.1.0"\n')
    older = two_workers.worker(PYTHONPATH=str(tmp_path / "old"))
    from distributed import Client  # read late: it takes long, and each worker of the tests collects all of them

    with Client(two_workers.address, set_as_default=False) as client:
        client.wait_for_workers(len(client.nthreads()) + 1, timeout=60)
    done = loadleaf(*branded(shop, "far", "--scheduler", two_workers.address), cwd=shop.folder)
    older.kill()
    assert done.returncode == 1
    assert "[worker-version]" in done.stderr and "cannot run this loadleaf" in done.stderr
    assert not (shop.folder / "far").exists()


def test_a_lost_scheduler_ends_the_run_and_what_was_made_stays(shop: Shop, two_workers: Cluster) -> None:
    """The scheduler is killed as soon as the run has looked at its workers."""
    command = [sys.executable, "-m", "builder", *branded(shop, "far", "--scheduler", two_workers.address)]
    run = subprocess.Popen(command, cwd=shop.folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    while run.poll() is None and not (shop.folder / "far" / STATE).exists():
        time.sleep(0.02)
    two_workers.running[0].kill()
    told, _ = run.communicate(timeout=120)
    assert run.returncode == 1, told
    assert "was lost" in told and "[scheduler]" in told and "Traceback" not in told
    known = recall(shop.folder / "far").made
    assert set(known) == {path.name for path in shop.folder.glob("far/*.pdf")}
    assert len(known) < 4


def test_no_scheduler_and_no_worker_are_one_problem_each(
    shop: Shop, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A closed port, a name that is none, and a scheduler that stands alone."""
    monkeypatch.setattr(cluster, "PATIENCE", 1)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        closed = f"tcp://127.0.0.1:{free.getsockname()[1]}"
    for address in (closed, "nowhere", "http://127.0.0.1"):
        with pytest.raises(cluster.ClusterError) as told, cluster.press(address, (), ""):
            pass
        assert [problem.code for problem in told.value.problems] == ["scheduler"]
        assert address in told.value.problems[0].fact
    alone = Cluster(tmp_path)
    try:
        with pytest.raises(cluster.ClusterError) as told, cluster.press(alone.address, (), ""):
            pass
        assert [problem.code for problem in told.value.problems] == ["no-worker"]
    finally:
        alone.close()
