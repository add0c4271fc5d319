"""`loadleaf start`: a folder with a client, blocks and a brand that builds at once."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

import click

from builder.cli.options import date_option
from builder.cli.outcome import say, tell
from builder.cli.target import folder_guard, write_folder


@click.command(epilog="Example: loadleaf start mine")
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--no-questions", is_flag=True, help="Ask nothing: an example to change, as on a pipe.")
@date_option
def start(folder: Path, no_questions: bool, on: date) -> None:
    """Make FOLDER with files to change: a client, blocks, a brand and a page of the coach's own.

    On a terminal ten questions make the client yours; Enter passes over one.
    """
    from builder.work import start as work
    from builder.work.schemas import for_editors

    real = folder_guard(folder)
    answers = {} if no_questions or not (sys.stdin.isatty() and sys.stdout.isatty()) else _asked()
    files = work.files(on, answers)
    write_folder(folder, real, [*files, *for_editors()])
    for name, _ in files:
        tell(folder / name)
    tell("The schemas beside them help an editor to complete and check what you type.")
    tell(f"Now change the files, and look them through with: loadleaf check {folder}")
    tell(f"Then build the booklet with: loadleaf build {folder}")


def _asked() -> dict[str, str]:
    """What is answered on the terminal, by question; a text that is not understood is asked for again."""
    from builder.log.typed import Unclear
    from builder.values.quantity import Unit
    from builder.work.start import QUESTIONS

    say("Ten questions. Enter passes over one: it is guessed on the safe side and marked in the file.")
    say("Pass over all of them for an example.")
    answers: dict[str, str] = {}
    last = QUESTIONS[-1].number
    for question in QUESTIONS:
        unit = Unit(answers.get("units", Unit.KG))
        while True:
            say(f"{question.number}/{last} {question.ask} Such as: {question.example}")
            text = click.prompt("", prompt_suffix="> ", default="", show_default=False).strip()
            try:
                if text:
                    answers[question.key] = question.read(text, unit)
                break
            except Unclear as unclear:
                say(f'"{text}" {unclear}. {unclear.help}')
    return answers
