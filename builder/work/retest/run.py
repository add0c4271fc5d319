"""One retest from end to end: judged, written into the profile, planned and pressed again, put in place together."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
from pathlib import Path

from builder.door import LockedError, Spot, Writing, locked, put, said, spot
from builder.given import Sources
from builder.intake import read, tree_of
from builder.log.results import DayOutcome
from builder.pdf import Pressed
from builder.pdf import locked as locked_pdf
from builder.plan import LiftChange, Plan, compare, earlier, make_plan
from builder.values.problem import Problem, Severity, stops
from builder.work.publish import Choices, output_spot, publish, suggested_name
from builder.work.publish.selling import settled
from builder.work.retest.append import Growth
from builder.work.retest.judge import judge
from builder.work.retest.prepare import Prepared, prepare

KEPT = ".before-retest"
"""What the name of the former profile ends in; one is kept."""
Stage = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Job:
    """What a retest works on. `output` None: a name from lifter, block and revision, in the present folder.

    `replace` overwrites a filled PDF; `sure` takes a result in spite of all doubts; the PDF is locked with `password`.
    `dry` tells what would be, and writes nothing.
    """

    files: tuple[Path, ...]
    choices: Choices
    output: Path | None = None
    replace: bool = False
    sure: bool = False
    password: str = ""
    dry: bool = False


@dataclass(frozen=True, slots=True)
class Applied:
    """What a retest did: problems, and the change and the files when all was written.

    With an error among the problems nothing was written, but for `profiles`: they are there where only the booklet
    could not be put in place. `language` is the brand's, None where it names none; `new` is what the profile gets.
    """

    problems: tuple[Problem, ...]
    now: Plan | None = None
    changes: tuple[LiftChange, ...] = ()
    profiles: tuple[Path, ...] = ()
    kept: tuple[Path, ...] = ()
    booklet: Path | None = None
    pressed: Pressed | None = None
    language: str | None = None
    new: tuple[Growth, ...] = ()

    @property
    def done(self) -> bool:
        """Whether everything was written."""
        return self.booklet is not None

    @property
    def tried(self) -> bool:
        """Whether everything would have been written, and was not, as asked."""
        return self.booklet is None and not stops(self.problems)


def apply(outcome: DayOutcome, job: Job, stage: Stage = lambda name: None) -> Applied:
    """Takes an outcome, wherever it comes from, into the profile, and makes the booklet that follows from it.

    Profile and booklet are replaced whole and only when both are ready. The profile comes first, since it holds what
    cannot be made again: should the run be cut off between the two, `build` makes the booklet. A second run on the
    same profile is turned away with a problem.
    """
    stage("sources")
    texts, problems = read(job.files)
    if problems:
        return Applied(problems)
    # Done once without the lock, to know which files it must hold.
    first = prepare(outcome, texts)
    if not first.changed:
        return Applied(first.problems)
    paths = [Path(name) for name, *_ in first.changed]
    with ExitStack() as held:
        try:
            if not job.dry:
                held.enter_context(locked(paths))
        except LockedError as error:
            return Applied((_locked(error),))
        except OSError as error:
            return Applied((_unwritable(paths[0], error),))
        spots, barred = _spots(paths, job)
        if barred:
            return Applied(barred)
        # Under the lock they are read anew: another run may have written meanwhile.
        again, problems = read(job.files)
        prepared = first if again == texts else prepare(outcome, again)
        if problems or [name for name, *_ in prepared.changed] != [str(path) for path in paths]:
            return Applied((*problems, *prepared.problems))
        return _rebuilt(outcome, job, prepared, spots, stage)


@dataclass(frozen=True, slots=True)
class _Spots:
    """Where each profile lies, and where it is kept as it was; with what was found out on the way."""

    profiles: tuple[Spot, ...]
    kept: tuple[Spot, ...]
    told: tuple[Problem, ...]


def _spots(paths: Sequence[Path], job: Job) -> tuple[_Spots, tuple[Problem, ...]]:
    """The places of the profiles, or what speaks against writing there."""
    profiles, kept, told = list[Spot](), list[Spot](), list[Problem]()
    for path in paths:
        profile, more = spot(path, chosen=path in job.files)
        told += more
        # Nobody typed this name, so a link that was planted under it is refused.
        former, more = spot(kept_path(path), chosen=False)
        told += more
        profiles += [profile] if profile else []
        kept += [former] if former else []
        told += [_no_former(former)] if former and former.taken and not _is_profile(former.real) else []
    return _Spots(tuple(profiles), tuple(kept), tuple(told)), tuple(told) if stops(told) else ()


def _is_profile(path: Path) -> bool:
    texts, problems = read([path])
    tree, wrong = tree_of(*texts[0]) if texts else (None, problems)
    return tree is not None and not wrong and any(tree.key(key) for key in ("client", "lifts"))


def _rebuilt(outcome: DayOutcome, job: Job, prepared: Prepared, spots: _Spots, stage: Stage) -> Applied:
    """The rest of a run, under the lock."""
    sources = prepared.loaded.sources
    assert sources is not None
    former = earlier(sources)
    assert former is not None
    before = make_plan(former)
    doubts = judge(outcome, before, sources.movements, job.choices.on)
    told = (*spots.told, *prepared.problems, *(_accepted(doubts) if job.sure else doubts))
    target = job.output or _suggested(sources)
    place, wrong = output_spot(
        target, _files(prepared), kind="booklet", replace=job.replace, chosen=job.output is not None,
        made=settled(job.choices, sources).protection,
    )  # fmt: skip
    told += wrong
    # All doubts and the place are told before the pages are made, which takes longest.
    if stops(told) or place is None:
        return Applied(told)
    now, language = make_plan(sources), sources.brand.language if sources.brand else None
    if job.dry:
        return Applied(told, now, compare(before, now), language=language, new=prepared.new)
    published = publish(prepared.loaded, job.choices, stage)
    told += published.problems
    if stops(told) or published.pressed is None:
        return Applied(told)
    pdf = published.pressed.pdf
    booklet = Writing(place, locked_pdf(pdf, job.password) if job.password else pdf, tuple(_files(prepared)))
    # Both are ready: from here on nothing is left that could fail but the disk.
    written = _written(prepared, spots, booklet)
    stage("files")
    try:
        put(written)
    except OSError as error:
        return Applied((*told, _unwritable(target, error)), profiles=_grown(prepared))
    changed = tuple(Path(name) for name, *_ in prepared.changed)
    kept = tuple(kept_path(path) for path in changed)
    return Applied(told, now, compare(before, now), changed, kept, target, published.pressed, language, prepared.new)


def kept_path(path: Path) -> Path:
    """Where the former profile is kept: beside the file itself, wherever a link to it may lie."""
    real = Path(os.path.realpath(path))
    return real.with_name(real.name + KEPT)


def _written(prepared: Prepared, spots: _Spots, booklet: Writing) -> tuple[Writing, ...]:
    """The former profiles, then the new ones, then the booklet: in this order they are put in place."""
    texts = [(Path(name), old, new) for name, old, new in prepared.changed]
    former = [Writing(at, old, (path,)) for at, (path, old, _) in zip(spots.kept, texts, strict=True)]
    new = [Writing(at, new) for at, (_, _, new) in zip(spots.profiles, texts, strict=True)]
    # A file that was named in two ways is written once.
    once = {writing.spot.real: writing for writing in (*former, *new)}
    return (*once.values(), booklet)


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


def _no_former(former: Spot) -> Problem:
    fact = f"{former.named} is no former profile, and that is where it would be kept"
    return Problem("output-other", None, fact, "Give that file another name, or take it away.")


def _locked(error: LockedError) -> Problem:
    fact = f"another retest works on {error.path}"
    return Problem("profile-locked", None, fact, "Wait until it has ended, then say this again.")


def _unwritable(path: Path, error: OSError) -> Problem:
    fact = f"{error.filename or path} cannot be written: {said(error)}"
    return Problem("output", None, fact, "Check the rights of the folder and the free space.")
