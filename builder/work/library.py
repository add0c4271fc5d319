"""What scripts may call, under plain names and with plain values; `import builder` offers it.

Nothing is printed, and nothing but `retest` writes a file. What is wrong with the input comes back as problems.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from builder import intake
from builder.given import Resume, Sources
from builder.intake import Loaded
from builder.log.manifest import Protection
from builder.log.results import DayOutcome
from builder.pages.model import Edition, Paper
from builder.pdf.fence import Answer
from builder.pdf.forms.luggage import Luggage
from builder.pdf.forms.strip import Stripped
from builder.pdf.sheets.impose import Folding, Imposed
from builder.plan import Plan
from builder.plan import make_plan as plan_of
from builder.review import Finding, review
from builder.values.problem import stops
from builder.work import build as building
from builder.work import carries as carrying
from builder.work import explain as explaining
from builder.work import impose as imposing
from builder.work import report as reporting
from builder.work import strip as stripping
from builder.work import unpack as unpacking
from builder.work.build import Built
from builder.work.carries import Carries
from builder.work.explain import Explained
from builder.work.publish import Choices, Published
from builder.work.read import Read, answers_of, forms_of, read
from builder.work.retest import Applied, Job, Typed, apply, understood_outcome
from builder.work.retest.form import outcome_in
from builder.work.succeed import succeeding, unlocked

File = str | Path


def load(*files: File | Sequence[File], need: Sequence[str] = ("client", "block")) -> Loaded:
    """Reads and checks source files, named one by one or as a list; a folder stands for the YAML files in it.

    `need` names the parts to be there.

    `sources` is None where a problem stops everything else.
    """
    each = [file for part in files for file in ([part] if isinstance(part, File) else part)]
    return intake.load(_paths(each), need=need)


def make_plan(loaded: Loaded) -> Plan:
    """Every set of every session, with the reasons for its load. ValueError where the files have problems."""
    return plan_of(_sound(loaded))


def review_plan(plan: Plan, on: date) -> tuple[Finding, ...]:
    """What there is to say about the design of a plan on a day; advice, each with its source."""
    return review(plan, on)


def explain(loaded: Loaded, language: str | None = None) -> Explained:
    """The plan told in words (`as_text`) and as JSON (`as_json`). ValueError where the files have problems."""
    return explaining.explain(_sound(loaded), language)


def build(
    loaded: Loaded,
    on: date,
    *,
    paper: str | None = None,
    theme: str | None = None,
    edition: str | None = None,
    language: str | None = None,
    fillable: bool = True,
    whole: bool | None = None,
    buyer: str = "",
    order: str = "",
    password: str = "",
    from_week: int | None = None,
    logs: Sequence[File] = (),
) -> Built:
    """The booklet as bytes (`pdf`), or the problems that stopped it. The options are those of `loadleaf build`.

    `on` is the day that counts as today. `from_week` plans the rest anew; the entries of `logs` move into the copy, and
    so does what they were protected with.
    """
    wanted = Protection(whole=whole is not False, buyer=buyer, order=order, locked=bool(password))
    made, wrong = _protected(logs, wanted)
    if made is None:
        return Built(wrong)
    choices = Choices(
        on, Paper(paper) if paper else None, theme, Edition(edition) if edition else None, fillable, language,
        whole=whole if made.whole else False, buyer=made.buyer, order=made.order, locked=made.locked,
    )  # fmt: skip
    answers, problems = answers_of(_paths(logs)) if logs else (None, ())
    if stops(problems):
        return Built(problems)
    stretch = None if from_week is None else Resume.model_construct(week=from_week, on=None, renew=None, share=None)
    return building.build(loaded, choices, stretch=stretch, answers=answers, password=password)


def read_log(*filled: File, originals: Sequence[File] = ()) -> Answer[Read]:
    """The log of filled copies of one booklet, and what is not clear in it; None where a copy cannot be read.

    `originals`, booklets as they were built, lend copies the meaning of their fields.
    """
    return read(_paths(filled), _paths(originals))


def retest(
    *files: File,
    on: date,
    results: Sequence[str] = (),
    forms: Sequence[File] = (),
    tested: date | None = None,
    output: File | None = None,
    sure: bool = False,
    replace: bool = False,
    password: str = "",
) -> Applied:
    """Adds a test day to the profile among `files` and makes the booklet that follows; both are written, or neither.

    The results are texts such as "back squat: 147.5 x 1", or those in the retest forms of filled booklets. `sure` takes
    them in spite of all doubts. The booklet keeps what copies with forms were protected with; `password` locks it.
    """
    outcome, problems = _outcome(files, results, forms, tested, on, sure)
    if outcome is None:
        return Applied(problems)
    made, wrong = _protected(forms, Protection(locked=bool(password)))
    if made is None:
        return Applied((*problems, *wrong))
    choices = Choices(on, whole=made.whole and None, buyer=made.buyer, order=made.order, locked=made.locked)
    return apply(outcome, Job(tuple(_paths(files)), choices, Path(output) if output else None, replace, sure, password))


def report(*filled: File, on: date, sources: Loaded | None = None) -> Published:
    """The report for the coach about the filled booklets of one lifter; `sources` may give its profile and a brand."""
    known = sources.sources if sources else None
    blocks, problems = reporting.blocks_of(_paths(filled), (), known)
    return Published(None, None, problems) if blocks is None else reporting.report(blocks, known, Choices(on))


def unpack(booklet: File) -> Answer[Luggage]:
    """The source files that a booklet carries, or why they cannot be had."""
    return unpacking.unpack(Path(booklet))


def impose(booklet: File, *, sheet: str | None = None, creep: float = 0.0, fold: bool = False) -> Answer[Imposed]:
    """A booklet as sheets to print on both sides, fold and staple; `creep` is in millimetres for each sheet."""
    return imposing.impose(Path(booklet), Folding(sheet, creep, fold))


def carries(file: File) -> Answer[Carries]:
    """What a PDF carries besides its pages: `files`, and `facts` about a person."""
    return carrying.carries(Path(file))


def strip(filled: File) -> Answer[Stripped]:
    """A filled booklet without what is personal, as `pdf`, to be passed on. Look through its pages all the same."""
    return stripping.strip(Path(filled))


def _protected(copies: Sequence[File], wanted: Protection) -> Answer[Protection]:
    """How a copy that follows others is protected, None where it may not be made so."""
    forms, problems = forms_of(_paths(copies))
    former = [form.protection for form in forms or ()]
    made = succeeding(former, wanted)
    problems = (*problems, *unlocked(former, made, "Give the password that locks the new one."))
    return None if stops(problems) else made, problems


def _paths(files: Sequence[File]) -> list[Path]:
    return [Path(file) for file in files]


def _sound(loaded: Loaded) -> Sources:
    sources = loaded.sources
    if sources is None:
        raise ValueError("\n".join(problem.as_text() for problem in loaded.problems))
    return sources


def _outcome(
    files: Sequence[File], results: Sequence[str], forms: Sequence[File], tested: date | None, on: date, sure: bool
) -> Answer[DayOutcome]:
    if not forms:
        return understood_outcome(Typed(results), tested or on)
    if results:
        raise ValueError("the forms have the results; leave out those that are typed")
    loaded = load(*files)
    if loaded.sources is None or loaded.sources.client is None:
        return None, loaded.problems
    return outcome_in(_paths(forms), loaded.sources, tested, sure=sure)
