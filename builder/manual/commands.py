"""The options of a command: the sentence of its help, what it takes, and what else is said of it."""

from __future__ import annotations

import re

import click

from builder.cli import loadleaf
from builder.cli.options import LanguageParam, ThemeParam
from builder.manual.tables import MarkdownTable, by_word, nothing_left
from builder.places import themes
from builder.values.lists import LANGUAGES


def _commands() -> dict[str, click.Command]:
    """The whole, then each command by its name, whether it is loaded already or not."""
    context = click.Context(loadleaf)
    found = ((name, loadleaf.get_command(context, name)) for name in loadleaf.list_commands(context))
    return {"loadleaf": loadleaf} | {name: command for name, command in found if command}


COMMANDS = _commands()
SHARED = {"--help", "--verbose", "--quiet"}
"""What stands behind any command; it is told once, of the whole."""
_OPTION = re.compile(r"(?<![`\w-])(--[a-z][a-z-]+|-[a-z]\b)")


def options(name: str, command: click.Command, said: MarkdownTable) -> MarkdownTable:
    """Every option, those behind any command named with the whole; `said` has further sentences by option."""
    more = by_word(said)
    every = [param for param in _all_options(name, command) if name == "loadleaf" or not SHARED & set(param.opts)]
    nothing_left(more, (option for param in every for option in param.opts), f"the options of {name}")
    rows = []
    for param in every:
        extra = next((more[option][1] for option in param.opts if option in more), "")
        if not param.help:
            raise ValueError(f"{name} {param.opts[-1]} has no help")
        shown = ", ".join(f"`{option}`" for option in sorted(param.opts, key=len))
        sentences = (_OPTION.sub(r"`\1`", param.help), _choices(param), extra)
        rows.append((shown, " ".join(sentence for sentence in sentences if sentence)))
    return MarkdownTable(("option", "what it does"), tuple(rows))


def shared(_below: MarkdownTable) -> MarkdownTable:
    """The options of several commands: each with all that have it."""
    found: dict[str, list[str]] = {}
    for name, command in COMMANDS.items():
        for param in _all_options(name, command):
            if not SHARED & set(param.opts) and name != "loadleaf":
                found.setdefault(max(param.opts, key=len), []).append(name)
    rows = [(f"`{option}`", ", ".join(f"`{name}`" for name in names)) for option, names in sorted(found.items())]
    return MarkdownTable(("option", "commands"), tuple(row for row in rows if "," in row[1]))


def _all_options(name: str, command: click.Command) -> list[click.Option]:
    context = click.Context(command, info_name=name, help_option_names=["-h", "--help"])
    return [param for param in command.get_params(context) if isinstance(param, click.Option)]


def _choices(param: click.Option) -> str:
    named = {LanguageParam: LANGUAGES, ThemeParam: themes()}
    words = named.get(type(param.type)) or getattr(param.type, "choices", ())
    if not words:
        return ""
    *first, last = (f"`{word}`" for word in words)
    return f"One of {', '.join(first)} or {last}."
