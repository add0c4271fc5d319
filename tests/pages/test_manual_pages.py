"""The manual: the reference on paper, topic after topic, with links that lead somewhere."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from builder.pages.manual import make_manual
from builder.pages.model import Booklet, Paper
from builder.pages.theme import theme
from builder.values.quantity import Unit
from builder.work import topics
from builder.work.manual import manual
from builder.work.publish import Choices, output_spot
from builder.work.texts import load_words


@pytest.fixture(scope="module")
def made() -> Booklet:
    words = load_words("en", Unit.KG)
    return make_manual(topics.overview(), topics.topics(), "9.9", words, Paper.A4, theme("default"))


def test_every_topic_is_a_section_under_its_title(made: Booklet) -> None:
    assert [section.anchor for section in made.sections[1:]] == [f"topic-{name}" for name in topics.topics()]
    assert [section.title for section in made.sections][:3] == ["The reference", "Commands", "Writing the files"]


def test_every_link_of_the_reference_leads_to_a_heading_of_the_manual(made: Booklet) -> None:
    html = "".join(str(section.data.body) for section in made.sections)  # type: ignore[attr-defined]
    targets = re.findall(r' id="([^"]+)"', html)
    assert len(targets) == len(set(targets))
    links = re.findall(r'href="#([^"]+)"', html)
    assert len(links) == len(re.findall(r"\]\(#", topics.reference())) > 300
    assert set(links) <= set(targets)


def test_marks_of_tables_are_not_printed(made: Booklet) -> None:
    assert not [section.title for section in made.sections if "keys:" in str(section.data.body)]  # type: ignore[attr-defined]


@pytest.mark.slow
def test_the_press_sets_it_without_a_word_and_a_booklet_does_not_take_its_place(tmp_path: Path) -> None:
    done = manual(Choices(date(2027, 1, 4)))
    assert done.problems == () and done.pressed is not None
    told = {entry.title for entry in done.pressed.outline}
    assert {"The client", "gym:", "loadleaf build FILES", "Trust"} <= told
    (tmp_path / "manual.pdf").write_bytes(done.pressed.pdf)
    assert output_spot(tmp_path / "manual.pdf", (), kind="manual", replace=False)[1] == ()
    assert [p.code for p in output_spot(tmp_path / "manual.pdf", (), kind="booklet", replace=False)[1]] == [
        "output-other"
    ]
