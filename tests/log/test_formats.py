"""What was made before is still read, and copies of one plan belong together whatever language or pages they have."""

from __future__ import annotations

import io
import json
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from importlib import import_module
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from log.small import BLOCK, CLIENT, WRITTEN, form, log, refusal
from pages.sample_pages import context

from builder.intake import load
from builder.intake.load import library, tree_of
from builder.intake.upgrade import upgraded
from builder.log import manifest as carried
from builder.log import merge
from builder.log.filled import Form
from builder.pages.explain import plan_json
from builder.pages.model import Edition, Paper
from builder.plan import Plan, identity
from builder.plan.model import PlannedSet
from builder.values.formats import Formats
from builder.values.lists import Keep
from builder.values.nodes import Mapping, Scalar
from builder.values.problem import Problem, Span
from builder.work.publish import Choices, publish
from builder.work.texts import load_words

KEPT = Path(__file__).with_name("format_1")
"""Booklets as version 0.1 made them of `log/small.py`, in English and German, log edition, A5."""


def filled(pdf: bytes, values: dict[str, str | bool]) -> bytes:
    """A booklet with some of its fields filled in, by a library that knows nothing of ours."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        for field in opened.Root.AcroForm.Fields:
            value = values.get(str(field.T))
            if value is True:
                field.V = field.AS = next(pikepdf.Name(str(name)) for name in field.AP.N if name != "/Off")
            elif value is not None:
                field.V = pikepdf.String(str(value))
        out = io.BytesIO()
        opened.save(out)
    return out.getvalue()


def with_manifest(pdf: bytes, change: Callable[[dict[str, object]], None]) -> bytes:
    """A booklet that says something else of itself."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        told = json.loads(opened.attachments[carried.MANIFEST].get_file().read_bytes())
        change(told)
        opened.attachments[carried.MANIFEST] = json.dumps(told).encode()
        out = io.BytesIO()
        opened.save(out)
    return out.getvalue()


@pytest.mark.parametrize("language", ["en", "de"])
def test_a_booklet_of_format_1_is_read_as_it_was(language: str, tmp_path: Path) -> None:
    """Entries whose meaning is worked out by hand in the tests of the log."""
    pdf = (KEPT / f"{language}.pdf").read_bytes()
    found, problems = log(form(filled(pdf, WRITTEN), tmp_path))
    assert problems == ()
    rows = {(entry.row.week, entry.row.slot, entry.row.set): entry for entry in found.entries}
    assert (rows[1, 2, 1].state, rows[1, 2, 1].as_planned, rows[1, 2, 1].load) == ("done", True, Decimal(150))
    assert (rows[1, 2, 3].load, rows[1, 2, 3].reps, rows[1, 2, 3].rir) == (Decimal(170), 7, Decimal(1))
    assert rows[1, 3, 2].state == "left out"
    (test,) = found.tests
    assert [(one.load, one.good) for one in test.attempts][1:] == [(Decimal(210), True), (Decimal("217.5"), False)]


def test_a_booklet_of_format_1_says_so(tmp_path: Path) -> None:
    with pikepdf.open(KEPT / "en.pdf") as pdf:
        told = json.loads(pdf.attachments[carried.MANIFEST].get_file().read_bytes())
    assert (told["format"], told["version"]) == (1, "0.1.0")
    assert form((KEPT / "en.pdf").read_bytes(), tmp_path).manifest.format == 2


def test_a_booklet_of_a_newer_format_asks_for_an_update(tmp_path: Path) -> None:
    pdf = with_manifest((KEPT / "en.pdf").read_bytes(), lambda told: told.update(format=3, news=True))
    problem = refusal(pdf, tmp_path)
    assert (problem.code, problem.help) == ("unknown-format", "Update loadleaf.")
    assert "format 3" in problem.fact and "up to 2" in problem.fact


@pytest.mark.parametrize("number", [0, -1, "1", None, 1.5, [1]])
def test_what_is_no_format_is_damage(number: object, tmp_path: Path) -> None:
    pdf = with_manifest((KEPT / "en.pdf").read_bytes(), lambda told: told.update(format=number))
    assert refusal(pdf, tmp_path).code == "pdf-damaged"


def copy(folder: Path, name: str, **chosen: Any) -> Form:
    """A copy of the small booklet, with one entry."""
    (folder / "client.yaml").write_text(CLIENT)
    (folder / "block.yaml").write_text(BLOCK)
    usual = Choices(date(2027, 1, 4), Paper.A5, edition=Edition.LOG, keep=Keep.ALL)
    done = publish(load([folder / "client.yaml", folder / "block.yaml"]), replace(usual, **chosen))
    assert done.pressed is not None, done.problems
    return form(filled(done.pressed.pdf, {"w01-d1-s2-t2-reps": "4"}), folder, f"{name}.pdf")


@pytest.mark.slow
def test_copies_of_one_plan_in_every_language_edition_and_look_are_one_log(tmp_path: Path) -> None:
    copies = [
        copy(tmp_path, "english"),
        copy(tmp_path, "german", language="de"),
        copy(tmp_path, "pocket", edition=Edition.POCKET, paper=Paper.A4),
        copy(tmp_path, "large", theme="large-print", language="de", paper=Paper.LETTER),
    ]
    assert len({one.manifest.code for one in copies}) == 1
    answers, problems = merge(copies)
    assert answers is not None and problems == ()
    assert answers.texts["w01-d1-s2-t2-reps"] == "4"
    assert set(answers.manifest.fields) == {name for one in copies for name in one.manifest.fields}


