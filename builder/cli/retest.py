"""`loadleaf retest`: a test day goes into the profile, and the booklet is made again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from builder.cli.options import FILES, PLAIN_SPACES, DayParam, booklet_options, date_option, loaded
from builder.cli.outcome import PROBLEMS, WRONG_USAGE, Stopped, got, say, show, show_json, stop_at, tell
from builder.cli.progress import ProgressBar
from builder.cli.protect import protected
from builder.values.formats import TOLD_FORMAT

if TYPE_CHECKING:
    from builder.log.results import DayOutcome
    from builder.work.retest import Applied

SPOKEN = ("results", "made", "missed", "conditions", "notes", "bodyweight")


@click.command(epilog='Example: loadleaf retest client.yaml block.yaml --result "back squat: 130 x 3" --on 2027-04-03')
@FILES
@click.option("--result", "results", multiple=True, metavar="TEXT",
              help='The set that counts of a lift, "back squat: 147.5 x 1" or "… x 3 rir 1"; once for each lift.')
@click.option("--made", multiple=True, metavar="TEXT", help='An attempt that was good, "back squat: 140".')
@click.option("--missed", multiple=True, metavar="TEXT", help='An attempt that was not, "back squat: 152.5".')
@click.option("--condition", "conditions", multiple=True, metavar="TEXT",
              help='A condition that is not as in the last test, "back squat: belt no".')
@click.option("--note", "notes", multiple=True, metavar="TEXT", help='A note to a lift, "back squat: slow, but clean".')
@click.option("--bodyweight", metavar="LOAD", help="The bodyweight of the day.")
@click.option("--on", "tested", type=DayParam(), help="The day of the test (default: the day that counts as today).")
@click.option("--form", "forms", multiple=True, type=click.Path(path_type=Path),
              help="A booklet whose retest form was filled in; it takes the place of --result.")
@click.option("--no-log", is_flag=True, help="Take the results of the form alone, and none of its other pages.")
@click.option("--dry-run", is_flag=True, help="Say what would be added and what would change, and write nothing.")
@click.option("--yes", "sure", is_flag=True, help="Take the results in spite of all doubts.")
@click.option("--json", "as_json", is_flag=True, help="Print problems and what changed as JSON.")
@booklet_options
@date_option
@click.pass_obj
def retest(verbose: bool, /, files: tuple[Path, ...], tested: date | None, on: date, sure: bool, as_json: bool,
           language: str | None, **options: Any) -> None:
    """Add the results of a test day to the profile among FILES, and build the booklet that follows from them.

    Tests are added, of a form the records and hard sets of its log too, and nothing else in your file is touched; the
    file as it was is kept beside it. What changed is printed. What is not likely is named and needs --yes.
    """
    from builder.pages.model import Edition, Layout, Paper
    from builder.values.lists import Keep
    from builder.work.publish import Choices
    from builder.work.retest import Job, apply

    outcome = None
    if options["forms"]:
        outcome = _of_form(options["forms"], files, tested, sure=sure, log=not options["no_log"])
    if outcome is None:
        outcome = _outcome(options, tested or on, as_json)
    elif any(options[name] for name in SPOKEN):
        raise click.UsageError("--form has the results; leave out the options that say some.")
    paper = Paper(options["paper"]) if options["paper"] else None
    made, whole, password = protected(options, (*options["forms"], *options["former"]))
    edition = Edition(options["edition"]) if options["edition"] else None
    bar = ProgressBar("pages", verbose)
    choices = Choices(
        on, paper, options["theme"], edition, language=language, whole=whole,
        buyer=made.buyer, order=made.order, locked=made.locked,
        layout=Layout(options["layout"]) if options["layout"] else None,
        jobs=options["jobs"], keep=Keep(options["cache"]), told=bar.told,
    )  # fmt: skip
    job = Job(files, choices, options["output"], options["replace"], sure, password, options["dry_run"])
    with bar:
        done = apply(outcome, job, bar.stage)
    if as_json:
        _show_json(done)
        return
    if done.profiles and not done.done:
        show(done.problems)
        say("The tests are in the profile, and the booklet is not made. Make it with: loadleaf build", err=True)
        raise Stopped(PROBLEMS)
    stop_at(done.problems)
    _show(done, language)


def _of_form(forms: Sequence[Path], files: Sequence[Path], day: date | None, *, sure: bool, log: bool) -> DayOutcome:
    """What the retest form of a filled booklet says; the command ends when it is not clear, or somebody else's."""
    from builder.work.retest.form import outcome_in

    sources = loaded(files).sources
    assert sources is not None and sources.client is not None
    return got(outcome_in(forms, sources, day, sure=sure, log=log))


def _outcome(options: dict[str, Any], day: date, as_json: bool) -> DayOutcome:
    """What was typed; problems in it end the command as wrong usage."""
    from builder.work.retest import Typed, understood_outcome

    typed = Typed(**{name: options[name] for name in SPOKEN})
    if not (typed.results or typed.missed):
        raise click.UsageError('Say what was tested, such as --result "back squat: 147.5 x 1".')
    outcome, problems = understood_outcome(typed, day)
    if outcome is None:
        if as_json:
            show_json(_as_json(problems))
        else:
            show(problems)
        raise Stopped(WRONG_USAGE)
    return outcome


def _show(done: Applied, language: str | None) -> None:
    from builder.pages.explain import change_text
    from builder.work.texts import DEFAULT_LANGUAGE, load_words

    assert done.now is not None
    words = load_words(language or done.language or DEFAULT_LANGUAGE, done.now.unit)
    # Of a dry run it is what was asked for.
    told = say if done.pressed is None else tell
    for line in change_text(done.changes, done.now, words):
        told(line.translate(PLAIN_SPACES))
    for line in _added(done):
        told(line)
    for profile, kept in zip(done.profiles, done.kept, strict=True):
        tell(f"{profile}: the file as it was is {kept}")
    if done.pressed is None:
        say("Nothing was written.")
        return
    size = len(done.pressed.pdf) / 1024
    facts = f"{done.pressed.pages} pages, {done.pressed.field_count} fields, {size:.0f} KiB"
    tell(f"{done.booklet}: revision {done.now.client.revision}, {facts}")


def _added(done: Applied) -> Iterator[str]:
    """What came to each list of a lift: every line where nothing is written, else tests and records, and how many."""
    from builder.work.retest.written import flow

    for one in done.new:
        count = f"{len(one.entries)} more" if len(one.entries) > 1 else "1 more"
        yield f'{one.word}: {count} under "{one.key}:"'
        if done.tried or one.key != "logged":
            yield from (f"  - {flow(entry)}" for entry in one.entries)


def _show_json(done: Applied) -> None:
    from builder.pages.explain import change_json

    told = _as_json(done.problems)
    if done.now is None or not (done.done or done.tried):
        show_json(told)
        raise Stopped(PROBLEMS)
    files = {
        "profiles": [str(path) for path in done.profiles],
        "kept": [str(path) for path in done.kept],
        "booklet": str(done.booklet) if done.booklet else None,
    }
    added = [{"lift": one.word, "list": one.key, "entries": one.entries} for one in done.new]
    show_json(told | {"files": files, "added": added, "change": change_json(done.changes, done.now)})


def _as_json(problems: Sequence[Any]) -> dict[str, Any]:
    return {"format": TOLD_FORMAT, "problems": [problem.as_json() for problem in problems]}
