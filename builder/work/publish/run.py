"""Runs the line once: profile and rules to plan, plan to booklet, booklet to pages, pages to PDF."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from builder.intake import Loaded
from builder.values.problem import stops
from builder.work.publish.booklet import Published, draft, dress, printed
from builder.work.publish.carry import attachments, baggage
from builder.work.publish.choices import Choices
from builder.work.publish.selling import settled, unsold
from builder.work.publish.trial import located, placed


def publish(loaded: Loaded, choices: Choices, stage: Callable[[str], None] = lambda name: None) -> Published:
    """The booklet of loaded sources, which must hold a client and a block. `stage` hears the name of each stage.

    What the typesetter warns of is a problem, since a warning means a page that is not as designed.
    """
    sources = loaded.sources
    assert sources is not None
    choices = settled(choices, sources)
    worn, wrong = dress(sources, choices)
    wrong = (*unsold(choices, sources), *wrong)
    if stops(wrong):
        return Published(None, None, wrong)
    bags = baggage(loaded, worn.assets, whole=choices.whole is not False)
    stage("plan")
    made, stopped = draft(loaded, worn, choices)
    if made is None:
        return Published(None, None, (*wrong, *stopped))
    stage("booklet")
    booklet = made.booklet
    luggage = attachments(made.context, booklet, worn.theme.name, bags, made.mine, choices.protection)
    identifier = "-".join((made.mine.code, booklet.paper, booklet.edition, booklet.language, worn.theme.name))
    try:
        done = printed(booklet, worn, choices, identifier, () if choices.bleed else luggage, stage)
    except Exception:
        # A stranger's picture or font may break a library in its depth; whose fault it was, its own page tells.
        if not (found := located(booklet, sources, worn, choices)):
            raise
        return Published(None, booklet, (*wrong, *found))
    # The press knows the pages, not the files: whose fault it was is found by trying the brand's own pages.
    if stops(done.problems):
        done = replace(done, problems=placed(done.problems, booklet, sources, worn, choices))
    return replace(done, problems=(*wrong, *done.problems), plan=made.plan)
