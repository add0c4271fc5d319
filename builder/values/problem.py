"""A problem is a code, a place, a fact and a way out; it is shown as text or as JSON."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum

from builder.values.mouth import visible


class Severity(StrEnum):
    """Whether a problem stops the build."""

    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """Where something stands in a person's file; line and column count from 1."""

    file: str
    line: int
    column: int
    width: int = 1
    source: str = ""


@dataclass(frozen=True, slots=True, order=True)
class Cell:
    """Where something stands in a filled PDF: the page counts from 1 (0 where no page shows it), the field by name."""

    file: str
    page: int
    field: str

    def as_text(self) -> str:
        """`file, page 17, field w03-d1-s1-t2-load`."""
        page = f", page {self.page}" if self.page else ""
        return f"{self.file}{page}, field {self.field}"


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing to mend: `fact` says what is wrong, `help` what is expected and how to write it.

    `signs` are the letters that the fact speaks of, `about` the font families or the file, for whoever knows where
    these were written or named.
    """

    code: str
    span: Span | Cell | None
    fact: str
    help: str
    severity: Severity = Severity.ERROR
    signs: str = ""
    about: tuple[str, ...] = ()

    def as_text(self) -> str:
        """`file:line:column: fact`, the source line with a caret below, then the help."""
        fact, help_ = visible(self.fact), visible(self.help)
        if self.span is None:
            return f"{self.severity}: {fact} [{self.code}]\n  {help_}"
        at = self.span
        if isinstance(at, Cell):
            return f"{visible(at.as_text())}: {self.severity}: {fact} [{self.code}]\n  {help_}"
        lines = [f"{visible(at.file)}:{at.line}:{at.column}: {self.severity}: {fact} [{self.code}]"]
        if at.source:
            gutter = f"{at.line:>5} | "
            before, marked, after = _window(at.source, at.column, at.width)
            caret = " " * len(before) + "^" * max(1, len(marked))
            lines += [gutter + before + marked + after, " " * 5 + " | " + caret]
        lines.append(f"  {help_}")
        return "\n".join(lines)

    def as_json(self) -> dict[str, object]:
        """The same facts for a program."""
        at = self.span
        place: dict[str, object] = {"file": at.file if at else None}
        if isinstance(at, Cell):
            place |= {"page": at.page or None, "field": at.field}
        else:
            place |= {"line": at.line if at else None, "column": at.column if at else None}
        return {"code": self.code, "severity": str(self.severity), **place, "fact": self.fact, "help": self.help}


def stops(problems: Iterable[Problem]) -> bool:
    """Whether one of the problems is more than a warning."""
    return any(problem.severity is Severity.ERROR for problem in problems)


def in_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Problems sorted by file and place, each once; those without a place come last."""
    return tuple(sorted(dict.fromkeys(problems), key=_place))


def _place(problem: Problem) -> tuple[object, ...]:
    at = problem.span
    if isinstance(at, Cell):
        # Of the same shape as that of a span, since both are sorted together.
        return False, at.file, at.page, 0, at.field, problem.code
    return at is None, *((at.file, at.line, at.column, "") if at else ("", 0, 0, "")), problem.code


def closest(word: str, known: Sequence[str]) -> str | None:
    """The known word that `word` is probably meant for."""
    # Reversed, so that of two that differ in large letters alone the first is offered.
    by_lower = {k.lower(): k for k in reversed(known)}
    near = get_close_matches(word.lower(), list(by_lower), n=1, cutoff=0.6)
    return by_lower[near[0]] if near else None


def did_you_mean(word: str, known: Sequence[str]) -> str:
    """A question naming the closest known word, or "" when none is close."""
    near = closest(word, known)
    return f'Did you mean "{near}"?' if near else ""


def listing(words: Iterable[str], most: int = 12) -> str:
    """`a, b or c`; a long list is cut with the count of what is left."""
    shown = list(words)
    if len(shown) > most:
        return ", ".join(shown[:most]) + f" or one of {len(shown) - most} more"
    return ", ".join(shown[:-1]) + " or " + shown[-1] if len(shown) > 1 else "".join(shown)


def _window(source: str, column: int, width: int, most: int = 100) -> tuple[str, str, str]:
    """The part of a long line around `column`: before the place, the place, and behind it, unseen signs spelled out."""
    start, end = column - 1, column - 1 + width
    first = 0 if end < most else max(0, column - most // 2)
    last = first + most
    return visible(source[first:start]), visible(source[start : min(end, last)]), visible(source[end:last])
