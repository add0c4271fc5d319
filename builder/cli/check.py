"""`loadleaf check`: every problem of the files, then the design review."""

from __future__ import annotations

from datetime import date
from pathlib import Path
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
@click.option("--json", "as_json", is_flag=True, help="Print problems and findings as JSON.")
def check(files: tuple[Path, ...], on: date, strict: bool, as_json: bool) -> None:
    """Find every problem in FILES, then review the design against the trade's norms.

    Findings of the review do not change the exit code, unless --strict is given and one is a caution.
    """
    from builder.intake import load
    from builder.work import check

    done = check.check(load(files, need=()), on)
    if as_json:
        problems, findings = [p.as_json() for p in done.problems], [f.as_json() for f in done.findings]
        show_json({"format": TOLD_FORMAT, "problems": problems, "findings": findings})
        if not done.sound or (strict and done.cautions):
            raise Stopped(PROBLEMS)
        return
    stop_at(done.problems)
    _show(done.findings)
    if not done.reviewed:
        say("No problem found. For the design review, name a client and a block file together.")
    elif not done.findings:
        say("No problem found, and nothing to say about the design.")
    else:
        remarks = "1 remark" if len(done.findings) == 1 else f"{len(done.findings)} remarks"
        say(f"No problem found; {remarks} on the design.")
    if strict and done.cautions:
        raise Stopped(PROBLEMS)


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
