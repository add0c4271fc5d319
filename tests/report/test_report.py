"""The pages of a report say what the logs add up to, worked out by hand, and print whatever the lifter wrote."""

from __future__ import annotations

import re
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from cli.test_commands import SAMPLES
from kept import once_a_run
from log.small import CLIENT, WRITTEN, form, log
from pdf import verapdf
from pypdfium2 import PdfDocument
from report.printed import LATER, alternatives, filled, made, text_of

from builder.log import progress
from builder.work import texts

HOSTILE = (
    '<script>alert(1)</script> &amp; {{ it.title }} </td></table> "quoted" '
    "\u202eright to left\u202c \x07bell \U0001f4aa "
)


@once_a_run
def _usual() -> tuple[bytes, bytes]:
    """A filled booklet and its report."""
    with TemporaryDirectory() as name:
        path = filled(Path(name), WRITTEN)
        return path.read_bytes(), made(Path(name), path)[0]


@pytest.fixture(scope="module")
def pdf() -> bytes:
    return _usual()[1]


@pytest.fixture(scope="module")
def text(pdf: bytes) -> str:
    return text_of(pdf)


def test_the_first_page_has_the_sums_of_the_log(text: str) -> None:
    """Two sessions of two; 5 of 16 sets are 31 %; one of 4 reps for 5; one crossed out, ten left blank."""
    assert "Sessions 2 of 2 due so far, of 2 planned" in text
    assert "Sets done 31 % 5 of 16 due so far" in text
    assert "Missed sets 1 fewer reps" in text
    assert "Left out 1 and 10 left blank" in text
    assert "Not read 0" in text


def test_the_volume_and_the_reserve_are_those_of_the_log(text: str) -> None:
    """150 × 5 + 150 × 4 + 170 × 7 + 25 × 5 in week 1 and one set of 5 with the planned 150 or more in week 2; the
    reserve was as planned on the open set, 5 under it on the chin-up, then 3 where 150 of 200 kg leave 5 (75 % go ten
    times: Haff & Triplett 2016, table 17.7): -7 over three sets is -2.3.
    """
    volume = re.search(r"Volume (\d) (\d{3}) kg of", text)
    assert volume
    second = int(volume[1] + volume[2]) - (150 * 5 + 150 * 4 + 170 * 7 + 25 * 5)
    assert second % 5 == 0 and second >= 750
    assert "Reserve −2.3 reps a set: harder than planned" in text


def test_every_number_of_the_sums_is_on_the_page(text: str, tmp_path: Path) -> None:
    """What `read` adds up to and what the report prints are the same."""
    sums = progress(log(form(_usual()[0], tmp_path))[0])
    done = sum((week.done_tonnage for week in sums.weeks), Decimal(0))
    assert f"Volume {int(done):,} kg".replace(",", " ") in text
    assert f"Records {len(sums.records)} best estimate ever: {sum(one.best for one in sums.records)}" in text
    assert text.count("Back squat 1") >= 1


def test_the_best_estimate_of_a_lift_is_on_the_page_with_the_max_it_was_planned_from(text: str) -> None:
    """170 kg for 7 with 1 in reserve is 80 % of 212.5 kg (Haff & Triplett 2016, table 17.7); planned from 200 kg.
    A chin-up counts 80 kg of body: 105 kg for 5 is 87 % of 120.7 kg (the same table).
    """
    assert "Best of the log: 212.5 kg on 4 Jan 2027, from 170 kg × 7, 1 RIR." in text
    assert "Planned from: 200 kg. Difference: +12.5 kg." in text
    assert "Best of the log: 120.7 kg on 4 Jan 2027, from +25 kg × 5, 0 RIR." in text
    assert "Bodyweight that moves along is counted: Chin-up." in text


def test_records_are_told_with_what_they_beat(text: str) -> None:
    """The three squats and the chin-up worked out for the log; 210 was never lifted before, and 120.7 kg is the best of
    the chin-up, planned from 100 kg for 5 with none left.
    """
    assert "4 Jan 2027, week 1 Back squat 170 kg × 7 200 kg × 1, 19 Dec 2026 best estimated max" in text
    assert re.search(r"week 3 Back squat 210 kg × 1 200 kg × 1, 19 Dec 2026 heaviest load", text)
    assert "Chin-up +25 kg × 5 +20 kg × 5, 19 Dec 2026 best estimated max" in text


