"""One booklet filled in on several devices is one log; where the copies differ, neither is believed."""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
from log.small import booklet, form, log
from log.viewers import with_pikepdf

from builder.log import merge


def test_copies_complete_each_other(tmp_path: Path) -> None:
    phone = form(with_pikepdf(booklet(), {"w01-d1-s2-t1-reps": "5"}, tmp_path), tmp_path, "phone.pdf")
    laptop = form(with_pikepdf(booklet(), {"w01-d1-s2-t1-load": "155"}, tmp_path), tmp_path, "laptop.pdf")
    both, problems = log(phone, laptop)
    assert problems == ()
    assert log(laptop, phone)[0] == both
    entry = next(e for e in both.entries if (e.row.slot, e.row.set) == (2, 1))
    assert (entry.load, entry.reps) == (155, 5)


def test_editions_of_one_booklet_belong_together(tmp_path: Path) -> None:
    """The log edition has fewer fields than the whole booklet, and the same plan."""
    whole = form(with_pikepdf(booklet("personal"), {"w01-d1-note": "whole"}, tmp_path), tmp_path, "whole.pdf")
    small = form(with_pikepdf(booklet("log"), {"w02-d1-note": "log"}, tmp_path), tmp_path, "log.pdf")
    both, problems = log(small, whole)
    assert problems == ()
    assert [session.note for session in both.sessions] == ["whole", "log"]
    assert len(whole.manifest.fields) > len(small.manifest.fields)
    assert set(both.manifest.fields) == {*whole.manifest.fields, *small.manifest.fields}


def test_a_conflict_is_shown_and_counts_for_nothing(tmp_path: Path) -> None:
    one = form(with_pikepdf(booklet(), {"w01-d1-s2-t1-reps": "5"}, tmp_path), tmp_path, "one.pdf")
    other = form(with_pikepdf(booklet(), {"w01-d1-s2-t1-reps": "6"}, tmp_path), tmp_path, "other.pdf")
    both, (problem,) = log(one, other)
    assert problem.code == "log-conflict"
    assert all(word in problem.as_text() for word in ("one.pdf", "other.pdf", '"5"', '"6"', "page"))
    assert next(e for e in both.entries if (e.row.slot, e.row.set) == (2, 1)).state == "unclear"


def test_two_fields_of_one_name_in_one_file_conflict_too(tmp_path: Path) -> None:
    with pikepdf.open(io.BytesIO(with_pikepdf(booklet(), {"w01-d1-note": "first"}, tmp_path))) as pdf:
        twin = pikepdf.Dictionary(FT=pikepdf.Name.Tx, T="w01-d1-note", V="second")
        pdf.Root.AcroForm.Fields.append(pdf.make_indirect(twin))
        out = io.BytesIO()
        pdf.save(out)
    read, (problem,) = log(form(out.getvalue(), tmp_path))
    assert problem.code == "log-conflict"
    assert read.sessions[0].note == ""


def test_logs_of_different_booklets_are_not_mixed(tmp_path: Path) -> None:
    one = form(booklet(), tmp_path, "one.pdf")
    with pikepdf.open(io.BytesIO(booklet())) as pdf:
        told = pdf.attachments["booklet.json"].get_file().read_bytes()
        pdf.attachments["booklet.json"] = told.replace(one.manifest.digest.encode(), b"0" * 64)
        out = io.BytesIO()
        pdf.save(out)
    answers, (problem,) = merge([one, form(out.getvalue(), tmp_path, "two.pdf")])
    assert answers is None
    assert problem.code == "log-other"