@pytest.fixture(scope="module")
def plan() -> Plan:
    return context("novice", Paper.A5).plan


def test_another_sentence_is_no_other_plan(plan: Plan) -> None:
    """What the plan tells differs; what it is does not."""
    english, german = load_words("en", plan.unit), load_words("de", plan.unit)
    assert plan_json(plan, english) != plan_json(plan, german)
    week, *others = plan.weeks
    session, *rest = week.sessions
    retold = replace(session, title="Another title", note="Another note")
    changed = replace(plan, weeks=(replace(week, sessions=(retold, *rest)), *others))
    assert changed != plan
    assert identity(changed) == identity(plan)


def with_first_set(plan: Plan, change: Callable[[PlannedSet], PlannedSet]) -> Plan:
    week, *others = plan.weeks
    session, *rest = week.sessions
    slot, *slots = session.slots
    sets = (*slot.sets[:-1], change(slot.sets[-1]))
    session = replace(session, slots=(replace(slot, sets=sets), *slots))
    return replace(plan, weeks=(replace(week, sessions=(session, *rest)), *others))


@pytest.mark.parametrize(
    "change",
    [
        lambda one: replace(one, reps=one.reps + 1),
        lambda one: replace(one, rir=Decimal("0.5")),
        lambda one: replace(one, rest=one.rest + 30),
        lambda one: replace(one, rung=replace(one.rung, mass=one.rung.mass + Decimal("0.25"))),
        lambda one: replace(one, open_ended=not one.open_ended),
    ],
)
def test_another_value_of_one_set_is_another_plan(change: Callable[[PlannedSet], PlannedSet], plan: Plan) -> None:
    assert identity(with_first_set(plan, change)) != identity(plan)


def test_a_log_that_asks_for_effort_in_another_unit_belongs_to_another_booklet(plan: Plan) -> None:
    """An 8 is two reps left on one page and eight on the other."""
    assert identity(plan, rated=True) != identity(plan)


def test_another_lifter_or_block_is_another_plan(plan: Plan) -> None:
    client, block = plan.client, plan.block
    other = client.model_copy(update={"client": client.client.model_copy(update={"name": "Odalys Finch"})})
    titled = block.model_copy(update={"block": block.block.model_copy(update={"title": "Low Water"})})
    plans = [plan, replace(plan, client=other), replace(plan, block=titled)]
    assert len({identity(one) for one in plans}) == 3


# A chain as it would be: format 2 calls "weight" "load", format 3 calls "load" "mass".


def renamed(old: str, new: str) -> Callable[[Mapping], Mapping]:
    def step(tree: Mapping) -> Mapping:
        items = ((Scalar(key.span, new) if key.text == old else key, value) for key, value in tree.items)
        return Mapping(tree.span, tuple(items))

    return step


CHAIN = Formats((renamed("weight", "load"), renamed("load", "mass")))


def source(text: str) -> Mapping:
    from builder.intake.compose import compose

    tree, problems = compose(text, "old.yaml")
    assert isinstance(tree, Mapping) and problems == ()
    return tree


@pytest.mark.parametrize(("number", "key"), [(1, "weight"), (2, "load"), (3, "mass")])
def test_each_older_file_goes_through_the_steps_that_it_lacks_and_keeps_its_places(number: int, key: str) -> None:
    tree, problems = upgraded(source(f"format: {number}\n{key}: 60\n"), CHAIN)
    assert problems == ()
    assert [(key.text, value.text) for key, value in tree.items if isinstance(value, Scalar)] == [
        ("format", "3"),
        ("mass", "60"),
    ]
    written = tree.key("mass")
    assert written is not None and (written.span.line, written.span.column) == (2, 1)


def test_a_file_of_a_newer_format_asks_for_an_update() -> None:
    tree, (problem,) = tree_of("new.yaml", b"format: 2\nclient: {name: Ada}\n")
    assert tree is not None
    assert isinstance(problem.span, Span)
    assert (problem.code, problem.span.line, problem.span.column) == ("unknown-format", 1, 9)
    assert problem.help.startswith("Update loadleaf.")


@pytest.mark.parametrize("number", ["0", "-1", "one", "1.0", "²", "٣", "9" * 5000, "[1]"])
def test_what_is_no_number_of_a_format_is_told_what_to_write(number: str) -> None:
    _, (problem,) = tree_of("odd.yaml", f"format: {number}\nclient: {{name: Ada}}\n".encode())
    assert isinstance(problem.span, Span)
    assert (problem.code, problem.help) == ("unknown-format", 'Write "format: 1".')


def test_the_movements_that_come_along_are_brought_up_to_our_format_as_every_file_is(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """So that a new format does not ask for the library to be written anew."""
    brought: list[str] = []

    def seen(tree: Mapping) -> tuple[Mapping, tuple[Problem, ...]]:
        brought.append(tree.span.file)
        return upgraded(tree)

    monkeypatch.setattr(import_module("builder.intake.load"), "upgraded", seen)
    tree_of.cache_clear()
    assert library.__wrapped__().named("back squat") == "back squat"
    assert brought == ["library.yaml"]
