"""Rows of a roster to orders: what each booklet is made from and how it is wanted, all problems of all rows at once."""

from __future__ import annotations

import hashlib
import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path

from builder.given import Movements, Sources
from builder.intake import read, understood
from builder.intake.load import library
from builder.pages.model import Edition, Paper
from builder.places import themes
from builder.values.lists import EDITIONS, PAPERS
from builder.values.problem import Problem, Severity, Span, did_you_mean, in_order, listing
from builder.values.scalars import MAIL_HELP, is_mail
from builder.work.lines import file_stem
from builder.work.publish import Choices
from builder.work.publish.assets import brand_folder, brand_names, gather
from builder.work.publish.selling import settled, unsold
from builder.work.roster.table import BuyerTable, Row, TableCell
from builder.work.roster.written import strange_headings, written
from builder.work.texts import languages

PATTERN = "{name}-{block}"
WORDS = ("name", "block", "order", "buyer", "starts", "row")
"""What a file may be named by."""
ROW_FILE = "buyer.yaml"
"""Under this name the client part of a row travels in its booklet."""
# The bounds of --buyer and --order (`cli/options.py`), and of what is read back of a copy (`pdf/forms/form.py`).
MOST_STAMP = {"buyer": 60, "order": 40}
Texts = tuple[tuple[str, bytes], ...]


@dataclass(frozen=True, slots=True)
class Wishes:
    """What holds for every booklet where its row says nothing else, and how the files are named (None: as the brand
    says, or by name and block).
    """

    choices: Choices
    pattern: str | None = None


@dataclass(frozen=True, slots=True)
class BrandFiles:
    """The logo, fonts and pages that a brand brings along: the digest of them all, their folder and names in it."""

    digest: str = ""
    folder: Path = Path()
    names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Order:
    """One booklet to make: the sources of its own, how it is wanted, and whom it goes to."""

    row: int
    span: Span
    file: str
    name: str
    mail: str
    starts: str
    texts: Texts
    choices: Choices
    brand: BrandFiles


@dataclass(frozen=True, slots=True)
class Orders:
    """The good rows, and the problems of all; `bad` counts the rows that have an error."""

    good: tuple[Order, ...]
    problems: tuple[Problem, ...]
    bad: int


def orders_of(table: BuyerTable, shared: Texts, folder: Path, wishes: Wishes) -> Orders:
    """Every row as an order. Paths in rows start from `folder`, where the roster lies."""
    head = [*pattern_problems(wishes.pattern or "")]
    known = _library(shared)
    head += strange_headings(table.headings, known)
    if head:
        return Orders((), tuple(head), len(table.rows))
    # Many rows name the same block.
    files = lru_cache(maxsize=4096)(lambda name: read([folder / name]))
    reader = _OrderReader(shared, known, wishes, files)
    read_rows = [(row, *reader.order(row)) for row in table.rows]
    told = _once([problems for _, _, problems in read_rows], table.rows)
    good = [order for _, order, _ in read_rows if order is not None]
    twice = _twice(good)
    # None of them is made, since nobody can say whose the name is.
    good = [order for order in good if order.file not in twice]
    return Orders(tuple(good), (*told, *twice.values()), len(table.rows) - len(good))


