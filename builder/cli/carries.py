"""`loadleaf carries`: what travels inside a PDF."""

from __future__ import annotations

from pathlib import Path

import click

from builder.cli.outcome import got, say, show_json


@click.command(epilog="Example: loadleaf carries booklet.pdf --json")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print files and facts as JSON.")
def carries(file: Path, as_json: bool) -> None:
    """Tell what FILE, a PDF, carries besides its pages: each file, and each fact about a person."""
    from builder.values.formats import TOLD_FORMAT
    from builder.work.carries import carries as work

    found = got(work(file))
    if as_json:
        files = [{"name": name, "what": what} for name, what in found.files]
        facts = [{"kind": fact.kind, "text": fact.text} for fact in found.facts]
        show_json({"format": TOLD_FORMAT, "files": files, "facts": facts})
        return
    say(f"{file} carries {len(found.files) or 'no'} {'file' if len(found.files) == 1 else 'files'}.")
    for name, what in found.files:
        say(f"  {name}: {what}")
    say("Whoever has it can find in it:" if found.facts else "It holds no facts about a person besides its pages.")
    for fact in found.facts:
        say(f"  {fact.kind}: {fact.text}")
    say("Its pages print what they show: look through them too.")
