"""An intake form is filled in, and becomes the profile that the answers say; what is not clear is told, not guessed."""

from __future__ import annotations

import tempfile
from datetime import date
from pathlib import Path

import pikepdf
import pytest
import yaml
from cli.test_commands import loadleaf
from kept import once_a_run

from builder.intake import load
from builder.pages.intake import PLATES
from builder.pages.model import Paper
from builder.pdf.forms.intake import read_intake
from builder.values.quantity import Unit
from builder.work.enrol import Enrolled, enrol
from builder.work.intake import intake_form
from builder.work.publish import Choices
from builder.work.texts import load_words

BRAND = Path(__file__).parents[2] / "samples" / "brand"
TODAY = date(2027, 1, 4)
ADA: dict[str, str | bool] = {
    "intake-name": "Ada Quill", "intake-bodyweight": "71,4", "intake-born": "1991", "intake-female": True,
    "intake-mon": True, "intake-thu": True, "intake-minutes": "75 min", "intake-starts": "2027-01-11",
    "intake-months": "2,5 years", "intake-weekwise": True,
    "intake-lift-r1-load": "120", "intake-lift-r1-reps": "3", "intake-lift-r1-rir": "1",
    "intake-lift-r1-date": "19.12.", "intake-lift-r1-low": True, "intake-lift-r1-belt": True,
    "intake-lift-r5-name": "RDL", "intake-lift-r5-load": "100kg", "intake-lift-r5-reps": "8",
    "intake-lift-r5-rir": "@8",
    "intake-lift-r5-date": "2026-12-20",
    "intake-bar-r1-name": "power bar", "intake-bar-r1-weight": "20", "intake-collars": "2,5",
    "intake-plate-r1-pairs": "2", "intake-plate-r2-pairs": "2 x", "intake-plate-r6-pairs": "1",
    "intake-bell-r1-from": "5", "intake-bell-r1-to": "40", "intake-bell-r1-step": "2,5",
    "intake-stack-r1-name": "cable", "intake-stack-r1-from": "5", "intake-stack-r1-to": "80",
    "intake-stack-r1-step": "5",
    "intake-pins-r1-first": "32,5", "intake-pins-r1-spacing": "5 cm", "intake-pins-r1-holes": "24",
    "intake-safeties": True, "intake-sometimes": True,
    "intake-limit-r1-area": "left shoulder", "intake-limit-r1-avoid": "overhead press",
    "intake-limit-r1-since": "1.11.26",
    "screening-q1-yes": True, "screening-q2-yes": True, "screening-q3-yes": True, "screening-q4-no": True,
    "screening-q5-no": True,
    "intake-consent": True, "screening-name": "Ada Quill", "screening-date": "3.1.",
    "intake-note": "Shift work:\nno late sessions. # really",
}  # fmt: skip


@once_a_run
def form(unit: str = "kg", language: str = "en", paper: str = "A5") -> bytes:
    """The blank form in the sample brand's look."""
    sources = load([BRAND], need=["brand"]).sources
    done = intake_form(sources, Unit(unit), Choices(TODAY, Paper(paper), language=language))
    assert done.pressed is not None, [problem.as_text() for problem in done.problems]
    assert {problem.code for problem in done.problems} <= {"brand-language"}, "the brand's own texts are English"
    return done.pressed.pdf


def filled(answers: dict[str, str | bool], folder: Path, **which: str) -> Path:
    """A form with these answers, saved by another program than ours."""
    path = folder / "filled.pdf"
    path.write_bytes(form(**which))
    with pikepdf.open(path, allow_overwriting_input=True) as pdf:
        left = dict(answers)
        for field in pdf.Root.AcroForm.Fields:
            answer = left.pop(str(field.T), None)
            if answer is True:
                on = next(str(name) for name in field.AP.N if name != "/Off")
                field.V = field.AS = pikepdf.Name(on)
            elif answer is not None:
                field.V = pikepdf.String(str(answer))
        assert not left, f"the form has no {', '.join(left)}"
        pdf.save(path)
    return path


def enrolled(answers: dict[str, str | bool], folder: Path, **which: str) -> Enrolled:
    path = filled(answers, folder, **which)
    read, problems = read_intake(path)
    assert read is not None and not problems
    return enrol(read, TODAY, load_words(read.facts.language, read.facts.unit).movements)


def without(*names: str, **more: str | bool) -> dict[str, str | bool]:
    """Ada's answers with some left blank and some others."""
    renamed = {name.replace("_", "-"): value for name, value in more.items()}
    return {name: value for name, value in ADA.items() if name not in names} | renamed


@pytest.mark.slow
def test_a_filled_form_becomes_the_profile_that_it_says(tmp_path: Path) -> None:
    """Each answer worked out by hand; commas, units, dates and short names as people write them."""
    done = enrolled(ADA, tmp_path)
    assert not done.problems, [problem.as_text() for problem in done.problems]
    assert done.file == "ada-quill.yaml"
    assert yaml.load(done.text or "", Loader=yaml.BaseLoader) == {
        "format": "1",
        "client": {"name": "Ada Quill", "units": "kg", "bodyweight": "71.4", "born": "1991", "sex": "female"},
        "training": {
            "status": "intermediate", "months": "30", "days": ["mon", "thu"], "session_minutes": "75",
            "starts": "2027-01-11",
        },
        "lifts": {
            "back squat": {"tests": [
                {"date": "2026-12-19", "load": "120", "reps": "3", "rir": "1", "bar": "low", "belt": "true"}
            ]},
            "Romanian deadlift": {"tests": [{"date": "2026-12-20", "load": "100", "reps": "8", "rir": "2"}]},
        },
        "gym": {
            "bars": {"power bar": "20"}, "pairs": {"25": "2", "20": "2", "2.5": "1"}, "collars": "2.5",
            "dumbbells": {"from": "5", "to": "40", "step": "2.5"},
            "stacks": {"cable": {"from": "5", "to": "80", "step": "5"}},
            "pins": {"first": "32.5", "spacing": "5", "holes": "24"},
            "safeties": "true", "spotter": "sometimes",
        },
        "limits": [{"area": "left shoulder", "avoid": ["overhead press"], "since": "2026-11-01"}],
        "screening": {"answered": "2027-01-03", "clinician_advised": "true", "cleared": "2027-01-03"},
    }  # fmt: skip
    assert "# Shift work:\n# no late sessions. # really" in (done.text or "")
    assert "cannot set the safeties yet" in (done.text or "")


