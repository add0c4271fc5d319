"""A booklet joined from fragments is the one that the typesetter makes in one go, whoever makes the fragments."""

from __future__ import annotations

import os
import select
import signal
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pydyf
import pytest
from short import shortened

from builder import places
from builder.intake import Loaded, load
from builder.pages.model import Booklet, Edition, Paper
from builder.pdf import Attached, DocumentMeta, PressError, shipped
from builder.pdf.fragments import make, press
from builder.pdf.fragments.crew import WorkerDied, together
from builder.pdf.fragments.leaves import leaves
from builder.pdf.fragments.marks import DOCUMENT, Filling, is_bound, written
from builder.pdf.fragments.press import PressOrder, press_booklet
from builder.pdf.html import style_sheets
from builder.values.lists import Keep
from builder.work.publish import Choices
from builder.work.publish import booklet as publishing
from pdf import verapdf
from pdf.alike import differences

DAY = date(2027, 1, 4)
SAMPLES = Path(__file__).parents[2] / "samples"


def ordered(choices: Choices, sample: str = "novice") -> tuple[Booklet, tuple[str, ...], PressOrder]:
    """Booklet, style sheets and order of a sample, as a build makes them."""
    return _ordered(choices, load([SAMPLES / sample, SAMPLES / "brand"]))


def _ordered(choices: Choices, loaded: Loaded) -> tuple[Booklet, tuple[str, ...], PressOrder]:
    assert loaded.sources is not None
    choices = replace(choices, edition=choices.edition or Edition.PERSONAL)
    worn, _ = publishing.dress(loaded.sources, choices)
    made, _ = publishing.draft(loaded, worn, choices)
    assert made is not None
    sheets = style_sheets(made.booklet, worn.look, bleed=choices.bleed)
    root = worn.assets.root
    assert root is not None
    meta: DocumentMeta = publishing._meta(made.booklet, "a-novice", choices)
    faces = (*shipped(), *worn.assets.faces)
    order = PressOrder((places.styles(), root), meta, faces=faces, fillable=choices.fillable, one_ink=choices.bleed)
    return made.booklet, sheets, order


@pytest.mark.slow
@pytest.mark.parametrize(
    "choices",
    [
        Choices(DAY, Paper.A5, buyer="Ada Quill (no. 7)"),
        Choices(DAY, Paper.HALF_LETTER, "ink-saver", bleed=True, fillable=False),
        Choices(DAY, Paper.A4, "large-print"),
    ],
    ids=["facing and stamped", "bleed", "large print"],
)
def test_the_joined_file_is_that_of_the_typesetter_alone_to_a_reader(choices: Choices) -> None:
    booklet, sheets, order = _ordered(choices, shortened("novice"))
    joined = press_booklet(booklet, sheets, replace(order, jobs=2, keep=Keep.ALL))
    whole = press._whole(booklet, sheets, order)
    assert differences(whole.pdf, joined.pdf) == []
    assert (joined.pages, joined.field_count, joined.outline) == (whole.pages, whole.field_count, whole.outline)
    assert len(joined.pdf) < 1.1 * len(whole.pdf)
    assert (joined.warnings, joined.problems) == ((), ())


@pytest.mark.slow
@pytest.mark.skipif(bool(verapdf.absent()), reason=verapdf.absent() or "present")
def test_the_joined_file_is_pdf_ua_1_and_pdf_a_3a(tmp_path: Path) -> None:
    """Outside judge: the veraPDF engine. The pages have links, fields, figures, tables, a blank page and a stamp."""
    booklet, sheets, order = ordered(Choices(DAY, Paper.A5, buyer="Ada Quill"))
    attached = Attached("plan.json", b"{}", "The plan", "application/json", "Data")
    few = without_texts(few_of(booklet, slice(14)))
    done = press_booklet(few, sheets, replace(order, jobs=2, attachments=(attached,)))
    (tmp_path / "joined.pdf").write_bytes(done.pdf)
    assert verapdf.broken_rules(tmp_path / "joined.pdf") == {"ua1": [], "3a": []}


