"""`loadleaf roster`: a booklet for every buyer of a table."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from datetime import date
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from builder.cli.machines import native_libraries
from builder.cli.options import AnyCase, cache_option, date_option, language_option, owner_password, theme_option
from builder.cli.outcome import PROBLEMS, Stopped, say, show, stop_at, tell
from builder.cli.progress import ProgressBar
from builder.values.lists import EDITIONS, PAPERS
from builder.values.problem import Problem, Severity

if TYPE_CHECKING:
    from builder.work.roster import Due, Finished, Orders
    from builder.work.roster.state import State


def _pattern(_context: click.Context, _option: click.Parameter, value: str | None) -> str | None:
    """How files are named; a usage error tells what no file can be named by."""
    from builder.work.roster.orders import pattern_problems

    for problem in pattern_problems(value or ""):
        raise click.BadParameter(f"{problem.fact}. {problem.help}")
    return value


@click.command(epilog="Example: loadleaf roster buyers.csv block.yaml brand -o out --jobs 2")
@click.argument("roster", type=click.Path(path_type=Path))
@click.argument("files", nargs=-1, type=click.Path(path_type=Path))
@click.option("-o", "--output", type=click.Path(path_type=Path), required=True, help="The folder for the booklets.")
@click.option("--jobs", type=click.IntRange(1, 256), help="Booklets made at the same time (default: one a core).")
@click.option("--scheduler", metavar="ADDRESS",
              help="Make them on the cluster of this Dask scheduler, such as tcp://10.0.0.5:8786.")  # fmt: skip
@click.option("--skip-bad", is_flag=True, help="Make the good rows even if others have problems.")
@click.option("--dry-run", is_flag=True, help="Say what would be made, and make nothing.")
@click.option("--name", "pattern", callback=_pattern, help='How files are named (default: "{name}-{block}"); {order}, '
              "{buyer}, {starts} and {row} stand for what the row says.")  # fmt: skip
@click.option("--paper", type=AnyCase(PAPERS), help="Where a row says none.")
@language_option
@theme_option
@click.option("--edition", type=click.Choice(EDITIONS), help="Which pages, where a row says none.")
@click.option("--with-sources", is_flag=True, help="Let profile and rules travel in each booklet.")
@click.option("--owner-password-file", type=click.Path(path_type=Path),
              help="Lock every PDF with the password in this file; forms can still be filled.")  # fmt: skip
@cache_option
@date_option
@click.pass_context
def roster(
    context: click.Context,
    /,
    roster: Path,
    files: tuple[Path, ...],
    output: Path,
    jobs: int | None,
    scheduler: str | None,
    skip_bad: bool,
    dry_run: bool,
    pattern: str | None,
    owner_password_file: Path | None,
    on: date,
    **look: Any,
) -> None:
    """Make a booklet for every row of ROSTER, a CSV or YAML file; what a row leaves out comes from FILES.

    The folder remembers what its booklets were made from, so a second run makes only what has changed.
    """
    if jobs and scheduler:
        raise click.UsageError("Say --jobs or --scheduler, not both: a cluster has as many workers as it has.")
    password = owner_password(owner_password_file) if owner_password_file else ""
    state = _state(output)
    given = context.get_parameter_source("on") is click.core.ParameterSource.COMMANDLINE
    # The day is printed, so on another one every booklet would count as changed: a folder keeps its day until one is
    # given.
    day = state.day if state.day and not given and "SOURCE_DATE_EPOCH" not in os.environ else on
    shared, orders = _orders(roster, files, pattern, day, bool(password), **look)
    show(orders.problems)
    if orders.bad and not skip_bad:
        bad = f"{orders.bad} of {len(orders.good) + orders.bad} rows have problems"
        say(f"{bad}. Nothing was made; --skip-bad makes the others.", err=True)
        raise Stopped(PROBLEMS)
    from builder.work.roster import due

    wanted = due(orders.good, shared, password, state, output)
    for line in _left_over(state, orders):
        say(line, err=True)
    if dry_run:
        for one in wanted:
            say(f"{one.order.file}: {one.why}")
        return
    from builder.door import LockedError
    from builder.work.roster.cluster import ClusterError

    # Names and addresses of buyers are in it, so no booklet is open to more people than this file.
    like = (roster, *(Path(name) for name, _ in shared))
    try:
        built = _made(wanted, shared, password, state, output, day, jobs or os.cpu_count() or 1, like, scheduler or "")
        _deliver(output, orders, like)
    except ClusterError as error:
        stop_at(error.problems)
        raise
    except LockedError:
        stop_at([Problem("roster-running", None, f"another run works on {output}", "Wait until it has ended.")])
        raise
    except OSError as error:
        from builder.door import said

        fact = f"{error.filename or output} cannot be written: {said(error)}"
        stop_at([Problem("output", None, fact, "Check the folder's rights and the free space.")])
        raise
    failed = sum(one.made is None for one in built)
    tell(_summary(wanted, built, failed, orders, output))
    if orders.bad or failed:
        raise Stopped(PROBLEMS)


def _state(folder: Path) -> State:
    from builder.door import followed
    from builder.work.roster.state import STATE, recall

    show(followed(folder))
    if folder.exists() and not folder.is_dir():
        stop_at([Problem("output-folder", None, f"{folder} is no folder", "Name a folder after -o.")])
    try:
        return recall(folder)
    except (ValueError, OSError) as error:
        fact = f"{folder / STATE} does not tell what the folder was made from: {error}"
        stop_at([Problem("roster-state", None, fact, "Move it away to make all booklets anew, or name a new folder.")])
        raise


def _orders(
    roster: Path, files: Sequence[Path], pattern: str | None, day: date, locked: bool, **look: Any
) -> tuple[tuple[tuple[str, bytes], ...], Orders]:
    """The shared sources and every row; the command ends where the roster itself cannot be read."""
    from builder.intake import read
    from builder.pages.model import Edition, Paper
    from builder.values.lists import Keep
    from builder.work.publish import Choices
    from builder.work.roster import Wishes, orders_of
    from builder.work.roster.table import MOST_BYTES, table_of

    try:
        with roster.open("rb") as source:
            data = source.read(MOST_BYTES + 1)
    except OSError as error:
        fact = f"{roster} cannot be read: {(error.strerror or 'unknown reason').lower()}"
        stop_at([Problem("unreadable", None, fact, "Check the name and the rights of the file.")])
        raise
    shared, problems = read(files) if files else ((), ())
    table, wrong = table_of(str(roster), data)
    stop_at([*problems, *wrong])
    paper, edition = look["paper"], Edition(look["edition"]) if look["edition"] else None
    choices = Choices(
        day, Paper(paper) if paper else None, look["theme"], edition, True, look["language"],
        whole=look["with_sources"] or None, locked=locked, keep=Keep(look["cache"]),
    )  # fmt: skip
    return shared, orders_of(table, shared, roster.parent, Wishes(choices, pattern))


def _made(
    wanted: Sequence[Due],
    shared: tuple[tuple[str, bytes], ...],
    password: str,
    state: State,
    folder: Path,
    day: date,
    jobs: int,
    like: Sequence[Path],
    scheduler: str,
) -> tuple[Finished, ...]:
    from builder.work.roster import Run, make
    from builder.work.roster.due import KEPT

    todo = [one for one in wanted if one.why != KEPT]
    done, bar = count(1), ProgressBar("booklets")

    def told(one: Finished) -> None:
        """The bar moves on a terminal, and each booklet has a line elsewhere."""
        bar.told(next(done), len(todo))
        _line(one, bar)

    with native_libraries(), bar:
        if todo:
            bar.told(0, len(todo))
        return make(Run(tuple(todo), shared, password, state, folder, day, jobs, tuple(like), scheduler), told)


def _line(one: Finished, bar: ProgressBar) -> None:
    if one.made is None or one.problems:
        bar.aside()
    show(one.problems)
    if one.made is None:
        say(f"row {one.order.row}: {one.order.file} was not made", err=True)
    elif not bar.shown:
        tell(f"{one.order.file}: {one.made.pages} pages", err=True)


def _left_over(state: State, orders: Orders) -> Iterator[str]:
    """Booklets that an earlier run made and that no row asks for any more; they stay."""
    asked = {order.file for order in orders.good}
    # Nobody knows what the bad rows would have asked for.
    if not orders.bad:
        for file in state.made:
            if file not in asked:
                yield f"{file} is in the folder, but no row asks for it any more; it was left."


def _deliver(folder: Path, orders: Orders, like: Sequence[Path]) -> None:
    from builder.work.roster.delivery import DELIVERY, delivery, foreign
    from builder.work.roster.state import own_file, recall

    if foreign(folder / DELIVERY):
        fact = f"{folder / DELIVERY} is no list of ours, and was left"
        stop_at([Problem("output-other", None, fact, "Move it away, and run again.")])
    made = recall(folder).made
    rows = [(order, made[order.file]) for order in orders.good if order.file in made]
    # With a mark at the start, without which spreadsheets may take letters beyond ASCII for others.
    own_file(folder / DELIVERY, delivery(rows).encode("utf-8-sig"), like)


def _summary(wanted: Sequence[Due], built: Sequence[Finished], failed: int, orders: Orders, folder: Path) -> str:
    made = len(built) - failed
    parts = [f"{made} made", f"{len(wanted) - len(built)} unchanged"]
    parts += [f"{failed} not made"] if failed else []
    parts += [f"{orders.bad} rows with problems"] if orders.bad else []
    warned = sum(problem.severity is Severity.WARNING for problem in orders.problems)
    parts += [f"{warned} remarks"] if warned else []
    return f"{folder}: {', '.join(parts)}"
