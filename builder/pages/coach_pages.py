"""Set-up and technique: the coach's Markdown pages and the default texts as safe HTML."""

from __future__ import annotations

from dataclasses import dataclass

from markdown_it import MarkdownIt
from markdown_it.token import Token
from markupsafe import Markup

from builder.pages.context import Context
from builder.pages.model import Section
from builder.words import Words

DEFAULTS = (
    "bar-position", "depth-and-stance", "bracing-and-belt", "shoes-sleeves-wraps", "warming-up", "effort",
    "missing-safely", "when-a-set-is-missed", "writing-the-log",
)  # fmt: skip
"""The default texts in the order they are read; a coach's page of the same name takes the place of one."""
MISSED = ("missing-safely", "when-a-set-is-missed")
"""Those of them that every lifter has at hand, in the booklet itself and not in the handbook alone."""

# The typesetter writes any other address into the file as it is, one of a script or of a file of the reader too.
SAFE = ("https://", "mailto:", "#")


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


def flow(words: Words, name: str, markdown: str, top: int = 2, beyond: frozenset[str] = frozenset()) -> Flow:
    """A Markdown text as HTML. HTML, images and other links print as text; headings start at `top` and never jump.

    `beyond` are headings of other texts of the same name that it may link to.
    """
    parser = _Strict(words("quotes"))
    tokens = parser.parse(markdown)
    anchor = f"text-{_slug(name)}"
    targets = _level_headings(tokens, anchor, top) | beyond
    for token in tokens:
        if token.children:
            token.children = _kept(token.children, anchor, targets)
    return Flow(anchor, Markup(parser.renderer.render(tokens, parser.options, {})))


def _level_headings(tokens: list[Token], anchor: str, top: int) -> set[str]:
    """Shift the headings so that the highest is `top` and none skips a level; the names they can be linked by."""
    opened = [(i, token) for i, token in enumerate(tokens) if token.type == "heading_open"]
    highest = min((int(token.tag[1]) for _, token in opened), default=1)
    last, names = top - 1, set[str]()
    for i, token in opened:
        # PDF/UA allows no heading that leaves a level out (ISO 14289-1, 7.4.2).
        level = min(int(token.tag[1]) - highest + top, last + 1, 6)
        token.tag = tokens[i + 2].tag = f"h{level}"
        name = _slug(tokens[i + 1].content)
        # Of equal headings the first is linked to: two ids alike would be an error.
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
            target = _slug(address[1:])
            dropping = address.startswith("#") and target not in targets
            if address.startswith("#"):
                token.attrSet("href", f"#{anchor}--{target}")
        if not (dropping and token.type in ("link_open", "link_close")):
            kept.append(token)
    return kept


def _slug(text: str) -> str:
    return "-".join("".join(c if c.isalnum() else " " for c in text.lower()).split()) or "text"


def heading_names(markdown: str) -> frozenset[str]:
    """What the headings of a text can be linked by."""
    tokens = MarkdownIt("commonmark").parse(markdown)
    return frozenset(_slug(tokens[i + 1].content) for i, token in enumerate(tokens) if token.type == "heading_open")


def coach_sections(ctx: Context) -> tuple[Section, ...]:
    """The coach's own pages; in a booklet those besides that tell what to do when a lift is missed."""
    own = tuple(flow(ctx.words, page.name, page.markdown) for page in ctx.coach_pages)
    missed = _defaults(ctx, MISSED) if ctx.edition.whole else ()
    return (*_flowing(ctx, "coach", own), *_flowing(ctx, "missed", missed))


def technique_sections(ctx: Context) -> tuple[Section, ...]:
    """The default texts on set-up and technique; the coach's copy has those on missed lifts elsewhere."""
    names = tuple(name for name in DEFAULTS if not (ctx.edition.whole and name in MISSED))
    return _flowing(ctx, "technique", _defaults(ctx, names))


def safety_sections(ctx: Context) -> tuple[Section, ...]:
    """The safety text by itself, where no licence page carries it."""
    return _flowing(ctx, "safety", (flow(ctx.words, "safety", ctx.texts.markdown["safety"]),))


def _defaults(ctx: Context, names: tuple[str, ...]) -> tuple[Flow, ...]:
    """Those of the default texts that no page of the coach replaces."""
    own, texts = {page.name for page in ctx.coach_pages}, ctx.texts.markdown
    return tuple(flow(ctx.words, name, texts[name]) for name in names if name not in own and name in texts)


def _flowing(ctx: Context, key: str, flows: tuple[Flow, ...]) -> tuple[Section, ...]:
    """The section of some texts; none without a text."""
    if not flows:
        return ()
    title = ctx.words(f"{key}.title", name=ctx.brand.coach or ctx.brand.name)
    return (Section(key, title, "flow", FlowPage(title, ctx.words(f"{key}.lead"), flows)),)