class _OrderReader:
    def __init__(
        self, shared: Texts, known: Movements, wishes: Wishes, files: Callable[[str], tuple[Texts, tuple[Problem, ...]]]
    ) -> None:
        self.shared, self.known, self.wishes, self.files = shared, known, wishes, files

    def order(self, row: Row) -> tuple[Order | None, tuple[Problem, ...]]:
        """The order of a row, None where it has an error, and its problems."""
        own: list[tuple[str, bytes]] = []
        problems = [*row.problems]
        for heading in ("block", "profile"):
            if heading in row.cells:
                texts, wrong = self.files(row.cells[heading].text)
                own += texts
                problems += [replace(one, span=one.span or row.cells[heading].span) for one in wrong]
        text, wrong = written(row, ROW_FILE, self.known)
        choices, unfit = _choices(row, self.wishes.choices)
        problems += [*wrong, *unfit]
        own.append((text.name, text.text.encode()))
        # Each row is read as files are that somebody names by hand: so a roster makes what `build` would make of them.
        result = understood((*self.shared, *own))
        # Where a cell could not be used, what is missing elsewhere for want of it need not be said.
        heard = [one for one in result.problems if not problems or text.owns(one)]
        problems += [text.placed(problem) for problem in heard]
        if result.sources is None:
            return None, tuple(problems)
        choices = settled(_kept_back(choices, result.sources), result.sources)
        pattern, wrong_name = _pattern(self.wishes.pattern, result.sources)
        problems += [*unsold(choices, result.sources), *wrong_name]
        if any(one.severity is Severity.ERROR for one in problems):
            return None, tuple(problems)
        return _order(row, result.sources, tuple(own), choices, pattern), tuple(problems)


def _kept_back(choices: Choices, sources: Sources) -> Choices:
    """What many get carries neither rules nor profile, unless somebody wants it."""
    wanted = sources.brand.selling.sources if sources.brand else None
    return replace(choices, whole=choices.whole if choices.whole is not None else wanted is True)


def _pattern(wanted: str | None, sources: Sources) -> tuple[str, tuple[Problem, ...]]:
    """How files are named: as the caller wants it, else as the brand says, else by name and block."""
    own = sources.brand.selling.files if sources.brand else None
    if wanted is not None or own is None:
        return wanted or PATTERN, ()
    span = sources.at("selling", "files")
    return own, tuple(replace(problem, span=span) for problem in pattern_problems(own))


def _order(row: Row, sources: Sources, own: Texts, choices: Choices, pattern: str) -> Order:
    assert sources.client is not None and sources.block is not None
    client = sources.client
    starts = client.training.starts.isoformat()
    words = {
        "name": client.client.name, "block": sources.block.block.title, "order": choices.order,
        "buyer": choices.buyer, "starts": starts, "row": str(row.number),
    }  # fmt: skip
    # Part by part, so that a brace in somebody's name stands for itself.
    parts = [words[part[1:-1]] if part[:1] == "{" else part for part in _parts(pattern)]
    mail = row.cells["mail"].text if "mail" in row.cells else ""
    return Order(
        row.number, row.span, f"{file_stem(''.join(parts))}.pdf", client.client.name, mail, starts, own, choices,
        brand_files(sources),
    )  # fmt: skip


def _choices(row: Row, wanted: Choices) -> tuple[Choices, tuple[Problem, ...]]:
    """How a row wants its booklet."""
    problems: list[Problem] = []

    def chosen(heading: str, known: Callable[[], Sequence[str]]) -> str | None:
        cell = row.cells.get(heading)
        if cell is None:
            return None
        # Asked for only now: some of these lists are read from the disk, and most rows name nothing.
        words = known()
        meant = next((word for word in words if word.lower() == cell.text.lower()), None)
        if meant is None:
            help_ = did_you_mean(cell.text, words) or f"Write {listing(words)}."
            problems.append(Problem(f"unknown-{heading}", cell.span, f'there is no {heading} "{cell.text}"', help_))
        return meant

    paper, edition = chosen("paper", lambda: PAPERS), chosen("edition", lambda: EDITIONS)
    theme, language = chosen("theme", themes), chosen("language", languages)
    if (mail := row.cells.get("mail")) and not is_mail(mail.text):
        fact = f'"{mail.text}" is no address for mail'
        problems.append(Problem("wrong-form", mail.span, fact, f"Write {MAIL_HELP}."))
    stamps = {word: _stamp(row.cells.get(word), most, problems) for word, most in MOST_STAMP.items()}
    made = replace(
        wanted,
        paper=Paper(paper) if paper else wanted.paper,
        edition=Edition(edition) if edition else wanted.edition,
        theme=theme or wanted.theme,
        language=language or wanted.language,
        buyer=stamps["buyer"] or wanted.buyer,
        order=stamps["order"] or wanted.order,
    )
    return made, tuple(problems)


