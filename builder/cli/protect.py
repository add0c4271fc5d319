"""What a copy was protected with stays on its successor: rules kept back, buyer, order and lock."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from builder.cli.options import owner_password
from builder.cli.outcome import got, stop_at, tell

if TYPE_CHECKING:
    from builder.log.manifest import Protection


def protected(options: Mapping[str, Any], copies: Sequence[Path]) -> tuple[Protection, bool | None, str]:
    """How the new copy is protected, by the options and by the copies that it follows, with the password of its lock.

    In the middle whether rules and profile travel along, None where the brand decides. The command ends where a locked
    copy would get an open successor.
    """
    from builder.log.manifest import Protection
    from builder.work.read import forms_of
    from builder.work.succeed import succeeding, unlocked

    file = options["owner_password_file"]
    password = owner_password(file) if file else ""
    former = [] if options["unprotected"] else [form.protection for form in got(forms_of(copies))]
    if options["no_sources"] and options["with_sources"]:
        raise click.UsageError("Say --no-sources or --with-sources, not both.")
    wanted = Protection(
        whole=not options["no_sources"], buyer=options["buyer"], order=options["order"], locked=bool(password)
    )
    made = succeeding(former, wanted)
    stop_at([*unlocked(former, made, "Say --owner-password-file FILE, or --unprotected.")])
    if any(not one.whole or one.buyer or one.order for one in former):
        tell(f"Protected as the earlier copy was: {_told(made)}. Otherwise say --unprotected.", err=True)
    return made, False if not made.whole else options["with_sources"] or None, password


def _told(made: Protection) -> str:
    parts = [
        "" if made.whole else "no sources",
        f"buyer {made.buyer}" if made.buyer else "",
        f"order {made.order}" if made.order else "",
        "locked" if made.locked else "",
    ]
    return ", ".join(filter(None, parts))