@pytest.mark.slow
def test_a_german_form_names_lifts_in_german(tmp_path: Path) -> None:
    answers = without("intake-lift-r5-name", intake_lift_r5_name="Frontkniebeuge", intake_months="2 Jahre")
    done = enrolled(answers, tmp_path, language="de", paper="A4")
    assert not done.problems, [problem.as_text() for problem in done.problems]
    assert "front squat" in yaml.safe_load(done.text or "")["lifts"]


@pytest.mark.slow
def test_a_pound_form_asks_for_pound_plates(tmp_path: Path) -> None:
    done = enrolled(ADA, tmp_path, unit="lb")
    profile = yaml.load(done.text or "", Loader=yaml.BaseLoader)
    assert profile["client"]["units"] == "lb"
    assert list(profile["gym"]["pairs"]) == [PLATES[Unit.LB][0], PLATES[Unit.LB][1], PLATES[Unit.LB][5]]
    assert profile["lifts"]["Romanian deadlift"]["tests"][0]["load"] == "220.46", "100kg was written with its unit"


UNCLEAR: list[tuple[str, dict[str, str | bool], str]] = [
    ("intake-lift-r1-reps", {"intake_lift_r1_reps": "5ish"}, "is no number of reps"),
    ("intake-lift-r1-load", {"intake_lift_r1_load": "1,200"}, "may part thousands"),
    ("intake-lift-r1-date", {"intake_lift_r1_date": "3/4/26"}, "could be two dates"),
    ("intake-lift-r1-rir", {}, "left are missing"),
    ("intake-name", {}, "the name is missing"),
    ("intake-consent", {}, "has not agreed"),
    ("intake-sessionwise", {"intake_sessionwise": True}, "more than one line is ticked"),
    ("intake-months", {"intake_months": "ages"}, "is no number of months"),
    ("intake-safeties", {}, "not ticked"),
    ("screening-q2-yes", {"screening_q2_no": True, "screening_q2_yes": True}, "both answers"),
    ("screening-q4-no", {}, "no answer"),
    ("intake-limit-r1-avoid", {"intake_limit_r1_avoid": "flying"}, '"flying"'),
    ("intake-stack-r1-step", {}, '"step" of this row is empty'),
    ("intake-lift-r1-high", {"intake_lift_r1_high": True}, "both ticked"),
]


@pytest.mark.slow
@pytest.mark.parametrize(("cell", "answers", "fact"), UNCLEAR, ids=[f"{cell} {fact}" for cell, _, fact in UNCLEAR])
def test_what_is_not_clear_is_a_problem_of_its_cell_and_nothing_is_guessed(
    tmp_path: Path, cell: str, answers: dict[str, str | bool], fact: str
) -> None:
    done = enrolled(without(cell, **answers), tmp_path)
    assert done.text is None
    assert any(fact in problem.fact for problem in done.problems), [problem.as_text() for problem in done.problems]
    assert all(problem.help for problem in done.problems)
    written = next(problem for problem in done.problems if fact in problem.fact)
    assert "filled.pdf" in written.as_text().split("\n")[0]
    assert "field" in written.as_text().split("\n")[0]


@pytest.mark.slow
def test_the_commands_lead_from_a_blank_form_to_a_profile_that_checks(tmp_path: Path) -> None:
    """And a profile that is there is left as it is."""
    done = loadleaf("intake", BRAND, "-o", tmp_path / "form.pdf", "--paper", "A5")
    assert done.returncode == 0, done.stderr
    path = filled(ADA, tmp_path)
    done = loadleaf("enrol", path, "-o", tmp_path / "clients", "--date", "2027-01-04")
    assert done.returncode == 0, done.stderr
    profile = tmp_path / "clients" / "ada-quill.yaml"
    assert loadleaf("check", profile).returncode == 0
    done = loadleaf("enrol", path, "-o", tmp_path / "clients", "--date", "2027-01-04")
    assert done.returncode == 0 and "before" in done.stdout, "forms that were read before stop no later ones"
    profile.write_text("mine now")
    done = loadleaf("enrol", path, "-o", tmp_path / "clients", "--date", "2027-01-04")
    assert (done.returncode, profile.read_text()) == (1, "mine now")
    assert "is there already" in done.stderr
    again = loadleaf("enrol", BRAND / "logo.svg", "-o", tmp_path / "clients")
    assert again.returncode == 1 and "Traceback" not in again.stderr


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["A4", "Letter", "A5", "half-letter"])
def test_the_form_has_two_to_four_pages_on_every_paper(paper: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "form.pdf")
        path.write_bytes(form(paper=paper, language="de"))
        with pikepdf.open(path) as pdf:
            assert 2 <= len(pdf.pages) <= 4
