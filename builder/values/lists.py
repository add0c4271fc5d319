"""The closed lists that files, options, maths and pages share: papers, editions, layouts, languages, status, sex."""

from __future__ import annotations

from enum import StrEnum


class Paper(StrEnum):
    """A page size; each has its own design."""

    A4 = "A4"
    LETTER = "Letter"
    A5 = "A5"
    HALF_LETTER = "half-letter"

    @property
    def small(self) -> bool:
        """Whether plan and log take facing pages instead of sharing one."""
        return self in (Paper.A5, Paper.HALF_LETTER)

    @property
    def millimetres(self) -> tuple[float, float]:
        """Width and height of the trimmed page."""
        return _SIZES[self]


_SIZES = {
    Paper.A4: (210.0, 297.0),
    Paper.LETTER: (215.9, 279.4),
    Paper.A5: (148.0, 210.0),
    Paper.HALF_LETTER: (139.7, 215.9),
}


class Edition(StrEnum):
    """Which pages a booklet has: the lifter's, those and all that a coach needs, the texts that are read once, the
    session pages, or the log pages alone.
    """

    PERSONAL = "personal"
    COACH = "coach"
    HANDBOOK = "handbook"
    POCKET = "pocket"
    LOG = "log"

    @property
    def whole(self) -> bool:
        """Whether the block stands in it week by week, with all that belongs before and after."""
        return self in (Edition.PERSONAL, Edition.COACH)


class Layout(StrEnum):
    """How a session is laid out: plan and log on one page where they fit, or with room, each on its own."""

    PAGE = "page"
    SPREAD = "spread"


class Language(StrEnum):
    """A language that there are words and longer texts for, by its code."""

    GERMAN = "de"
    ENGLISH = "en"


PAPERS, EDITIONS = tuple(map(str, Paper)), tuple(map(str, Edition))
LAYOUTS, LANGUAGES = tuple(map(str, Layout)), tuple(map(str, Language))


class Keep(StrEnum):
    """Which finished pages stay on the disk for later runs: none, those that say nothing of a person, or all."""

    NONE = "none"
    TEXTS = "texts"
    ALL = "all"


class TrainingStatus(StrEnum):
    """How far a lifter has come."""

    NOVICE = "novice"
    INTERMEDIATE = "intermediate"
    ADVANCED = "advanced"


class Sex(StrEnum):
    """The class that a score's coefficients were fitted to."""

    FEMALE = "female"
    MALE = "male"
