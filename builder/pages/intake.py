"""The intake form: what a coach has to know of a buyer, as pages to fill in on a screen or with a pen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from builder.pages.front import QUESTIONS
from builder.pages.model import Booklet, Edition, Paper, Section
from builder.pages.sheet import Sheet
from builder.pages.theme import Theme
from builder.values.fields import (
    AnswerField,
    Field,
    FieldSpec,
    IntakeField,
    IntakeList,
    IntakeOnce,
    IntakePart,
    IntakeRow,
    SignField,
    write,
)
from builder.values.quantity import Unit
from builder.words import Words

TEMPLATE = "intake"
# A filled form says for each row which lift or plate it was printed with (`IntakeFacts`), so these may change.
LIFTS = ("back squat", "bench press", "deadlift", "overhead press")
"""Printed in the first rows of the tested lifts; any other is written below them."""
ROWS: dict[IntakeList, int] = {"lift": 6, "bar": 3, "bell": 2, "stack": 3, "pins": 1, "limit": 3}
PLATES = {
    Unit.KG: ("25", "20", "15", "10", "5", "2.5", "1.25", "1", "0.5", "0.25"),
    Unit.LB: ("55", "45", "35", "25", "10", "5", "2.5", "1.25", "1", "0.5"),
}
"""The plates that shops sell: common practice, no source."""
DAYS: tuple[IntakeOnce, ...] = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
COLUMNS: dict[IntakeList, tuple[tuple[IntakePart, int], ...]] = {
    "lift": (("name", 40), ("load", 18), ("reps", 14), ("rir", 14), ("date", 24), ("high", 11), ("low", 11),
             ("belt", 11)),
    "bar": (("name", 60), ("weight", 24)),
    "bell": (("name", 50), ("from", 20), ("to", 20), ("step", 20)),
    "stack": (("name", 50), ("from", 20), ("to", 20), ("step", 20)),
    "pins": (("first", 24), ("spacing", 24), ("holes", 24)),
    "limit": (("area", 36), ("avoid", 60), ("since", 26)),
}  # fmt: skip
"""The columns of each list with their shares of its width."""
TICKS = ("high", "low", "belt")
Kind = Literal["text", "tick", "multiline"]


@dataclass(frozen=True, slots=True)
class Ask:
    """One thing that is asked: the field, what stands beside it, and its share of the row.

    Without a field the label is printed in its place.
    """

    field: str
    label: str
    kind: Kind
    share: int


@dataclass(frozen=True, slots=True)
class AskTable:
    """A list: its heads with their widths in percent, and the cells of each row."""

    heads: tuple[tuple[str, float], ...]
    rows: tuple[tuple[Ask, ...], ...]


@dataclass(frozen=True, slots=True)
class FormPart:
    """One part of the form, kept together: lines of asks, then a list, then yes-or-no questions."""

    title: str
    lead: str
    lines: tuple[tuple[Ask, ...], ...] = ()
    grid: AskTable | None = None
    questions: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class IntakePage:
    """The whole form."""

    title: str
    lead: str
    logo: str | None
    logo_alt: str
    brand: str
    yes: str
    no: str
    parts: tuple[FormPart, ...]
    send: str


@dataclass(frozen=True, slots=True)
class IntakeContext:
    """What a form is made from: masses are asked for in the words' unit; `send` says where it goes, "" for nowhere."""

    words: Words
    paper: Paper
    theme: Theme
    sheet: Sheet
    brand: str
    send: str
    logo: str | None
    code: str


def make_intake(ctx: IntakeContext) -> Booklet:
    """The form, ready for the press."""
    words = ctx.words
    specs: list[FieldSpec] = []
    page = IntakePage(
        title=words("intake.title"),
        lead=words("intake.lead", unit=str(words.unit)),
        logo=ctx.logo,
        logo_alt=words("cover.logo", brand=ctx.brand),
        brand=ctx.brand,
        yes=words("yes"),
        no=words("no"),
        parts=tuple(_parts(words, specs)),
        send=words("intake.send", to=ctx.send) if ctx.send else words("intake.send.plain"),
    )
    section = Section(TEMPLATE, page.title, TEMPLATE, page, code=ctx.code, fields=tuple(specs))
    return Booklet(
        title=words("intake.document", brand=ctx.brand) if ctx.brand else page.title,
        author=ctx.brand or page.title,
        subject=page.title,
        brand=ctx.brand,
        language=words.language,
        paper=ctx.paper,
        edition=Edition.PERSONAL,
        theme=ctx.theme.name,
        facing=ctx.sheet.facing,
        zoom=ctx.sheet.zoom,
        code=ctx.code,
        sections=(section,),
        fields=section.fields,
    )


