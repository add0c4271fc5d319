"""The reference as sections: what there is, then topic after topic, each heading to be linked to."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from builder.pages.coach_pages import flow, heading_names
from builder.pages.model import Booklet, Edition, Paper, Section
from builder.pages.sheet import sheet
from builder.pages.theme import Theme
from builder.words import Words

NAME = "reference"
_MARK = re.compile(r"^<!-- .* -->\n", re.MULTILINE)
_TITLE = re.compile(r"^#+ (.+)$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class ManualPage:
    """One topic, its title the heading of the first level."""

    body: Markup


def make_manual(
    overview: str, topics: Mapping[str, str], version: str, words: Words, paper: Paper, theme: Theme
) -> Booklet:
    """The whole manual, ready for the press."""
    texts = {NAME: overview, **topics}
    plain = {name: _MARK.sub("", text) for name, text in texts.items()}
    beyond = frozenset(name for text in plain.values() for name in heading_names(text))
    page = sheet(paper, theme)
    title = f"Loadleaf {version}: {_title(overview).lower()}"
    sections = tuple(
        Section(
            f"topic-{name}", _title(text), "manual", ManualPage(flow(words, NAME, text, 1, beyond).body), running=title
        )
        for name, text in plain.items()
    )
    return Booklet(
        title=title,
        author="Loadleaf",
        subject="What loadleaf help prints, to be read on paper.",
        brand="",
        language=words.language,
        paper=paper,
        edition=Edition.HANDBOOK,
        theme=theme.name,
        facing=page.facing,
        zoom=page.zoom,
        code="",
        sections=sections,
        fields=(),
    )


def _title(text: str) -> str:
    found = _TITLE.search(text)
    assert found, "a topic begins with its title"
    return found[1]