def _stamp(cell: TableCell | None, most: int, problems: list[Problem]) -> str:
    if cell is None:
        return ""
    if len(cell.text) > most or not cell.text.isprintable():
        fact = f"the text has {len(cell.text)} signs"
        problems.append(Problem("long-text", cell.span, fact, f"Write one line of at most {most} plain signs."))
    return cell.text


def _parts(pattern: str) -> list[str]:
    """The words in braces and what stands between them."""
    return [part for part in re.split(r"(\{[^{}]*\})", pattern) if part]


def pattern_problems(pattern: str) -> Iterator[Problem]:
    """What in a pattern stands for nothing."""
    for part in _parts(pattern):
        if part[:1] == "{" and part[1:-1] not in WORDS:
            fact, help_ = f'"{part}" names no file', f"Words: {listing(f'{{{word}}}' for word in WORDS)}."
            yield Problem("roster-name", None, fact, help_)


def _library(shared: Texts) -> Movements:
    """The movements that lifts may be named by: the built-in ones and those of the shared files."""
    sources = understood(shared, need=()).sources if shared else None
    return sources.movements if sources else library()


def _once(problems: Sequence[Sequence[Problem]], rows: Sequence[Row]) -> tuple[Problem, ...]:
    """All problems. One that every row has, of a shared file then, is told once; others with the row that has it."""
    count = Counter(problem for mine in problems for problem in dict.fromkeys(mine))
    common = [problem for problem, times in count.items() if times == len(rows) > 1]
    told = [*common]
    for row, mine in zip(rows, problems, strict=True):
        told += [replace(one, fact=_of_row(row, one)) for one in dict.fromkeys(mine) if one not in common]
    return in_order(told)


def _of_row(row: Row, problem: Problem) -> str:
    heading = next((word for word, cell in row.cells.items() if cell.span == problem.span), "")
    return f"row {row.number}{f', {heading}' if heading else ''}: {problem.fact}"


def _twice(orders: Sequence[Order]) -> dict[str, Problem]:
    """Rows that would be written into the same file."""
    rows: dict[str, list[Order]] = {}
    for order in orders:
        rows.setdefault(order.file, []).append(order)
    return {
        file: Problem(
            "roster-name", same[-1].span,
            f"rows {', '.join(str(one.row) for one in same)} would all be {file}",
            'Name the files by something that differs: --name "{name}-{order}".',
        )
        for file, same in rows.items() if len(same) > 1
    }  # fmt: skip


def brand_files(sources: Sources) -> BrandFiles:
    """The files that a brand names, none where there is no brand."""
    if sources.brand is None:
        return BrandFiles()
    folder, brand = brand_folder(sources), sources.brand.brand
    digest = _digest(_Brand(folder, brand.model_dump_json(), sources))
    return BrandFiles(digest, folder, brand_names(brand))


@dataclass(frozen=True, slots=True)
class _Brand:
    """A brand and where its files lie; the sources are those of any buyer of it."""

    place: Path
    written: str
    sources: Sources = field(compare=False)


@lru_cache(maxsize=16)
def _digest(brand: _Brand) -> str:
    assets, _ = gather(brand.sources)
    faces = ((f"{face.family} {face.weight} {face.style}", face.file.read_bytes()) for face in assets.faces)
    files = [*assets.carried, *faces]
    return hashlib.sha256("".join(name + hashlib.sha256(data).hexdigest() for name, data in files).encode()).hexdigest()


__all__ = ["PATTERN", "WORDS", "Order", "Orders", "Texts", "Wishes", "orders_of", "pattern_problems"]
