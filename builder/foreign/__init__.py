"""Whatever strangers' bytes hold is found out here: behind a fence, with bounded time and memory."""

from builder.foreign.fence import MOST_MEMORY, MOST_SECONDS, Beyond, Broken, fenced, within

__all__ = ["MOST_MEMORY", "MOST_SECONDS", "Beyond", "Broken", "fenced", "within"]
