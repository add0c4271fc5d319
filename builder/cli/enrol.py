"""`loadleaf enrol`: filled intake forms to profiles."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from builder.cli.options import date_option
from builder.cli.outcome import PROBLEMS, Stopped, say, show, tell
from builder.cli.target import folder_for, write
from builder.values.problem import Problem


@click.command(epilog="Example: loadleaf enrol form.pdf -o clients")
@click.argument("filled", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("-o", "--output", type=click.Path(path_type=Path), default=Path(),
              help="The folder for the profiles (default: the present one).")  # fmt: skip
@date_option
def enrol(filled: tuple[Path, ...], output: Path, on: date) -> None:
    """Make a profile of each of FILLED, intake forms that were filled in, for you to read and edit.

    A cell that is not clear is a problem with its page and field: nothing is guessed, and that profile is not written.
    A profile that is there is never overwritten.
    """
    failed = 0
    folder_for(output)
    for path in filled:
        failed += not _one(path, output, on)
    if failed:
        say(f"{failed} of {len(filled)} forms became no profile.", err=True)
        raise Stopped(PROBLEMS)


def _one(path: Path, folder: Path, on: date) -> bool:
    """Whether a form became a profile."""
    from builder.door import spot
    from builder.pdf.fence import fenced
    from builder.pdf.forms.intake import read_intake
    from builder.work.enrol import enrol
    from builder.work.texts import DEFAULT_LANGUAGE, languages, load_words

    answers, problems = fenced(read_intake, path)
    show(problems)
    if answers is None:
        return False
    facts = answers.facts
    words = load_words(facts.language if facts.language in languages() else DEFAULT_LANGUAGE, facts.unit)
    done = enrol(answers, on, words.movements)
    show(done.problems)
    if done.text is None:
        return False
    place, barred = spot(folder / done.file, chosen=False)
    if place is not None and place.taken and place.real.read_bytes() == done.text.encode():
        # Forms come back one by one, and all of the folder are named again.
        tell(f"{place.named}: made from {path} before")
        return True
    if place is not None and place.taken:
        fact = f"{folder / done.file} is there already, and was left"
        barred = (*barred, Problem("profile-there", None, fact, "Move it away, or name another folder after -o."))
    show(barred)
    if place is None or place.taken:
        return False
    write(place, done.text.encode(), [path])
    tell(f"{place.named}: made from {path}")
    return True