def test_missed_sets_and_attempts_are_told(text: str) -> None:
    assert "Back squat 2 150 kg × 5, 5 RIR 150 kg × 4" in text
    assert "182.5 good, 210 good, 217.5 missed 210 kg × 1 210 kg" in text


def test_a_week_in_which_two_lifts_were_missed_asks_for_a_light_one(tmp_path: Path, text: str) -> None:
    """The squat of 4 and the chin-up of 3 for 5 each; the usual log has one miss, and nothing is said."""
    pdf, _ = made(tmp_path, filled(tmp_path, {"w01-d1-s2-t2-reps": "4", "w01-d1-s3-t1-reps": "3"}))
    assert "Missed in week 1: back squat, chin-up. Several lifts that stall together" in text_of(pdf)
    assert "stall together" not in text


def test_every_figure_has_an_alternative_text_with_its_numbers(pdf: bytes) -> None:
    told = alternatives(pdf)
    assert len(told) == 5, "three charts by week, one for each lift"
    assert "week 1: 4 of 8 sets, 1 missed; week 2: 1 of 8 sets, 0 missed" in told[0]
    assert "week 1: −2.5 reps over 2 sets; week 2: −2.0 reps over 1 set" in told[2]
    assert "planned from 200 kg" in told[3].replace("\u202f", " ")
    assert "4 Jan 2027: 212.5 kg, all equations" in told[3].replace("\u202f", " ")


def test_an_empty_log_gives_a_page_that_says_so(tmp_path: Path) -> None:
    pdf, said = made(tmp_path, filled(tmp_path, {}))
    text = text_of(pdf)
    assert said == ""
    assert "Nothing is written in this log yet." in text
    assert "Small Water" in text and "Week by week" not in text


def test_hostile_notes_are_printed_as_they_are(tmp_path: Path) -> None:
    """Tags, templates and quotes stand on the page; control signs and what no font has are boxes, and that is said."""
    values = {"w01-d1-note": HOSTILE, "w01-d1-s2-note": "long " * 400, "retest-note": "x" * 2000}
    pdf, said = made(tmp_path, filled(tmp_path, values))
    text = text_of(pdf)
    assert said == ""
    assert '<script>alert(1)</script> &amp; {{ it.title }} </td></table> "quoted" □right to left□ □bell □' in text
    assert "□ stands for a sign that cannot be printed." in text
    assert "long long…" in text and text.count("long") < 100
    assert "No record was set." in text and "No estimate can be made from this log." in text


def test_unclear_cells_are_warnings_stand_in_the_report_and_count_for_nothing(tmp_path: Path) -> None:
    """Two copies that differ, and a word for a number: the command ends with 0."""
    one = filled(tmp_path, {"w01-d1-s2-t1-reps": "fife", "w01-d1-s2-t2-load": "150"}, "one.pdf")
    two = filled(tmp_path, {"w01-d1-s2-t2-load": "155", "w01-d1-s2-t2-reps": "5"}, "two.pdf")
    pdf, said = made(tmp_path, one, two)
    text = text_of(pdf)
    assert said.count(": warning: ") == 2 and "2 cells are not clear" in said
    assert "Not read 2" in text
    assert "Week 1, day 1, Back squat, set 1: reps 1 “fife”" in text
    assert "Week 1, day 1, Back squat, set 2: load 1 “150” and “155”" in text
    assert "Sets done 0 %" in text


def test_a_load_without_a_reserve_is_a_lower_bound_and_marked(tmp_path: Path) -> None:
    pdf, _ = made(tmp_path, filled(tmp_path, {"w01-d1-s2-t1-done": True}))
    assert "Best of the log: at least 172.4 kg" in text_of(pdf)
    assert any("at least 172.4" in told for told in alternatives(pdf))


def test_two_blocks_stand_in_one_report_in_the_order_of_their_days(tmp_path: Path) -> None:
    """The second block is planned from 210 kg; its set of 160 for 5 with 3 left is 75 ... 80 % (8 reps) of 200 kg."""
    first = filled(tmp_path, {"w01-d1-s2-t3-reps": "5", "w01-d1-s2-t3-rir": "1"}, "first.pdf")
    entries = {"w01-d1-s2-t1-load": "160", "w01-d1-s2-t1-reps": "5", "w01-d1-s2-t1-rir": "3"}
    second = filled(tmp_path, entries, "second.pdf", LATER)
    pdf, _ = made(tmp_path, second, first)
    text = text_of(pdf)
    assert text.index("4 Jan 2027 to") < text.index("1 Feb 2027 to")
    assert "Sessions 2 of 2 due so far, of 4 planned" in text
    squat = next(told for told in alternatives(pdf) if told.startswith("Back squat")).replace("\u202f", " ")
    assert "planned from 200 kg from 4 Jan 2027" in squat and "planned from 210 kg from 1 Feb 2027" in squat
    assert "1 Feb 2027: 200 kg, all equations" in squat


