"""One retest from end to end: judged, written into the profile, planned and pressed again, put in place together."""

from __future__ import annotations

import glob
import os
from collections.abc import Callable, Sequence
from contextlib import ExitStack, suppress
from dataclasses import dataclass, replace
from pathlib import Path

from builder.given import Sources
from builder.intake import read
from builder.log.results import Outcome
from builder.pdf import Pressed, Writing, write_together
from builder.pdf import locked as locked_pdf
from builder.plan import LiftChange, Plan, compare, earlier, make_plan
from builder.values.problem import Problem, Severity
from builder.work.publish import Choices, output_problems, publish, suggested_name
from builder.work.retest.judge import judge
from builder.work.retest.lock import LockedError, locked
from builder.work.retest.prepare import Prepared, prepare

KEPT = ".before-retest"
"""What the name of the former profile ends in; one is kept."""
Stage = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Job:
    """What a retest works on. `output` None: a name from lifter, block and revision, in the present folder.

    `replace` overwrites a filled PDF; `sure` takes a result in spite of all doubts; the PDF is locked with `password`.
    """

    files: tuple[Path, ...]
    choices: Choices
    output: Path | None = None
    replace: bool = False
    sure: bool = False
    password: str = ""


@dataclass(frozen=True, slots=True)
class Applied:
    """What a retest did: problems, and the change and the files when all was written.

    With an error among the problems nothing was written, but for `profiles`: they are there where only the booklet
    could not be put in place.     `language` is the brand's, None where it names none.
    """

    problems: tuple[Problem, ...]
    now: Plan | None = None
    changes: tuple[LiftChange, ...] = ()
    profiles: tuple[Path, ...] = ()
    kept: tuple[Path, ...] = ()
    booklet: Path | None = None
    pressed: Pressed | None = None
    language: str | None = None

    @property
    def done(self) -> bool:
        """Whether everything was written."""
        return self.booklet is not None


def apply(outcome: Outcome, job: Job, stage: Stage = lambda name: None) -> Applied:
    """Takes an outcome, wherever it comes from, into the profile, and makes the booklet that follows from it.

    Profile and booklet are replaced whole and only when both are ready. The profile comes first, since it holds what
    cannot be made again: should the run be cut off between the two, `build` makes the booklet. A second run on the
    same profile is turned away with a problem.
    """
    stage("sources")
    texts, problems = read(job.files)
    if problems:
        return Applied(problems)
    first = prepare(outcome, texts)
    if not first.changed:
        return Applied(first.problems)
    paths = [Path(name) for name, *_ in first.changed]
    with ExitStack() as held:
        try:
            held.enter_context(locked(paths))
        except LockedError as error:
            return Applied((_locked(error),))
        except OSError as error:
            return Applied((_unwritable(paths[0], error),))
        again, problems = read(job.files)
        prepared = first if again == texts else prepare(outcome, again)
        if problems or [name for name, *_ in prepared.changed] != [str(path) for path in paths]:
            return Applied((*problems, *prepared.problems))
        return _rebuilt(outcome, job, prepared, stage)


def _rebuilt(outcome: Outcome, job: Job, prepared: Prepared, stage: Stage) -> Applied:
    """The rest of a run, under the lock."""
    sources = prepared.loaded.sources
    assert sources is not None
    former = earlier(sources)
    assert former is not None
    before = make_plan(former)
    doubts = judge(outcome, before, sources.movements, job.choices.on)
    told = (*prepared.problems, *(_accepted(doubts) if job.sure else doubts))
    target = job.output or _suggested(sources)
    told += output_problems(target, _files(prepared), replace=job.replace)
    if _stops(told):
        return Applied(told)
    published = publish(prepared.loaded, job.choices, stage)
    told += published.problems
    if _stops(told) or published.pressed is None:
        return Applied(told)
    now, pdf = make_plan(sources), published.pressed.pdf
    written = _written(prepared, target, locked_pdf(pdf, job.password) if job.password else pdf)
    stage("files")
    try:
        _put(written, prepared)
    except OSError as error:
        return Applied((*told, _unwritable(written[-1].path, error)), profiles=_grown(prepared))
    changed = tuple(Path(name) for name, *_ in prepared.changed)
    kept = tuple(kept_path(path) for path in changed)
    language = sources.brand.language if sources.brand else None
    return Applied(told, now, compare(before, now), changed, kept, target, published.pressed, language)


def kept_path(path: Path) -> Path:
    """Where the former profile is kept: beside the file itself, wherever a link to it may lie."""
    real = Path(os.path.realpath(path))
    return real.with_name(real.name + KEPT)


def _written(prepared: Prepared, target: Path, pdf: bytes) -> tuple[Writing, ...]:
    """The former profiles, then the new ones, then the booklet: in this order they are put in place."""
    former = [Writing(kept_path(Path(name)), old, Path(name)) for name, old, _ in prepared.changed]
    new = [Writing(Path(name), data) for name, _, data in prepared.changed]
    return (*former, *new, Writing(target, pdf))


def _put(written: Sequence[Writing], prepared: Prepared) -> None:
    """Everything in place; what a killed run left half-written beside the profile is swept away first."""
    for name, *_ in prepared.changed:
        real = os.path.realpath(name)
        folder, file = os.path.split(real)
        for left in glob.glob(os.path.join(glob.escape(folder), f".{glob.escape(file)}.*.part")):
            with suppress(OSError):
                os.unlink(left)
    write_together(written)


def _grown(prepared: Prepared) -> tuple[Path, ...]:
    """The profiles that have their tests already, after a fault between two files."""
    return tuple(Path(name) for name, _, new in prepared.changed if Path(name).read_bytes() == new)


def _files(prepared: Prepared) -> list[Path]:
    return [Path(name) for name, _ in prepared.loaded.texts] + [kept_path(Path(name)) for name, *_ in prepared.changed]


def _suggested(sources: Sources) -> Path:
    assert sources.client is not None
    name = Path(suggested_name(sources))
    return name.with_stem(f"{name.stem}-revision-{sources.client.revision}")


def _accepted(doubts: Sequence[Problem]) -> tuple[Problem, ...]:
    """Doubts that no longer stop anything; remarks stay as they are."""
    return tuple(_taken(doubt) if doubt.severity is Severity.ERROR else doubt for doubt in doubts)


def _taken(doubt: Problem) -> Problem:
    return replace(doubt, severity=Severity.WARNING, help="Taken as it is, as you said.")


def _stops(problems: Sequence[Problem]) -> bool:
    return any(problem.severity is Severity.ERROR for problem in problems)


def _locked(error: LockedError) -> Problem:
    fact = f"another retest works on {error.path} ({error.holder})"
    return Problem("profile-locked", None, fact, "Wait until it has ended, then say this again.")


def _unwritable(path: Path, error: OSError) -> Problem:
    where = error.filename2 or error.filename or path
    fact = f"{where} cannot be written: {(error.strerror or 'unknown reason').lower()}"
    return Problem("output", None, fact, "Check the rights of the folder and the free space.")
