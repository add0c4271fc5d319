"""Letters and lengths by which pages are counted and which the style sheets draw with, each said once.

A sheet has `LIFT_NAME` as `var(--m-lift-name)`, "13pt/5.2mm", and its parts as `var(--m-lift-name-points)` and
`var(--m-lift-name-mm)`. What differs by paper and density stands in `sheet`, `columns`, `grid` and `titles`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.pages.sheet import Prose


class Points(float):
    """The size of letters; a plain number is mm."""


class Share(float):
    """A part of a whole width."""


class Em(float):
    """A length that goes with the size of its letters."""


CAUTION = Prose(8.5, 3.6)
"""What holds for a whole session on the page of plan and log."""
ABOUT = Points(8.5)
"""The coach's note on the same page."""
GOES_ON = Prose(8.5, 3.6)
GOES_ON_UP = 0.8
"""The line at the foot of a page after which the session goes on, and mm above it."""
LIFT_NAME = Prose(13.0, 5.2)
LIFT_UP = 0.6
"""mm above a name."""
LIFT_IN = 5.0
"""mm by which further lines of a name, and the sets tucked below it, stand in."""
LIFT_NUMBER_GAP = 0.6
LIFT_TAG_GAP = 1.0
LIFT_RECORD_GAP = 1.6
"""mm before a name, its tags and a record besides a space."""
LIFT_SETS = Prose(12.0, 4.8)
LIFT_SMALL = Points(8.5)
"""Tags, ramp, record, and what stands small beside plates."""
LIFT_RULE = 0.2
"""mm of the line over a lift."""
SIDE_UP = 0.7
SIDE_LINE = 5.0
SIDE_CAPTION = 3.2
"""mm above plates, of a line of these and of the words below them."""
NOTE = Points(8.5)
NOTE_IN = 3.4
"""mm by which the further lines of a note stand in."""

PLAN_RAMP = Points(10.0)
PLAN_RAMP_IN = 9.0
"""mm by which further lines of a ramp stand in."""
PLAN_NUMBER_GAP = 1.2
PLAN_TAG_GAP = 1.6
PLAN_SIDE_LINE = 4.2
PLAN_SIDE_GAP = 1.0
"""mm of a line of plates, and kept free behind them."""

LOG_HEAD = 10.6
LOG_HEAD_TITLED = 17.2
"""mm of the head of a log, and of one that has the title of its session because it faces no plan."""
LOG_COLUMNS = 4.0
"""mm of the names of the columns."""
LOG_LIFT = 5.6
LOG_LIFT_GAP = 2.4
LOG_LIFT_TIGHT = 4.4
LOG_LIFT_GAP_TIGHT = 0.6
"""mm of the name of a lift over its rows and of the gap below these, also on a tight page."""
LOG_NOTE_UP = 1.6
"""mm above the note at the foot of a log."""

LOG_PLANNED = Points(7.5)
LOG_PLANNED_ENLARGED = Points(8.5)
"""A planned set beside its cells; where letters are large, one that is too long is set as in usual print."""

RULE_IN = 4.0
"""mm by which the lines of a rule stand in."""
RULE_ROOMY = Prose(12.0, 6.0)
STEP_ROOMY = 9.0
"""A rule of the test, and mm of a step of its ramp, on a page with room for larger letters."""
LOADS_SHARE = 10.5
LOADS_GAP = 1.5
"""mm of the column of shares in a table of loads, and before and behind each load."""

CHOICE_PLATES = Prose(12.0, 4.6)
CHOICE_CLOSER = Em(-0.06)
"""Between the words of a choice's plates, besides a space."""
# The smallest type that any page has.
CHOICE_MEANING = Prose(7.5, 3.4)
CHOICE_HEAD = Prose(8.5, 3.8)
CHOICE_OUTCOME = 17.0
CHOICE_APART = 2.2
"""mm of the first column of the table of choices, and between columns."""

CARD_SMALL, CARD_SMALL_ENLARGED = Points(9.0), Points(10.0)
CARD_TITLE = Prose(12.0, 5.2)
CARD_TOP, CARD_WHEN = Share(0.52), Share(0.46)
"""What the heaviest set and the lift take of a card, and what the day and its title do."""
KICKER = Points(10.0)
"""The line over a title, its letters `KICKER_APART`."""
KICKER_APART = Em(0.01)


def _told(value: float) -> str:
    units = {Points: "pt", Em: "em", Share: "%"}
    return f"{value * 100 if isinstance(value, Share) else value:g}{units.get(type(value), 'mm')}"


def _written() -> Iterator[tuple[str, str]]:
    for name, value in globals().items():
        told = name.lower().replace("_", "-")
        if isinstance(value, Prose):
            points, mm = _told(Points(value.points)), _told(value.mm)
            yield from ((told, f"{points}/{mm}"), (f"{told}-points", points), (f"{told}-mm", mm))
        elif isinstance(value, float):
            yield told, _told(value)


_MEASURES = dict(_written())


def measured(css: str) -> str:
    """A style sheet of ours with its measures in it; KeyError where it asks for one that is not here."""
    return re.sub(r"var\(--m-([a-z-]+)\)", lambda found: _MEASURES[found[1]], css)
