"""Demonstrations: one code and one address for each movement of the plan that has one, and a phone can read it."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
import segno
from pages.pressed import print_booklet
from pages.sample_pages import NAMES, context, html

from builder.pages.context import Context
from builder.pages.demos import DemoPage, demo_addresses, demo_sections
from builder.pages.figures.draw import Drawing, Outline
from builder.pages.figures.qr import QUIET, qr_drawing
from builder.pages.make import make_booklet
from builder.pages.model import Edition, Layout, Paper
from builder.pages.names import movement_title

WORDS = context("novice").words
ADDRESSES = ("https://a.example", "https://nineherons.example/see/back-squat", "https://b.example/" + "x" * 101)


def with_demos(name: str, **demos: str) -> Context:
    ctx = context(name)
    named = {movement.replace("_", " "): address for movement, address in demos.items()}
    return replace(ctx, brand=ctx.brand.model_copy(update={"demos": named}))


def modules(drawing: Drawing, module: float) -> set[tuple[int, int]]:
    """Row and column of every dark module, read back from the outline."""
    (shape,) = (mark for mark in drawing.marks if isinstance(mark, Outline))
    found = set()
    for bar in shape.drawn.rstrip("z").split("z"):
        start, _, width = bar.removeprefix("M").partition("h")
        x, y = (round(float(v) / module) for v in start.split())
        found |= {(y, x + i) for i in range(round(float(width.split("v")[0]) / module))}
    return found


@pytest.mark.parametrize("address", ADDRESSES)
def test_a_code_has_the_modules_of_its_matrix_within_four_modules_of_white(address: str) -> None:
    # ISO/IEC 18004: a quiet zone of four modules (from memory).
    matrix, drawing = segno.make_qr(address, error="m").matrix, qr_drawing(WORDS, address)
    module = drawing.width / (len(matrix) + 2 * QUIET)
    dark = {(r + 4, c + 4) for r, row in enumerate(matrix) for c, bit in enumerate(row) if bit}
    assert modules(drawing, module) == dark
    assert address in drawing.title


@pytest.mark.parametrize("address", ADDRESSES)
def test_a_code_takes_at_most_two_centimetres_and_its_modules_a_third_of_a_millimetre(address: str) -> None:
    drawing, across = qr_drawing(WORDS, address), len(segno.make_qr(address, error="m").matrix) + 8
    assert drawing.width <= 20
    assert drawing.width / across >= 0.33


@pytest.mark.parametrize("name", NAMES)
def test_demonstrations_are_those_of_the_plan_in_its_order(name: str) -> None:
    ctx = context(name)
    trained = list(dict.fromkeys(slot.movement for one in ctx.plan.sessions() for slot in one.slots))
    wanted = [movement for movement in trained if movement in ctx.brand.demos]
    assert list(demo_addresses(ctx)) == wanted
    assert len(wanted) >= 3


def test_a_movement_that_is_not_trained_has_no_demonstration() -> None:
    assert demo_addresses(with_demos("novice", front_squat="https://a.example/f")) == {}
    assert demo_sections(with_demos("novice", front_squat="https://a.example/f")) == ()


def test_a_movement_may_be_called_by_its_other_names_and_the_brand_goes_before_the_library() -> None:
    ctx = with_demos("novice", barbell_squat="https://a.example/own")
    library = ctx.plan
    about = {"back squat": "https://a.example/library", "bench press": "https://a.example/bench"}
    weeks = tuple(
        replace(week, sessions=tuple(
            replace(one, slots=tuple(
                replace(slot, about=slot.about.model_copy(update={"demo": about.get(slot.movement)}))
                for slot in one.slots
            ))
            for one in week.sessions
        ))
        for week in library.weeks
    )  # fmt: skip
    ctx = replace(ctx, plan=replace(library, weeks=weeks))
    assert demo_addresses(ctx) == {"back squat": "https://a.example/own", "bench press": "https://a.example/bench"}


def test_the_link_is_text_beside_the_code_and_has_nothing_but_text_in_it() -> None:
    (section,) = demo_sections(context("novice"))
    assert isinstance(section.data, DemoPage)
    page = html(section, Paper.A5)
    for demo in section.data.demos:
        assert f'<a href="{demo.address}">{demo.shown}</a>' in page
        assert f"<title>{demo.code.title}</title>" in page


@pytest.mark.parametrize("layout", Layout)
def test_the_name_of_a_lift_leads_to_its_demonstration(layout: Layout) -> None:
    ctx = replace(context("novice"), layout=layout)
    pages = "".join(html(section) for section in make_booklet(ctx).sections if section.template.startswith("session"))
    named = {movement_title(name, ctx.words): address for name, address in demo_addresses(ctx).items()}
    found = dict[str, set[str]]()
    for address, name in re.findall(r'<a href="(https:[^"]+)">([^<]+)</a>', pages):
        found.setdefault(name, set()).add(address)
    assert found == {name: {address} for name, address in named.items()}


def test_a_drill_leads_to_its_page_and_each_day_there_to_its_session() -> None:
    booklet = make_booklet(context("advanced"))
    (drills,) = (section for section in booklet.sections if section.template == "drills")
    sessions = [section for section in booklet.sections if section.template.startswith("session")]
    days = {section.anchor for section in sessions if f'href="#{drills.anchor}"' in html(section)}
    assert days
    assert days == set(re.findall(r'href="#(week-[^"]+)"', html(drills)))


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["A5", "A4"])
def test_every_printed_code_is_read_back_as_the_address_beside_it(paper: str) -> None:
    """As OpenCV sees the page at 300 dpi in grey."""
    cv2 = pytest.importorskip("cv2", reason="reads codes from pictures")
    pdfium = pytest.importorskip("pypdfium2")
    one = print_booklet(replace(context("novice", Paper(paper)), edition=Edition.HANDBOOK))
    lead = WORDS("demos.lead").split(".")[0]
    (number,) = (i for i, text in enumerate(one.texts) if lead in text.replace("\n", " "))
    picture = pdfium.PdfDocument(one.pressed.pdf)[number].render(scale=300 / 72, grayscale=True).to_numpy()
    found, read, _, _ = cv2.QRCodeDetector().detectAndDecodeMulti(picture)
    assert found
    assert sorted(read) == sorted(demo_addresses(context("novice")).values())
