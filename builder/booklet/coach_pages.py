"""Set-up and technique: the coach's Markdown pages and the default texts as safe HTML, and the trial sheets."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from markdown_it import MarkdownIt
from markdown_it.token import Token
from markupsafe import Markup

from builder.booklet.bars import training_ladder
from builder.booklet.context import Context
from builder.booklet.model import Section
from builder.booklet.names import movement_title
from builder.booklet.words import Words
from builder.fields import FieldSpec, TrialField, write
from builder.plan.model import LiftNumbers
from builder.plan.numbers import carried
from builder.quantity import Rounding
from builder.training.loading import Ladder, Rung, side_text

DEFAULTS = (
    "bar-position", "depth-and-stance", "bracing-and-belt", "shoes-sleeves-wraps", "warming-up", "effort",
    "missing-safely", "when-a-set-is-missed", "writing-the-log",
)  # fmt: skip
"""The default texts in the order they are read; a coach's page of the same name takes the place of one."""

SAFE = ("https://", "mailto:", "#")
TRIAL_SHARE = Decimal("0.7")
CRITERIA = ("way", "depth", "path", "speed", "comfort", "rir")
WAYS = ("A", "B")
MOST_TRIALS = 2


class _Strict(MarkdownIt):
    """Markdown without HTML and images, whose links lead to https, mail or the page itself."""

    def __init__(self, quotes: str) -> None:
        super().__init__("commonmark", {"html": False, "typographer": True, "quotes": quotes})
        self.enable(["table", "replacements", "smartquotes"]).disable("image")

    def validateLink(self, url: str) -> bool:  # noqa: N802
        return url.lower().startswith(SAFE)


@dataclass(frozen=True, slots=True)
class Flow:
    """One text: its anchor, and its HTML with headings from the second level down."""

    anchor: str
    body: Markup


@dataclass(frozen=True, slots=True)
class FlowPage:
    """Texts that flow on one after the other."""

    title: str
    lead: str
    flows: tuple[Flow, ...]


@dataclass(frozen=True, slots=True)
class TrialRow:
    """One criterion, with the field of each way."""

    text: str
    fields: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Trial:
    """Two ways of doing one lift at one load."""

    title: str
    load: str
    rows: tuple[TrialRow, ...]


@dataclass(frozen=True, slots=True)
class TrialPage:
    """The trial sheets with what to do."""

    title: str
    lead: str
    steps: tuple[str, ...]
    head: tuple[str, ...]
    trials: tuple[Trial, ...]
    verdict: str


def flow(words: Words, name: str, markdown: str, top: int = 2) -> Flow:
    """A Markdown text as HTML. HTML, images and other links print as text; headings start at `top` and never jump."""
    parser = _Strict(words("quotes"))
    tokens = parser.parse(markdown)
    anchor = f"text-{_slug(name)}"
    targets = _level_headings(tokens, anchor, top)
    for token in tokens:
        if token.type == "th_open":
            token.attrSet("scope", "col")
        if token.children:
            token.children = _kept(token.children, anchor, targets)
    return Flow(anchor, Markup(parser.renderer.render(tokens, parser.options, {})))


def _level_headings(tokens: list[Token], anchor: str, top: int) -> set[str]:
    """Shift the headings so that the highest is `top` and none skips a level; the names they can be linked by."""
    opened = [(i, token) for i, token in enumerate(tokens) if token.type == "heading_open"]
    highest = min((int(token.tag[1]) for _, token in opened), default=1)
    last, names = top - 1, set[str]()
    for i, token in opened:
        level = min(int(token.tag[1]) - highest + top, last + 1, 6)
        token.tag = tokens[i + 2].tag = f"h{level}"
        name = _slug(tokens[i + 1].content)
        if name not in names:
            token.attrSet("id", f"{anchor}--{name}")
        names.add(name)
        last = level
    return names


_EMPHASIS = ("strong_open", "strong_close", "em_open", "em_close")


