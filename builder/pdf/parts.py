"""What goes into the press and what comes out of it: frozen values, and the one error it raises."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Literal

from builder.values.problem import Problem


class PressError(Exception):
    """The pages cannot become the PDF that was asked for; `problems` says why and what to do."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        super().__init__("\n".join(problem.as_text() for problem in problems))
        self.problems = tuple(problems)


@dataclass(frozen=True, slots=True)
class DocumentMeta:
    """The document's own data; `created` carries a time zone and is the only time in the file.

    `language` is a BCP 47 tag, `identifier` any text that tells this document from others. `rights` says whose
    copy it is; `licensee` says it in names and values for the information dictionary.
    """

    title: str
    author: str
    subject: str
    language: str
    keywords: tuple[str, ...]
    created: datetime
    identifier: str
    rights: str = ""
    licensee: tuple[tuple[str, str], ...] = ()

    def __post_init__(self) -> None:
        if self.created.tzinfo is None:
            raise ValueError("the creation time of a document needs a time zone")
        for name in ("title", "language", "identifier"):
            if not getattr(self, name).strip():
                raise ValueError(f"a document needs its {name}")

    def created_as(self, form: str) -> str:
        """The creation time in UTC, written in a strftime `form`; years have four digits."""
        created = self.created.astimezone(UTC)
        return created.strftime(form.replace("%Y", f"{created.year:04d}"))


@dataclass(frozen=True, slots=True)
class Attached:
    """A file that travels inside the PDF; the name is ASCII, `relationship` as in ISO 19005-3, 6.8."""

    name: str
    data: bytes = field(repr=False)
    description: str
    mime: str
    relationship: Literal["Source", "Data", "Alternative", "Supplement", "Unspecified"] = "Source"

    def __post_init__(self) -> None:
        # Readers do not agree on names beyond ASCII: some list such a file twice, under two names.
        if not self.name.isascii() or not self.name.isprintable() or "/" in self.name:
            raise ValueError(f"an attachment's name is plain ASCII without a path: {self.name!r}")


@dataclass(frozen=True, slots=True)
class PageLabel:
    """From page `first` (counted from 0) on, viewers number pages in `style` after `prefix`.

    Styles: D 1 2 3, r i ii iii, R I II III, a a b c, A A B C, and "" for the prefix alone.
    """

    first: int
    style: Literal["D", "r", "R", "a", "A", ""]
    prefix: str = ""
    start: int = 1


@dataclass(frozen=True, slots=True)
class OutlineEntry:
    """One bookmark: level from 1, page from 0."""

    level: int
    title: str
    page: int


@dataclass(frozen=True, slots=True)
class Pressed:
    """The finished file and what is worth knowing about it; its `problems` are warnings."""

    pdf: bytes = field(repr=False)
    pages: int
    field_count: int
    warnings: tuple[str, ...]
    outline: tuple[OutlineEntry, ...]
    problems: tuple[Problem, ...] = ()
