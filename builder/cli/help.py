"""`loadleaf help`: the reference on the screen, by topic, command, key or code."""

from __future__ import annotations

from shutil import get_terminal_size

import click

from builder.cli.outcome import say_text

MOST_COLUMNS = 100


class Topic(click.ParamType[str]):
    """A word that the reference says something under."""

    name = "TOPIC"

    def convert(self, value: str, param: click.Parameter | None, context: click.Context | None) -> str:
        """The text under the word, or a usage error with words near it."""
        from builder.values.problem import did_you_mean
        from builder.work import topics

        text = topics.found(value)
        if not text:
            near = did_you_mean(value, topics.words())
            known = ", ".join(topics.topics())
            self.fail(f'nothing stands under "{value}". {near + " " if near else ""}Topics: {known}.', param, context)
        return text


@click.command(epilog="Example: loadleaf help deload")
@click.argument("topic", required=False, type=Topic())
def help(topic: str | None) -> None:
    """Print the part of the reference on TOPIC: a topic, a command, a key, a kind of progression, or a code.

    Without TOPIC, which topics there are. `loadleaf manual` makes a PDF of all of them.
    """
    from builder.work import topics
    from builder.work.plain import plain

    width = min(get_terminal_size().columns, MOST_COLUMNS)
    say_text(plain(topics.overview() if topic is None else topic, width))
