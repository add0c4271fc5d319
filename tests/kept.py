"""Values that take long to make, made once for all workers of a test run."""

from __future__ import annotations

import fcntl
import hashlib
import os
import pickle
from collections.abc import Callable, Hashable
from functools import lru_cache, wraps
from pathlib import Path
from typing import Any, TypeVar

T = TypeVar("T")


def once_a_run(make: Callable[..., T]) -> Callable[..., T]:
    """Like `lru_cache`, but shared by the workers: who asks second waits for the first and reads its pickle."""

    @lru_cache
    @wraps(make)
    def kept(*arguments: Hashable, **named: Hashable) -> T:
        told = repr((make.__module__, make.__qualname__, arguments, sorted(named.items())))
        path = Path(os.environ["LOADLEAF_TESTS_SHARED"], hashlib.sha256(told.encode()).hexdigest())
        with path.with_suffix(".lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            if not path.exists():
                value: Any = make(*arguments, **named)
                path.write_bytes(pickle.dumps(value))
                return value
        return pickle.loads(path.read_bytes())

    return kept
