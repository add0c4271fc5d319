"""The booklet of a client and a block: planned, pressed and locked, with the entries of an earlier copy."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from builder.given import Resume
from builder.intake import Loaded
from builder.log import Answers
from builder.pages.model import Booklet
from builder.pdf import Pressed, locked
from builder.plan import Plan
from builder.review import Finding, Gravity, review
from builder.values.problem import Problem, stops
from builder.work.publish import Choices, publish
from builder.work.resume import resume


@dataclass(frozen=True, slots=True)
class Built:
    """The finished booklet, or the problems that stopped it; with it they are warnings.

    `left` names the entries of earlier copies that the new booklet has no place for; `cautions` are what the review
    says about safety.
    """

    problems: tuple[Problem, ...]
    booklet: Booklet | None = None
    pressed: Pressed | None = None
    left: tuple[str, ...] = ()
    plan: Plan | None = None
    cautions: tuple[Finding, ...] = ()

    @property
    def pdf(self) -> bytes:
        """The file; empty where it was stopped."""
        return self.pressed.pdf if self.pressed else b""


def build(
    loaded: Loaded,
    choices: Choices,
    *,
    stretch: Resume | None = None,
    answers: Answers | None = None,
    password: str = "",
    stage: Callable[[str], None] = lambda name: None,
) -> Built:
    """Makes the booklet of loaded files; nothing is written.

    `stretch` plans the rest of the block anew from its week on. The entries of `answers`, a log of the same block,
    move into the new copy. With a `password` only its holder may change the file; anybody can fill in the form.
    `stage` hears the name of each stage.
    """
    ready, entries, problems = resume(loaded, stretch, answers)
    if stops(problems) or ready.sources is None:
        return Built(problems)
    done = publish(ready, replace(choices, values=entries.spelled), stage)
    told = (*problems, *done.problems)
    if stops(told) or done.pressed is None or done.booklet is None:
        return Built(told)
    fields = {spec.name for spec in done.booklet.fields}
    left = entries.lost(fields)
    pdf = locked(done.pressed.pdf, password) if password else done.pressed.pdf
    found = review(done.plan, choices.on) if done.plan is not None else ()
    cautions = tuple(one for one in found if one.gravity is Gravity.CAUTION)
    return Built(told, done.booklet, replace(done.pressed, pdf=pdf), left, done.plan, cautions)


__all__ = ["Built", "build"]