def _parts(words: Words, specs: list[FieldSpec]) -> Iterator[FormPart]:
    ask = _Asker(words, specs)
    yield ask.part("who", (ask.text("name", 3), ask.text("bodyweight", 1), ask.text("born", 1)),
                   (ask.tick("female"), ask.tick("male")))  # fmt: skip
    yield ask.part("training", tuple(ask.tick(day) for day in DAYS), (ask.text("minutes", 1), ask.text("starts", 1)))
    yield ask.part("status", (ask.text("months", 1),),
                   *((ask.tick(step),) for step in ("sessionwise", "weekwise", "monthwise")))  # fmt: skip
    yield ask.list("lift", [words.movement(name) for name in LIFTS])
    yield ask.list("bar", (), (ask.text("collars", 1),))
    yield ask.plates()
    yield ask.list("bell", [words("intake.dumbbells"), words("intake.kettlebells")])
    yield ask.list("stack")
    yield ask.list("pins", (), (ask.tick("safeties"), ask.tick("unsafe")),
                   (ask.tick("never"), ask.tick("sometimes"), ask.tick("always")))  # fmt: skip
    yield ask.list("limit")
    yield ask.screening()
    yield ask.part("consent", (ask.tick("consent"),), (ask.sign("name", 3), ask.sign("date", 2)))
    yield ask.part("note", (ask.text("note", 1, "multiline"),))


class _Asker:
    """Makes asks, and keeps the field of each."""

    def __init__(self, words: Words, specs: list[FieldSpec]) -> None:
        self.words, self.specs = words, specs

    def part(self, key: str, *lines: tuple[Ask, ...], grid: AskTable | None = None) -> FormPart:
        return FormPart(self.words(f"intake.{key}.title"), self.words(f"intake.{key}.lead"), lines, grid)

    def text(self, part: IntakeOnce, share: int, kind: Kind = "text") -> Ask:
        return self._ask(IntakeField(part), self.words(f"intake.{part}"), kind, share)

    def tick(self, part: IntakeOnce) -> Ask:
        return self._ask(IntakeField(part), self.words(f"intake.{part}"), "tick", 1)

    def sign(self, part: Literal["name", "date"], share: int) -> Ask:
        return self._ask(SignField("screening", part), self.words(f"sign.{part}"), "text", share)

    def list(self, kind: IntakeList, names: Sequence[str] = (), *lines: tuple[Ask, ...]) -> FormPart:
        """A list whose first rows have these names printed in them."""
        whole = sum(share for _, share in COLUMNS[kind])
        heads = tuple((self.words(f"intake.{kind}.{part}"), 100 * share / whole) for part, share in COLUMNS[kind])
        rows = tuple(
            tuple(self._cell(kind, row, part, share, names) for part, share in COLUMNS[kind])
            for row in range(1, ROWS[kind] + 1)
        )
        return self.part(kind, *lines, grid=AskTable(heads, rows))

    def plates(self) -> FormPart:
        """How many pairs of each plate there are."""
        sizes = PLATES[self.words.unit]
        asks = [
            self._ask(IntakeRow("plate", row, "pairs"), self.words.plates(size), "text", 1)
            for row, size in enumerate(sizes, 1)
        ]
        half = len(asks) // 2
        return self.part("plate", tuple(asks[:half]), tuple(asks[half:]))

    def screening(self) -> FormPart:
        words = self.words
        rows = []
        for number, code in enumerate(QUESTIONS, 1):
            question = words(f"screening.{code}")
            fields = [
                self._field(AnswerField(number, answer), "tick",
                            words("screening.label", question=question, answer=words(answer)))
                for answer in ("yes", "no")
            ]  # fmt: skip
            rows.append((words("screening.numbered", number=number, question=question), *fields))
        title, lead = words("screening.title"), words("intake.screening.lead")
        return FormPart(title, lead, questions=tuple((text, yes, no) for text, yes, no in rows))

    def _cell(self, kind: IntakeList, row: int, part: IntakePart, share: int, names: Sequence[str]) -> Ask:
        label = self.words("intake.cell", list=self.words(f"intake.{kind}.title"), number=row,
                           part=self.words(f"intake.{kind}.{part}"))  # fmt: skip
        if part == "name" and row <= len(names):
            return Ask("", names[row - 1], "text", share)
        return self._ask(IntakeRow(kind, row, part), label, "tick" if part in TICKS else "text", share)

    def _ask(self, field: Field, label: str, kind: Kind, share: int) -> Ask:
        return Ask(self._field(field, kind, label), label, kind, share)

    def _field(self, field: Field, kind: Kind, label: str) -> str:
        name = write(field)
        self.specs.append(FieldSpec(name, kind, label))
        return name


__all__ = ["IntakeContext", "make_intake"]
