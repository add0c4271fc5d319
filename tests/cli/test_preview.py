"""A preview is the page that the booklet has, follows the files, and is shown to nobody but this machine."""

from __future__ import annotations

import http.client
import io
import json
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import pytest
from cli.browser import Browser, absent
from click.testing import CliRunner
from pypdf import PdfReader

from builder.cli import loadleaf
from builder.intake import load
from builder.pages.model import Booklet, Layout, Paper
from builder.pdf import raster
from builder.plan import make_plan
from builder.work.preview import Desk, PagesWanted, PreviewPages, preview, watch
from builder.work.preview.follow import seen
from builder.work.preview.page import _sections
from builder.work.publish.booklet import draft, dress
from builder.work.publish.choices import Choices

ROOT = Path(__file__).parents[2]
SAMPLE = ROOT / "samples" / "novice"
DAY = date(2027, 1, 26)
PICTURE = "(() => { const one = document.querySelector('#sheet img'); return one && one.naturalWidth && one.alt; })()"
LIGHT, HEAVY = "load: 95, reps: 6", "load: 185, reps: 6"
"""The squat of the sample's lifter, and a stronger one."""
LIGHT_PAGE, HEAVY_PAGE = "70×7", "135×7"
"""Worked by hand: 100 × 95 / (48.8 + 53.8 e^(-0.075 × 8)) = 121.3 lb (Wathan 1994, constants as quoted by others), its
90 % and of that 65 % are 71.0 lb, and the plates make 70 (a bar of 45, and 10 + 2.5 a side). With 185 lb it is
138.2 lb; 45 a side make 135, and the next that can be loaded, 47.5 a side, would be 140."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in ("client.yaml", "block.yaml"):
        shutil.copy(SAMPLE / name, tmp_path / name)
    return tmp_path


@lru_cache
def booklet() -> Booklet:
    loaded, choices = load([SAMPLE]), Choices(DAY)
    made, _ = draft(loaded, dress(loaded.sources, choices)[0], choices)
    assert made is not None
    return made.booklet


def anchors(wanted: PagesWanted) -> list[str]:
    return [section.anchor for section in _sections(booklet(), wanted)]


def test_the_pages_that_were_asked_for_are_taken() -> None:
    assert anchors(PagesWanted()) == ["week-1-day-1"]
    assert anchors(PagesWanted(week=3)) == ["week-3-day-1"]
    assert anchors(PagesWanted(week=3, day=2)) == ["week-3-day-2"]
    assert anchors(PagesWanted(page="week", week=2)) == ["week-2"]
    assert anchors(PagesWanted(page="cover")) == ["cover"]
    assert anchors(PagesWanted(page="cover", week=2)) == []
    assert anchors(PagesWanted(week=9)) == []


def test_every_session_has_a_page_to_look_at_though_two_may_share_one() -> None:
    loaded = load([SAMPLE])
    assert loaded.sources is not None
    sessions = make_plan(loaded.sources).sessions()
    days = {(one.week, one.day): anchors(PagesWanted(week=one.week, day=one.day)) for one in sessions}
    assert all(days.values())
    assert days[5, 2] == days[5, 1] == ["week-5-day-1", "week-5-day-2"]  # a deload's two sessions
    assert days[4, 2] == ["week-4-day-2"]


@pytest.mark.parametrize(
    ("wanted", "told"),
    [
        (PagesWanted(page="covr"), 'Did you mean "cover"?'),
        (PagesWanted(week=9), "Its weeks are 1 to 8."),
        (PagesWanted(week=3, day=6), "Week 3 has the days 1, 2 or 3."),
        (PagesWanted(page="cover", week=3), "Such a page belongs to no week: leave --week and --day out."),
    ],
)
def test_a_page_that_is_not_there_is_told_with_those_that_are(wanted: PagesWanted, told: str) -> None:
    [problem] = preview(load([SAMPLE]), Choices(DAY), wanted).problems
    assert (problem.code, problem.help) == ("preview-page", told)


def test_plan_and_log_stand_side_by_side_without_a_blank_page_between() -> None:
    done = preview(load([SAMPLE]), Choices(DAY, Paper.A5, layout=Layout.SPREAD), PagesWanted())
    assert [page.extract_text().count("Log") for page in PdfReader(io.BytesIO(done.pdf)).pages] == [0, 1]
    shared = preview(load([SAMPLE]), Choices(DAY), PagesWanted(week=5, day=2))
    assert shared.pages == 1, "the sessions of a deload share one, as in the booklet"


def run(*arguments: str | Path) -> Any:
    return CliRunner().invoke(loadleaf, ["preview", *map(str, arguments), "--date", str(DAY)])


@pytest.mark.slow
def test_a_page_is_written_as_pdf_and_as_png(folder: Path) -> None:
    pdf, png = folder / "p.pdf", folder / "p.png"
    done = run(folder, "--week", "2", "--day", "1", "-o", pdf)
    assert done.exit_code == 0 and "1 page" in done.output
    [page] = PdfReader(pdf).pages
    assert "w02.d1" in page.extract_text(), "the code at the foot names week and day"
    for _ in range(2):  # the second takes the place of the first
        assert run(folder, "--week", "2", "--day", "1", "-o", png).exit_code == 0
    image = pytest.importorskip("PIL.Image")
    with image.open(png) as drawn:
        ratio = drawn.width / drawn.height
    assert ratio == pytest.approx(210 / 297, rel=0.01)  # ISO 216: A4
    assert run(folder, "-o", pdf).exit_code == 0, "one preview takes the place of another"
    png.write_bytes(b"\x89PNG\r\n\x1a\nof another")
    assert "[output-other]" in run(folder, "-o", png).output
    assert png.read_bytes().endswith(b"of another")


def test_both_programs_draw_the_same_page() -> None:
    """Poppler and PDFium are two works of their own, so what both show is on the page."""
    if not (shutil.which("pdftoppm") and find_spec("pypdfium2")):
        pytest.skip("pdftoppm or pypdfium2 is not installed")
    from pypdf import PdfWriter

    out = io.BytesIO()
    writer = PdfWriter()
    writer.add_blank_page(72, 144)
    writer.add_blank_page(72, 72)
    writer.write(out)
    drawn = [tuple(by(out.getvalue())) for by in (raster._by_pdfium, raster._by_poppler)]
    assert drawn[0] == drawn[1]
    assert [(width, height) for width, height, _ in drawn[0]] == [(120, 240), (120, 120)]


def test_without_a_program_that_draws_it_is_said_what_to_install(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("builder.pdf.raster.find_spec", lambda name: None)
    monkeypatch.setattr("shutil.which", lambda name: None)
    done = run(folder, "-o", folder / "p.png")
    assert done.exit_code == 1 and "[png-program]" in done.output and "pip install pypdfium2" in done.output
    assert not (folder / "p.png").exists()


def test_options_that_do_not_go_together_are_refused(folder: Path) -> None:
    assert run(folder, "--watch", "-o", "p.pdf").exit_code == 2
    assert run(folder, "--port", "8000").exit_code == 2


def asked(desk: Desk, path: str, *hosts: str, method: str = "GET", tag: str = "") -> tuple[int, dict[str, str], bytes]:
    connection = http.client.HTTPConnection("127.0.0.1", desk.port, timeout=10)
    connection.putrequest(method, path, skip_host=True)
    for host in hosts:
        connection.putheader("Host", host)
    if tag:
        connection.putheader("If-None-Match", tag)
    connection.endheaders()
    answer = connection.getresponse()
    body = answer.read()
    connection.close()
    return answer.status, dict(answer.getheaders()), body


def test_the_desk_answers_its_own_page_alone() -> None:
    with Desk() as desk:
        own = f"127.0.0.1:{desk.port}"
        status, headers, body = asked(desk, "/", own)
        assert status == 200 and b"page.js" in body
        policy = headers["Content-Security-Policy"]
        assert "default-src 'none'" in policy and "unsafe" not in policy and "http" not in policy
        assert headers["Cross-Origin-Resource-Policy"] == "same-origin"
        assert asked(desk, "/state", f"localhost:{desk.port}")[0] == 200
        for hosts in ((), ("example.org",), (f"example.org:{desk.port}",), ("127.0.0.1",), (own, "example.org")):
            assert asked(desk, "/state", *hosts)[0] == 403, hosts
        for path in ("/../client.yaml", "/client.yaml", "//etc/passwd", "/page.pdf", "/page.png", own + "/"):
            assert asked(desk, path, own)[0] == 404, path  # no pages were laid there yet
        for method in ("POST", "PUT", "OPTIONS", "HEAD"):
            assert asked(desk, "/state", own, method=method)[0] == 501, method


def test_a_fault_keeps_the_last_good_pages() -> None:
    good = preview(load([SAMPLE]), Choices(DAY), PagesWanted(page="cover"))
    wrong = PreviewPages(load([ROOT / "samples" / "novice" / "client.yaml"]).problems)
    with Desk() as desk:
        own = f"127.0.0.1:{desk.port}"
        desk.show(wrong)
        assert not desk.view.made and desk.view.stale
        desk.show(good)
        _, headers, body = asked(desk, "/state", own)
        state = json.loads(body)
        assert (state["made"], state["stale"], state["problems"]) == (1, False, [])
        assert asked(desk, "/state", own, tag=headers["ETag"])[0] == 304
        desk.show(wrong)
        state = json.loads(asked(desk, "/state", own, tag=headers["ETag"])[2])
        assert (state["made"], state["stale"], state["title"]) == (1, True, good.title)
        assert state["problems"][0]["severity"] == "error" and "client.yaml:1:1" in state["problems"][0]["text"]
        assert asked(desk, "/page.pdf?1", own)[2] == good.pdf
    assert good.pages == 1


def test_a_file_that_changes_goes_or_comes_is_seen(tmp_path: Path) -> None:
    file, other = tmp_path / "a", tmp_path / "b"
    file.write_text("1")
    states = [seen([file, other])]
    for change in (lambda: file.write_text("22"), lambda: other.write_text("3"), file.unlink):
        change()
        states.append(seen([file, other]))
    assert len(set(states)) == 4


def test_a_file_that_is_just_being_replaced_is_looked_for_again(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    good, calls = PreviewPages((), b"%PDF-1.7", "title"), iter((FileNotFoundError("logo.svg"), None))

    def once(*_: object) -> PreviewPages:
        if error := next(calls):
            raise error
        return good

    def stop(shown: PreviewPages) -> None:
        assert shown is good
        raise KeyboardInterrupt

    monkeypatch.setattr("builder.work.preview.follow.preview", once)
    monkeypatch.setattr(Desk, "show", lambda desk, shown: None)
    with Desk() as desk, pytest.raises(KeyboardInterrupt):
        watch([folder], Choices(DAY), PagesWanted(), desk, stop)


@contextmanager
def watching(folder: Path, *more: str) -> Iterator[tuple[str, subprocess.Popen[str]]]:
    """A preview that watches a folder, with its address."""
    run = subprocess.Popen(
        [sys.executable, "-m", "builder", "preview", str(folder), "--date", str(DAY), "--watch", *more],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),  # tests in the background hear none
    )  # fmt: skip
    try:
        assert run.stdout is not None
        yield run.stdout.readline().strip(), run
    finally:
        run.kill()
        run.communicate()


@pytest.mark.slow
@pytest.mark.skipif(bool(absent()), reason=absent() or "a browser is there")
def test_a_browser_shows_the_new_load_the_problems_and_the_end(folder: Path, tmp_path: Path) -> None:
    client = folder / "client.yaml"
    text = client.read_text()
    with watching(folder) as (address, run), Browser(address, tmp_path / "browser") as browser:
        light = browser.wait(PICTURE)
        assert LIGHT_PAGE in light and HEAVY_PAGE not in light
        client.write_text(text.replace(LIGHT, HEAVY))
        browser.wait(f"(() => {{ const alt = {PICTURE}; return alt && alt.includes('{HEAVY_PAGE}'); }})()")
        client.write_text(text.replace(LIGHT, "load: 9,5,5, reps: 6"))
        fault = browser.wait("document.querySelector('pre.error')?.textContent")
        assert "client.yaml:" in fault and "9,5,5" in fault
        assert HEAVY_PAGE in browser.value(PICTURE), "the last good page stays"
        assert browser.value("document.getElementById('sheet').className") == "stale"
        client.write_text(text)
        assert browser.wait("document.querySelector('#sheet:not(.stale)') && !document.querySelector('pre')")
        assert browser.value(PICTURE) == light
        assert browser.value("fetch('https://example.org/').then(() => 'read', () => 'refused')") == "refused"
        run.send_signal(signal.SIGINT)
        assert run.wait(20) == 0
        assert run.stderr is not None and "Traceback" not in run.stderr.read()
        browser.wait("document.getElementById('state').textContent.includes('ended')")
    assert sorted(path.name for path in folder.iterdir()) == ["block.yaml", "browser", "client.yaml"]


@pytest.mark.slow
def test_a_port_that_is_taken_is_told(folder: Path) -> None:
    with Desk() as desk:
        done = run(folder, "--watch", "--port", str(desk.port))
    assert done.exit_code == 1 and "[port]" in done.output