@pytest.mark.slow
def test_one_process_or_several_give_the_same_bytes_and_tell_of_the_pages() -> None:
    booklet, sheets, order = ordered(Choices(DAY, Paper.A5))
    few = few_of(booklet, slice(9))
    told: list[tuple[int, int]] = []
    one = press_booklet(few, sheets, replace(order, jobs=1, told=lambda *pages: told.append(pages)))
    three = press_booklet(few, sheets, replace(order, jobs=3))
    assert one.pdf == three.pdf
    assert one.warnings == three.warnings != ()  # the contents lead to pages that were left out
    done = [pages for pages, _ in told]
    assert done == sorted(done) and done[-1] <= one.pages <= done[-1] + 4  # blank pages are nobody's work
    assert all(pages <= expected for pages, expected in told)


def few_of(booklet: Booklet, sections: slice) -> Booklet:
    """The booklet with only some of its sections."""
    some = booklet.sections[sections]
    return replace(booklet, sections=some, fields=tuple(spec for one in some for spec in one.fields))


def without_texts(booklet: Booklet) -> Booklet:
    """The booklet without its pages of running text."""
    return replace(booklet, sections=tuple(one for one in booklet.sections if one.template not in ("flow", "numbers")))


@pytest.mark.slow
def test_the_bench_of_one_booklet_serves_the_next_of_the_same_look_and_changes_no_byte_of_it() -> None:
    booklet, sheets, order = ordered(Choices(DAY, Paper.A5))
    order = replace(order, jobs=1)
    first, second = few_of(booklet, slice(12, 15)), few_of(booklet, slice(15, 18))
    make._SPARE.clear()
    alone = press_booklet(second, sheets, order)
    make._SPARE.clear()
    press_booklet(first, sheets, order)
    (bench,) = make._SPARE.values()
    known = len(bench.memory.lines)
    after = press_booklet(second, sheets, order)
    assert after.pdf == alone.pdf
    assert list(make._SPARE.values()) == [bench] and len(bench.memory.lines) > known
    press_booklet(second, (*sheets, "p { color: red }"), order)
    assert bench not in make._SPARE.values() and len(make._SPARE) == 1


@pytest.mark.slow
def test_a_bench_is_left_to_nobody_that_heard_a_warning_or_holds_too_much(monkeypatch: pytest.MonkeyPatch) -> None:
    booklet, sheets, order = ordered(Choices(DAY, Paper.A5))
    order, few = replace(order, jobs=1), few_of(booklet, slice(12, 13))
    make._SPARE.clear()
    for _ in range(2):  # the second hears it too
        done = press_booklet(few, (*sheets, "p { colour: red }"), order)
        assert any("colour" in text for text in done.warnings) and not make._SPARE
    monkeypatch.setattr(make, "MOST_LINES", 3)
    press_booklet(few, sheets, order)
    assert not make._SPARE


@pytest.mark.slow
def test_problems_of_all_workers_are_told_together() -> None:
    booklet, sheets, order = ordered(Choices(DAY, Paper.A5))
    sections = booklet.sections[:12]
    lost = [spec for section in booklet.sections for spec in section.fields][:1]
    wrong = tuple(replace(one, fields=(replace(lost[0], name=f"lost-{n}"),)) for n, one in enumerate(sections))
    few = replace(booklet, sections=wrong, fields=())
    with pytest.raises(PressError) as caught:
        press_booklet(few, sheets, replace(order, jobs=3))
    told = [one.fact for one in caught.value.problems if one.code == "field-lost"]
    assert told == [f"the form field lost-{n} stands on no page" for n in range(len(wrong))]


