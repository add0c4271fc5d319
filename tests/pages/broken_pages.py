"""A booklet of three small pages that passes every check, and ways to spoil it."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from pages.layout import Book
from pages.leaves import Leaves
from pages.sample_pages import context

from builder import places
from builder.pages.make import make_booklet
from builder.pages.model import Section
from builder.pdf import DocumentMeta, press
from builder.values.fields import FieldSpec

CODE = "7F3K9Q · w01.d1.1"
STYLE = """
@page { size: 148mm 210mm; margin: 12mm; font: 8pt "Source Sans 3" }
@page :left { @top-left { content: "Squat" } @bottom-left { content: counter(page) } @bottom-center { content: "CODE" }
  @bottom-right { content: "BRAND" } }
@page :right { @top-right { content: "Squat" } @bottom-right { content: counter(page) }
  @bottom-center { content: "CODE" } @bottom-left { content: "BRAND" } }
@page :first { @bottom-center { content: none } }
html { font: 10pt/5mm "Source Sans 3" } h1, h2, h3, h4, p { margin: 0; bookmark-level: none }
section { position: relative; min-height: 185mm; bookmark-level: 1; bookmark-label: attr(title); break-before: page }
.log { bookmark-level: none } .plan { break-before: left }
.fill { height: 84mm; border: .2mm solid } b { font-size: 18pt } i { font-size: 12pt } tr { break-inside: avoid }
.cell { position: absolute; top: 20mm; left: 0; width: 20mm; height: 10mm; border: .25mm solid #707070;
  box-sizing: border-box } .other { left: 30mm }
"""
PAGES = """<section title="Text"><h1>A text</h1><p>Running text of a page.</p><div class="fill"></div>
<table><thead><tr><th>Lift</th></tr></thead><tbody><tr><td>Squat</td></tr><tr><td>Press</td></tr></tbody></table>
<!-- end --></section>
<section class="plan" title="Plan"><h3>Squat</h3><div><h4>1 Back squat</h4><table><tbody><tr><th>3 × 5</th>
<td><b>100</b> kg <i>25 + 15</i></td></tr></tbody></table></div><div class="fill" style="height:98mm"></div></section>
<section class="log" title="Log"><p>Log</p><p class="cell" data-field="w01-d1-s1-t1-load"></p>
<p class="cell other" data-field="w01-d1-s1-t1-reps"></p>
<div class="fill" style="margin-top:40mm;height:92mm"></div></section>"""
PLAIN = Section("text", "Text", "flow", None, running="Squat")
SECTIONS = (
    PLAIN, replace(PLAIN, anchor="plan", title="Plan", template="session", side="left", code=CODE),
    replace(PLAIN, anchor="log", title="Log", template="log", side="right", code=CODE, listed=False),
)  # fmt: skip

SPOILT = {
    "text_near_the_edge": (("<!-- end -->", '<p style="position:absolute;top:-12mm">Up here</p>'),
                           ("<!-- end -->", '<p style="position:absolute;right:-11mm">Out here</p>')),
    "text_over_text": (("<!-- end -->", '<p style="position:absolute;top:4mm">Over it</p>'),
                       ("<b>100</b> kg", '<b style="margin-right:-3mm">100</b> kg')),
    "small_type": (("<td>Squat", '<td style="font-size:7.4pt">Squat'),
                   ("<p>Running", '<p style="font-size:8.9pt">Running')),
    "loads_that_do_not_lead": (("b { font-size: 18pt }", "b { font-size: 11.9pt }"),
                               ("<h4>", '<h4 style="font-size:18pt">')),
    "small_plates": (("i { font-size: 12pt }", "i { font-size: 11.9pt }"),),
    "small_cells": (("width: 20mm", "width: 13.5mm"), ("height: 10mm", "height: 7.5mm")),
    "fields_over_others": (("left: 30mm", "left: 19mm"), ("<p>Log</p>", '<p style="padding-top:21mm">Log</p>')),
    "fields_outside_cells": (("border: .25mm solid #707070", "border: 0"), ("left: 30mm }", "background: #eee }"),
                             ("left: 30mm }", "left: 30mm; border-right: 0 }")),
    "empty_pages": (("<!-- end -->", '<p style="break-before:page">End</p>'),
                    (".fill { height: 84mm", ".fill { height: 4mm")),
    "headings_alone": (("<!-- end -->", '<h2 style="position:absolute;top:178mm">Alone</h2>'),),
    "broken_tables": (("<tr><td>Press", f"<tr><td>{'Press<br/>' * 30}"),
                      ("<tr><td>Press", "<tr><td>Press</td></tr>" * 40 + "<tr><td>Press")),
    "heads_and_feet": (("counter(page)", '"9"'), ('"BRAND"', '"Brand X"'), ('"Squat" }', '"Bench" }'),
                       ("@bottom-right { content: counter(page) }", "")),
    "sessions_apart": ((".plan { break-before: left }", ".plan { break-before: right }"),
                       ("<h3>Squat</h3>", '<h3>Squat</h3><div style="height:180mm"></div>')),
}  # fmt: skip
"""For each check what is replaced, by what, so that it must speak."""
LOOSE = ("tr { break-inside: avoid }", "tr { break-inside: auto } thead { display: table-row-group }")
"""Tables that break anywhere and do not repeat their heads."""


def small_book(old: str = "", new: str = "", *, loose: bool = False) -> tuple[Book, str]:
    """The pages with one thing replaced, and their HTML."""
    usual = make_booklet(context("novice"))
    booklet = replace(usual, sections=SECTIONS, fields=())
    style, pages = STYLE.replace("CODE", CODE).replace("BRAND", usual.brand), PAGES
    if old:
        old, new = (text.replace("BRAND", usual.brand) for text in (old, new))
        assert old in style + pages
        style, pages = style.replace(old, new), pages.replace(old, new)
    head = '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"/><title>Small</title></head>'
    html = f"{head}<body>{pages}</body></html>"
    names = ("w01-d1-s1-t1-load", "w01-d1-s1-t1-reps")
    pressed = press(
        html, [style.replace(*LOOSE) if loose else style], roots=[places.templates()],
        fields={name: FieldSpec(name, "text", name) for name in names},
        meta=DocumentMeta("Small", "A", "B", "en", (), datetime(2027, 1, 4, tzinfo=UTC), "7F3K9Q"),
    )  # fmt: skip
    return Book(booklet, pressed, Leaves(pressed.pdf)), html
