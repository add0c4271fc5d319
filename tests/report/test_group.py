"""`report` over a folder: one line for each log, what cannot be read is named, and the rest is done."""

from __future__ import annotations

import json
import re
from datetime import date
from pathlib import Path

import pikepdf
import pytest
from cli.test_commands import loadleaf
from log.small import CLIENT, form
from log.viewers import Values
from pypdf import PdfReader
from report.printed import filled, text_of

from builder.log.report.group import Standing, standing
from builder.log.report.series import block_of

FULL: Values = {"w01-d1-s2-t1-done": True, "w01-d1-s2-t2-reps": "4", "w02-d1-s2-t1-done": True}
"""Two of the three sessions, planned for 4 and 11 January with a test on the 18th; one set of fewer reps."""
PEOPLE = ("Mira Holm", "Zoë Ünal", "Юлия Орлова")


def _standing(folder: Path, values: Values, on: date) -> Standing:
    block, problems = block_of([form(filled(folder, values).read_bytes(), folder)])
    assert not problems
    return standing(block, on)


def test_a_log_stands_where_its_sessions_say(tmp_path: Path) -> None:
    """Counted by hand from the plan of three weeks: Mondays from 4 January 2027, the test in the third."""
    at = _standing(tmp_path, FULL, date(2027, 1, 12))
    assert (at.recent_done, at.recent_due, at.done, at.due, at.missed) == (1, 1, 2, 2, 1)
    assert (at.last, at.quiet) == (date(2027, 1, 11), False)
    assert (at.test, at.test_due, at.test_done) == (date(2027, 1, 18), True, False)
    late = _standing(tmp_path, {"w01-d1-s2-t1-done": True}, date(2027, 1, 12))
    assert (late.recent_done, late.recent_due, late.done, late.due, late.quiet) == (0, 1, 1, 2, True)
    early = _standing(tmp_path, {}, date(2027, 1, 3))
    assert (early.recent_due, early.due, early.quiet, early.last, early.test_due) == (0, 0, False, None, False)
    tested = _standing(tmp_path, {"retest-l1-a1-good": True}, date(2027, 2, 20))
    assert (tested.test, tested.test_done, tested.test_due, tested.quiet) == (date(2027, 1, 18), True, False, False)


def test_what_is_done_on_another_day_than_planned_counts_where_it_was_done(tmp_path: Path) -> None:
    """A session of the week before, done yesterday: not quiet."""
    at = _standing(tmp_path, {"w01-d1-date": "2027-01-11", "w01-d1-s2-t1-done": True}, date(2027, 1, 12))
    assert (at.recent_done, at.quiet, at.last) == (0, False, date(2027, 1, 11))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Three lifters, one of whom has two copies, and what else lies in such a folder."""
    logs = tmp_path / "logs"
    logs.mkdir()
    for number, name in enumerate(PEOPLE):
        filled(logs, FULL if number else {"w01-d1-s2-t1-reps": "about 5"}, f"{number}.pdf", _named(name))
    (logs / "2-phone.pdf").write_bytes((logs / "2.pdf").read_bytes())
    (logs / "broken.pdf").write_bytes(b"%PDF-1.7\n%%EOF\n")
    (logs / "notes.txt").write_text("no PDF")
    return logs


def _named(name: str) -> str:
    return CLIENT.replace("name: Quill", f"name: {name}")


def test_a_folder_becomes_one_page_with_a_line_for_each_log(folder: Path) -> None:
    """The report itself may lie in the folder: the next one passes it over and takes its place."""
    for _ in range(2):
        done = loadleaf("report", "logs", "-o", "logs/group.pdf", "--date", "2027-01-12", cwd=folder.parent)
        assert done.returncode == 1
        assert "broken.pdf" in done.stderr and "1 of the files could not be read" in done.stderr
        assert "group.pdf" not in done.stderr
    pdf = (folder / "group.pdf").read_bytes()
    assert len(PdfReader(folder / "group.pdf").pages) == 1
    text = text_of(pdf)
    assert "Trained in the last seven days: 2 of 3 who had a session then." in text
    assert "Nothing done in the last seven days: Mira Holm." in text
    assert "Tests due by next week, or not written down (3): Mira Holm, Zoë Ünal, Юлия Орлова." in text
    assert "Zoë Ünal 1.pdf 1 of 1 2 of 2 1 11 Jan 2027 due 18 Jan 2027" in text
    assert re.search(r"Юлия Орлова 2(-phone)?\.pdf, 2(-phone)?\.pdf 1 of 1", text)
    assert "broken.pdf" in text.split("Not read")[1]


@pytest.mark.slow
def test_forty_logs_fit_on_one_page_in_both_languages(tmp_path: Path) -> None:
    (tmp_path / "logs").mkdir()
    with pikepdf.open(filled(tmp_path, FULL)) as pdf:
        told = json.loads(pdf.attachments["booklet.json"].get_file().read_bytes())
        for number in range(40):
            mine = told | {"client": f"{PEOPLE[number % 3]} {number:02d}", "digest": f"{number:064x}"}
            pdf.attachments["booklet.json"] = json.dumps(mine).encode()
            pdf.save(tmp_path / "logs" / f"buyer-{number:02d}-six-good-weeks.pdf")
    for language in ("en", "de"):
        target = tmp_path / f"{language}.pdf"
        done = loadleaf("report", tmp_path / "logs", "-o", target, "--language", language, "--date", "2027-01-12")
        assert done.returncode == 0, done.stderr
        assert len(PdfReader(target).pages) == 1
        assert len(set(re.findall(r"buyer-\d\d", text_of(target.read_bytes())))) == 40


def test_a_folder_is_named_alone_and_an_empty_one_is_told(folder: Path, tmp_path: Path) -> None:
    assert loadleaf("report", "logs", "logs/1.pdf", cwd=tmp_path).returncode == 2
    (tmp_path / "none").mkdir()
    done = loadleaf("report", "none", cwd=tmp_path)
    assert done.returncode == 1 and "[report-empty]" in done.stderr
