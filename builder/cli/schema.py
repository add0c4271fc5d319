"""`loadleaf schema`: the JSON Schema of a kind of file, for editors."""

from __future__ import annotations

import click

from builder.cli.outcome import show_json

KINDS = ("client", "block", "brand", "movements")


@click.command()
@click.argument("kind", type=click.Choice(KINDS))
def schema(kind: str) -> None:
    """Print the JSON Schema (draft 2020-12) of one KIND of file, so that an editor can complete and check it."""
    from builder import intake

    made = intake.KINDS[kind].model_json_schema()
    show_json({"$schema": "https://json-schema.org/draft/2020-12/schema", **made})
