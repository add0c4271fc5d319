"""`loadleaf check`: every problem of the files, then the design review."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from builder.cli.options import FILES, date_option
from builder.cli.outcome import PROBLEMS, Stopped, show_json, stop_at
from builder.values.problem import Severity


@click.command()
@FILES
@date_option
@click.option("--json", "as_json", is_flag=True, help="Print problems and findings as JSON.")
def check(files: tuple[Path, ...], on: date, as_json: bool) -> None:
    """Find every problem in FILES, then review the design against the trade's norms.

    Findings of the review are advice: they do not change the exit code.
    """
    from builder.intake import load
    from builder.plan import make_plan
    from builder.review import review

    result = load(files, need=())
    errors = any(p.severity is Severity.ERROR for p in result.problems)
    whole = result.sources is not None and result.sources.client is not None and result.sources.block is not None
    findings = review(make_plan(result.sources), on) if whole and result.sources is not None else ()
    if as_json:
        problems = [p.as_json() for p in result.problems]
        show_json({"format": 1, "problems": problems, "findings": [f.as_json() for f in findings]})
        if errors:
            raise Stopped(PROBLEMS)
        return
    stop_at(result.problems)
    for finding in findings:
        click.echo(finding.as_text())
    if not whole:
        click.echo("No problem found. For the design review, name a client and a block file together.")
    elif not findings:
        click.echo("No problem found, and nothing to say about the design.")
    else:
        click.echo(f"No problem found; {len(findings)} remarks on the design.")
