"""Filled booklets to their log; foreign files and the numbers in them are worked on behind the fence."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, TypeVar

from builder.log import Answers, Log, Progress, as_csv, as_json, as_yaml, merge, progress
from builder.log import read_log as log_of
from builder.log.filled import Form
from builder.log.manifest import Manifest
from builder.pdf import fence
from builder.pdf.fence import Answer, Beyond, Broken, fenced
from builder.pdf.forms.form import read_forms, read_manifest
from builder.values.problem import Problem, stops

T = TypeVar("T")
Paths = Sequence[Path]
Told = Literal["yaml", "json", "csv"]
HELP = "Take the booklet as it was built; this one was changed by someone."


@dataclass(frozen=True, slots=True)
class Read:
    """A log that was read; `filled` are the files that it comes from."""

    log: Log
    filled: tuple[Path, ...]

    def told(self, form: Told = "yaml") -> Answer[str]:
        """The log with what it adds up to, as YAML, JSON or CSV."""
        return worked(lambda: _TELLERS[form](self.log), self.filled)

    def progress(self) -> Answer[Progress]:
        """What the log adds up to: adherence, missed sets, estimated maxes, records and effort."""
        return worked(lambda: progress(self.log), self.filled)


_TELLERS: dict[Told, Callable[[Log], str]] = {
    "yaml": lambda log: as_yaml(log, progress(log)),
    "json": lambda log: as_json(log, progress(log)),
    "csv": as_csv,
}


def read(filled: Paths, originals: Paths = ()) -> Answer[Read]:
    """The one log of filled copies. What is not clear in it is a problem and counts for nothing; the rest is read.

    `originals`, booklets as they were built, lend copies the meaning of their fields and what was lifted before.
    """
    answers, problems = answers_of(filled, originals)
    if answers is None:
        return None, problems
    found, absurd = worked(lambda: log_of(answers), filled)
    if found is None:
        return None, (*problems, *absurd)
    log, unclear = found
    return Read(log, tuple(filled)), (*problems, *unclear)


def answers_of(filled: Paths, originals: Paths = ()) -> Answer[Answers]:
    """The texts of filled copies laid over each other, with a problem for each field in which they differ.

    Of a file that holds several booklets those count that an original was named for.
    """
    lent, strange = lent_by(originals)
    forms, problems = forms_of(filled, lent or ()) if lent is not None else (None, strange)
    if forms is None or lent is None:
        return None, problems
    named = [form for form in forms if form.manifest.digest in {manifest.digest for manifest in lent}]
    answers, torn = merge(named or forms)
    return answers, (*problems, *torn)


def forms_of(filled: Paths, lent: Sequence[Manifest] = ()) -> Answer[tuple[Form, ...]]:
    """Filled copies as forms; None where one of them cannot be read."""
    read = [fenced(lambda path: read_forms(path, lent), path) for path in filled]
    problems = tuple(problem for _, told in read for problem in told)
    # All or nothing: a copy that is left out would make what it has look as if it was never written.
    return None if stops(problems) else tuple(form for found, _ in read for form in found or ()), problems


def lent_by(originals: Paths) -> Answer[tuple[Manifest, ...]]:
    """What booklets say of themselves; None where one of them cannot be read."""
    read = [fenced(read_manifest, path) for path in originals]
    problems = tuple(problem for _, told in read for problem in told)
    return None if stops(problems) else tuple(manifest for manifest, _ in read if manifest), problems


def worked(work: Callable[[], T], filled: Paths) -> Answer[T]:
    """What `work` makes of the numbers in filled booklets: their description may have some that no program can bear."""
    try:
        return fence.within(work), ()
    except Beyond:
        why = "they take too much time or memory"
    except Broken as broken:
        why = str(broken)
    fact = f"the numbers in {', '.join(map(str, filled))} cannot be worked with ({why})"
    return None, (Problem("log-absurd", None, fact, HELP),)


__all__ = ["Read", "answers_of", "forms_of", "lent_by", "read", "worked"]
