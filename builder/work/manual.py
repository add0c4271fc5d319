"""The manual as a PDF: the reference through the press."""

from __future__ import annotations

from collections.abc import Callable

from builder import __version__
from builder.pages.manual import make_manual
from builder.pages.model import Paper
from builder.values.problem import stops
from builder.values.quantity import Unit
from builder.work import topics
from builder.work.publish import Choices, Published, dress, printed
from builder.work.texts import DEFAULT_LANGUAGE, load_words


def manual(choices: Choices, stage: Callable[[str], None] = lambda name: None) -> Published:
    """The reference on paper; it is written in English."""
    worn, problems = dress(None, choices)
    if stops(problems):
        return Published(None, None, problems)
    paper = worn.paper or Paper.A4
    words = load_words(DEFAULT_LANGUAGE, Unit.KG)
    booklet = make_manual(topics.overview(), topics.topics(), __version__, words, paper, worn.theme)
    return printed(booklet, worn, choices, f"manual-{__version__}-{paper}", (), stage)
