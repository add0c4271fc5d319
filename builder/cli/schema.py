"""`loadleaf schema`: the JSON Schema of a kind of file or output, for editors and programs."""

from __future__ import annotations

import click

from builder.cli.outcome import show_json

KINDS = ("client", "block", "brand", "movements", "mixed", "plan", "log", "check", "delivery")


@click.command(epilog="Example: loadleaf schema block > schemas/block.json")
@click.argument("kind", type=click.Choice(KINDS))
def schema(kind: str) -> None:
    """Print the JSON Schema (draft 2020-12) of one KIND of file, so that an editor can complete and check it."""
    from builder.work.outputs import OUTPUTS, output_schema
    from builder.work.schemas import source_schema

    show_json(output_schema(kind) if kind in OUTPUTS else source_schema(kind))