def test_the_profile_adds_its_tests_to_the_charts(tmp_path: Path) -> None:
    client = tmp_path / "client.yaml"
    old = "{date: 2025-06-01, load: 180, reps: 1}, {date: 2026-03-01, load: 190, reps: 1, missed: true}, "
    client.write_text(CLIENT.replace("back squat:\n    tests: [", f"back squat:\n    tests: [{old}"))
    pdf, _ = made(tmp_path, filled(tmp_path, WRITTEN), "--client", client)
    squat = next(told for told in alternatives(pdf) if told.startswith("Back squat")).replace("\u202f", " ")
    assert "test 1 Jun 2025: 180 kg; test 1 Mar 2026: 190 kg missed; test 19 Dec 2026: 200 kg" in squat
    assert "on a shorter scale of time" in text_of(pdf)


@pytest.mark.parametrize(("paper", "language"), [("A4", "de"), ("Letter", "en")])
def test_the_charts_by_week_stay_on_the_first_page(paper: str, language: str, tmp_path: Path) -> None:
    """Also with a logo, three blocks and days on which nothing was done."""
    later = LATER.replace("starts: 2027-02-01", "starts: 2027-03-01")
    crossed = {f"w02-d1-s2-t{number}-reps": "x" for number in (1, 2, 3)}
    blocks = [
        filled(tmp_path, crossed | {"w01-d1-s2-t1-done": True, "w01-d1-s2-t1-rir": "3"}, f"{number}.pdf", client)
        for number, client in enumerate((CLIENT, LATER, later))
    ]
    choices = ("--paper", paper, "--language", language)
    pdf, _ = made(tmp_path, *blocks, "--brand", SAMPLES / "brand", *choices)
    with PdfDocument(pdf) as document:
        first, second = (document[number].get_textpage().get_text_range() for number in (0, 1))
    assert texts.catalogue(language)["report.weeks.effort"] in first
    assert texts.catalogue(language)["report.lifts"] in second


@pytest.mark.parametrize("paper", ["Letter", "A5", "half-letter"])
def test_other_papers_have_a_report_without_a_warning(paper: str, tmp_path: Path) -> None:
    pdf, said = made(tmp_path, filled(tmp_path, WRITTEN), "--paper", paper)
    assert said == ""
    assert "Estimated max" in text_of(pdf)


def test_a_german_report_has_no_english_sentence(tmp_path: Path) -> None:
    pdf, _ = made(tmp_path, filled(tmp_path, WRITTEN | {"w02-d1-date": "soon"}), "--language", "de")
    printed = " ".join([text_of(pdf), *alternatives(pdf)])
    english, german = texts.catalogue("en"), texts.catalogue("de")
    pieces = {
        piece.strip(" .,:;“”")
        for key, sentence in english.items()
        if key.startswith("report.") and sentence != german[key]
        for piece in re.split(r"{[^}]*}", sentence)
    }
    told = [piece for piece in pieces if len(piece) > 6]
    assert len(told) > 40
    assert [piece for piece in told if piece in printed] == []
    assert "Geschätztes Maximum" in printed and "212,5" in printed


def test_the_same_files_and_day_give_the_same_bytes(tmp_path: Path, pdf: bytes) -> None:
    """In another process, where texts have other hashes."""
    assert made(tmp_path, filled(tmp_path, WRITTEN), PYTHONHASHSEED="1")[0] == pdf


@pytest.mark.slow
@pytest.mark.skipif(bool(verapdf.absent()), reason=verapdf.absent() or "present")
def test_a_report_passes_pdf_ua_1_and_pdf_a_3a(tmp_path: Path, pdf: bytes) -> None:
    (tmp_path / "valid.pdf").write_bytes(pdf)
    assert verapdf.broken_rules(tmp_path / "valid.pdf") == {"ua1": [], "3a": []}
