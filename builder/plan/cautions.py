"""Which cautions hold for a client, as stable codes; the gates and the pages both read them."""

from __future__ import annotations

from datetime import date, timedelta

from builder.given import Client

RECENT = timedelta(weeks=6)
"""A limit that began within this time before the block is recent; common practice, no source."""


def cautions(client: Client, until: date) -> tuple[str, ...]:
    """The codes that hold at some time from the start of the block to its last day, `until`."""
    starts = client.training.starts
    # Each at the end of the block where it is true if it is true at all: who is a minor at some time is one on the
    # first day, and who is over 65 at some time is so on the last.
    flags = {
        "minor": client.unsupervised(starts),
        "supervised-minor": client.minor(starts) and not client.unsupervised(starts),
        "older": client.older(until),
        "no-safeties": not client.gym.safeties,
        "no-spotter": client.gym.spotter == "never",
        "clinician": client.waits_for_clinician,
        "unscreened": client.screening is None,
        "recent-limit": any(limit.since is not None and limit.since > starts - RECENT for limit in client.limits),
    }
    return tuple(code for code, holds in flags.items() if holds)


NO_MAX_TEST = ("minor", "clinician")
"""The cautions that forbid attempts at a max."""