def test_a_leaf_says_nothing_of_brand_stamp_running_title_and_page_code() -> None:
    booklet, sheets, _ = ordered(Choices(DAY, Paper.A5, buyer="Ada Quill"))
    made = leaves(booklet, sheets)
    other = replace(booklet, stamp="Bo", title="x", brand="y")
    assert made == leaves(other, sheets)
    assert sum(len(leaf.fields) for leaf in made) == len(booklet.fields)


def test_marks_are_filled_and_text_is_never_taken_for_one() -> None:
    made = pydyf.Dictionary({
        "P": b"12 0 R", "T": pydyf.String(f"{DOCUMENT}.w01"), "TU": pydyf.String("5 0 R \x017; \x033;"),
        "Rect": pydyf.Array((1.5, 2, 3, 4)), "StructParent": 3,
    })  # fmt: skip
    text = written(made)
    assert is_bound(text)
    again = written(pydyf.Array((pydyf.String("\0"), b"12 0 R")))
    told = Filling({12: 99}, 100, 10.0, b"name").told((text, again, again))
    expected = rb"<</P 99 0 R/T (name.w01)/TU (5 0 R \0017; \0033;)/Rect [11.5 2 13 4]/StructParent 103>>"
    assert told == [expected, rb"[(\000) 99 0 R]", rb"[(\000) 99 0 R]"]


def children() -> list[str]:
    """The processes below this one, ended or not."""
    return Path(f"/proc/self/task/{os.getpid()}/children").read_text().split()


@pytest.fixture
def _no_zombies() -> Iterator[None]:
    before = children()
    yield
    assert children() == before


@pytest.mark.usefixtures("_no_zombies")
def test_a_worker_that_is_killed_leaves_its_work_to_another(tmp_path: Path) -> None:
    def work(number: int) -> int:
        if number == 3 and not (tmp_path / "died").exists():
            (tmp_path / "died").touch()
            os.kill(os.getpid(), signal.SIGKILL)
        return number * number

    assert sorted(together(work, 20, 3)) == [(n, n * n) for n in range(20)]


@pytest.mark.usefixtures("_no_zombies")
def test_work_that_kills_every_worker_is_given_up() -> None:
    def work(number: int) -> int:
        if number == 3:
            os.kill(os.getpid(), signal.SIGKILL)
        return number

    with pytest.raises(WorkerDied):
        list(together(work, 8, 2))


@pytest.mark.usefixtures("_no_zombies")
def test_an_error_of_a_worker_is_raised_and_the_others_are_ended() -> None:
    def work(number: int) -> int:
        if number == 2:
            raise KeyError("no such page")
        time.sleep(0.01)
        return number

    with pytest.raises(KeyError, match="no such page") as caught:
        list(together(work, 400, 2))
    assert "in work" in "".join(caught.value.__notes__)


@pytest.mark.usefixtures("_no_zombies")
def test_who_stops_listening_ends_the_workers() -> None:
    heard = together(lambda number: time.sleep(0.01) or number, 400, 2)
    next(heard)
    heard.close()


def test_a_command_that_is_killed_leaves_no_worker_behind() -> None:
    """Each holds the end of a pipe that nobody writes into: it closes with the last of them."""
    closed, held = os.pipe()
    if not (command := os.fork()):
        for _ in together(lambda number: bytes(1 << 20), 400, 2):
            os.kill(os.getpid(), signal.SIGKILL)
    os.close(held)
    os.waitpid(command, 0)
    ended = select.select([closed], [], [], 60)[0]
    os.close(closed)
    assert ended == [closed]


def test_one_job_and_a_system_without_forks_work_in_this_process(monkeypatch: pytest.MonkeyPatch) -> None:
    assert {pid for _, pid in together(lambda _: os.getpid(), 3, 1)} == {os.getpid()}
    assert os.getpid() not in {pid for _, pid in together(lambda _: os.getpid(), 3, 2)}
    monkeypatch.delattr(os, "fork")
    assert {pid for _, pid in together(lambda _: os.getpid(), 3, 2)} == {os.getpid()}
