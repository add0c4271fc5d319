"""`loadleaf check`: every problem of the files, then the design review."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from shutil import get_terminal_size
from typing import TYPE_CHECKING

import click

from builder.cli.options import FILES, date_option
from builder.cli.outcome import PROBLEMS, Stopped, say, say_tinted, show_json, stop_at
from builder.values.formats import TOLD_FORMAT

if TYPE_CHECKING:
    from builder.review import Finding


@click.command(epilog="Example: loadleaf check client.yaml block.yaml --strict")
@FILES
@date_option
@click.option("--strict", is_flag=True, help="End with 1 when the review has a caution.")
@click.option("--all", "every", is_flag=True, help="Print all remarks, however many screens they fill.")
@click.option("--json", "as_json", is_flag=True, help="Print problems and findings as JSON.")
def check(files: tuple[Path, ...], on: date, strict: bool, every: bool, as_json: bool) -> None:
    """Find every problem in FILES, then review the design against the trade's norms.

    Remarks on the design come the gravest first: all cautions, and of the others one screen.

    Findings of the review do not change the exit code, unless --strict is given and one is a caution. Notes tell what
    the plan does for this client, and doubt nothing.
    """
    from builder.intake import load
    from builder.work import check

    done = check.check(load(files, need=()), on)
    if as_json:
        told = {"findings": done.findings, "notes": done.notes}
        shown_as = {key: [one.as_json() for one in ones] for key, ones in told.items()}
        show_json({"format": TOLD_FORMAT, "problems": [p.as_json() for p in done.problems], **shown_as})
        if not done.sound or (strict and done.cautions):
            raise Stopped(PROBLEMS)
        return
    stop_at(done.problems)
    shown = done.findings if every else _of_one_screen(done.findings)
    _show(shown)
    for note in done.notes:
        say_tinted(note.as_text(), _TINTS[note.gravity])
    if not done.reviewed:
        say("No problem found. For the design review, name a client and a block file together.")
    elif not done.findings:
        say("No problem found, and nothing to say about the design.")
    else:
        remarks = "1 remark" if len(done.findings) == 1 else f"{len(done.findings)} remarks"
        left = len(done.findings) - len(shown)
        say(f"No problem found; {remarks} on the design." + (f" {left} more with --all." if left else ""))
    if strict and done.cautions:
        raise Stopped(PROBLEMS)


def _of_one_screen(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The gravest remarks, as many as a screen shows with their sources; no caution is left out, and one is there."""
    columns, lines = get_terminal_size()
    least = max(1, sum(finding.gravity == "caution" for finding in findings))
    for count in range(len(findings), least, -1):
        if _height(findings[:count], columns) <= lines - _FRAME:
            return findings[:count]
    return findings[:least]


def _height(findings: tuple[Finding, ...], columns: int) -> int:
    """How many lines of a screen the remarks and their sources take."""
    from builder.review import told

    texts, sources = told(findings)
    printed = [line for text in texts for line in text.split("\n")] + [f"  {source}" for source in sources]
    return sum(max(1, -(-len(line) // columns)) for line in printed)


_FRAME = 6
"""Lines around them: the heading of the sources with a blank on each side, the last line, and the next prompt."""


def _show(findings: tuple[Finding, ...]) -> None:
    """The remarks, then the sources that they number, each once."""
    from builder.review import told

    texts, sources = told(findings)
    for finding, text in zip(findings, texts, strict=True):
        say_tinted(text, _TINTS[finding.gravity])
    if sources:
        say("")
        say("Sources")
        for source in sources:
            say(f"  {source}")
        say("")


_TINTS = {"caution": "red", "advice": "yellow", "note": "cyan"}
