"""`loadleaf check`: every problem of the files, then the design review."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from builder.cli.options import FILES, date_option
from builder.cli.outcome import PROBLEMS, Stopped, show_json, stop_at
from builder.values.formats import TOLD_FORMAT


@click.command()
@FILES
@date_option
@click.option("--json", "as_json", is_flag=True, help="Print problems and findings as JSON.")
def check(files: tuple[Path, ...], on: date, as_json: bool) -> None:
    """Find every problem in FILES, then review the design against the trade's norms.

    Findings of the review are advice: they do not change the exit code.
    """
    from builder.intake import load
    from builder.work import check

    done = check.check(load(files, need=()), on)
    if as_json:
        problems, findings = [p.as_json() for p in done.problems], [f.as_json() for f in done.findings]
        show_json({"format": TOLD_FORMAT, "problems": problems, "findings": findings})
        if not done.sound:
            raise Stopped(PROBLEMS)
        return
    stop_at(done.problems)
    for finding in done.findings:
        click.echo(finding.as_text())
    if not done.reviewed:
        click.echo("No problem found. For the design review, name a client and a block file together.")
    elif not done.findings:
        click.echo("No problem found, and nothing to say about the design.")
    else:
        click.echo(f"No problem found; {len(done.findings)} remarks on the design.")
