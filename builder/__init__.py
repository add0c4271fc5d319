"""Loadleaf: client profile and block rules in, every load and a printable booklet out.

For scripts: `load`, `make_plan`, `review_plan`, `explain`, `build`, `read_log`, `retest`, `report`, `unpack`, `impose`,
`carries`, `strip`.
They are loaded when they are first asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from builder.work.library import (
        build,
        carries,
        explain,
        impose,
        load,
        make_plan,
        read_log,
        report,
        retest,
        review_plan,
        strip,
        unpack,
    )

__version__ = "0.3.0"
__all__ = [
    "__version__",
    "build",
    "carries",
    "explain",
    "impose",
    "load",
    "make_plan",
    "read_log",
    "report",
    "retest",
    "review_plan",
    "strip",
    "unpack",
]


def __getattr__(name: str) -> Any:
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from builder.work import library

    return getattr(library, name)


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