def _kept(children: list[Token], anchor: str, targets: set[str]) -> list[Token]:
    """The inline tokens without links to places that do not exist, and without emphasis within links.

    The typesetter makes a link of its own of every element in a link, and leaves it untagged.
    """
    kept: list[Token] = []
    linked = dropping = False
    for token in children:
        if token.type in ("link_open", "link_close"):
            linked = token.type == "link_open"
        elif linked and token.type == "code_inline":
            token.type, token.tag = "text", ""
        elif linked and token.type in _EMPHASIS:
            continue
        if token.type == "link_open":
            address = str(token.attrGet("href"))
            dropping = address.startswith("#") and address[1:] not in targets
            if address.startswith("#"):
                token.attrSet("href", f"#{anchor}--{address[1:]}")
        if not (dropping and token.type in ("link_open", "link_close")):
            kept.append(token)
    return kept


def _slug(text: str) -> str:
    return "-".join("".join(c if c.isalnum() else " " for c in text.lower()).split()) or "text"


def coach_sections(ctx: Context) -> tuple[Section, ...]:
    """The coach's own pages, and the default texts that they do not replace."""
    words = ctx.words
    own = {page.name for page in ctx.coach_pages}
    pages = tuple(flow(words, page.name, page.markdown) for page in ctx.coach_pages)
    texts = tuple(flow(words, n, ctx.texts.markdown[n]) for n in DEFAULTS if n not in own and n in ctx.texts.markdown)
    sections = []
    for key, flows in (("coach", pages), ("technique", texts)):
        if flows:
            title = words(f"{key}.title", name=ctx.brand.coach or ctx.brand.name)
            sections.append(Section(key, title, "flow", FlowPage(title, words(f"{key}.lead"), flows)))
    return tuple(sections)


def trial_sections(ctx: Context) -> tuple[Section, ...]:
    """The sheets of the technique trials; none when no tested lift is trained."""
    words = ctx.words
    lifts = [n for n in ctx.plan.lifts if _trained(ctx, n)][:MOST_TRIALS]
    if not lifts:
        return ()
    trials = tuple(_trial(ctx, number, numbers) for number, numbers in enumerate(lifts, 1))
    fields = tuple(
        _field(words, number, numbers, way, criterion)
        for number, numbers in enumerate(lifts, 1)
        for criterion in range(1, len(CRITERIA) + 1)
        for way in range(1, len(WAYS) + 1)
    )
    page = TrialPage(
        words("trial.title"), words("trial.lead"), tuple(words(f"trial.step.{n}") for n in (1, 2, 3)),
        (words("trial.criterion"), *(words("trial.way", way=way) for way in WAYS)), trials, words("trial.verdict"),
    )  # fmt: skip
    return (Section("trial", page.title, "trial", page, fields=fields),)


def _trained(ctx: Context, numbers: LiftNumbers) -> bool:
    return any(name == numbers.movement for week in ctx.plan.weeks for name, _ in week.by_movement)


def _trial(ctx: Context, number: int, numbers: LiftNumbers) -> Trial:
    words = ctx.words
    target = numbers.working_max * TRIAL_SHARE - carried(ctx.plan.client, numbers.about)
    ladder = training_ladder(ctx.plan, numbers)
    load = _trial_load(words, ladder, ladder.pick(target, Rounding.DOWN))
    rows = tuple(
        TrialRow(
            words(f"trial.criterion.{code}"),
            tuple(write(TrialField(number, way, i)) for way in range(1, len(WAYS) + 1)),
        )
        for i, code in enumerate(CRITERIA, 1)
    )
    return Trial(movement_title(numbers.movement, words), load, rows)


def _trial_load(words: Words, ladder: Ladder, rung: Rung) -> str:
    if not ladder.plated:
        return words.mass(rung.mass)
    return words("trial.load", load_kg=rung.mass, side=words.plates(side_text(rung)) or words("side.none"))


def _field(words: Words, number: int, numbers: LiftNumbers, way: int, criterion: int) -> FieldSpec:
    label = words(
        "trial.label",
        lift=words.movement(numbers.movement),
        way=WAYS[way - 1],
        criterion=words(f"trial.criterion.{CRITERIA[criterion - 1]}"),
    )
    return FieldSpec(write(TrialField(number, way, criterion)), "text", label, font_size=9)
