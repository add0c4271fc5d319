"""Shared by all tests: this folder is importable, and property tests are the same from run to run."""

import gc
import os
import tempfile
from collections.abc import Generator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "loadleaf", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow], print_blob=True
)
settings.load_profile("loadleaf")

_SHARED = pytest.StashKey[tempfile.TemporaryDirectory[str]]()


@pytest.hookimpl(wrapper=True, optionalhook=True)
def pytest_xdist_auto_num_workers() -> Generator[None, int, int]:
    """With `-n auto` a worker more than cores: tests wait for commands, viewers and each other's booklets."""
    cores = yield
    return cores if "PYTEST_XDIST_AUTO_NUM_WORKERS" in os.environ else cores + 1


def pytest_configure(config: pytest.Config) -> None:
    """One folder for what the workers of a run make for each other; they inherit its name (see `kept.py`)."""
    if not hasattr(config, "workerinput"):
        config.stash[_SHARED] = tempfile.TemporaryDirectory(prefix="loadleaf-tests-")
        os.environ["LOADLEAF_TESTS_SHARED"] = config.stash[_SHARED].name
    # Equal pages are pressed once in a run, and nothing stays on the machine.
    os.environ |= {"LOADLEAF_CACHE": "all", "XDG_CACHE_HOME": str(Path(os.environ["LOADLEAF_TESTS_SHARED"], "cache"))}


def pytest_collection_finish() -> None:
    """All modules are read now and stay: the collector need not look through them again and again."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 20)


def pytest_unconfigure(config: pytest.Config) -> None:
    """The folder goes with the run."""
    if _SHARED in config.stash:
        config.stash[_SHARED].cleanup()
