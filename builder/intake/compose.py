"""YAML text composed into a tree of mappings, sequences and scalars, each with its place; scalars stay text.

The parser's events are read, not the tree that the library makes of them: that turns words such as "no" and times
such as 1:30 into other values, keeps the last of two equal keys without a word, and counts no aliases.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import yaml

from builder.intake.reader import MOST_TOLD, control_sign, source_line
from builder.intake.syntax import syntax
from builder.values.formats import FIRST_LINE
from builder.values.nodes import Mapping, Node, Scalar, Sequence
from builder.values.problem import Problem, Severity, Span, in_order

DEEPEST = 24
MOST_NODES = 20_000
MOST_SIGNS = 20_000
"""Signs of one value; the longest text that any key takes."""
MOST_KEY_SIGNS = 200
_Parser: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class _Stop(Exception):
    """Ends composing after a problem that leaves no tree."""


def compose(text: str, file: str) -> tuple[Node | None, tuple[Problem, ...]]:
    """The tree of a text holding one YAML document, and every problem found on the way.

    Duplicate keys, tags, merge keys, endless aliases, too deep or too large trees are problems, never exceptions.
    """
    composer = _Composer(text, file)
    try:
        return composer.document(), in_order(composer.problems)
    except _Stop:
        return None, in_order(composer.problems)
    except yaml.YAMLError as error:
        composer.problems.append(syntax(error, text, file))
        return None, in_order(composer.problems)


class _Composer:
    def __init__(self, text: str, file: str) -> None:
        self.text, self.file = text, file
        self.lines = text.split("\n")
        self.problems: list[Problem] = []
        self.anchors: dict[str, Node | None] = {}
        self.sizes: dict[str, int] = {}
        self.count = 0
        self.events: Iterator[Any] = iter(yaml.parse(text, Loader=_Parser))

    def document(self) -> Node | None:
        root: Node | None = None
        for event in self.events:
            if isinstance(event, yaml.DocumentStartEvent) and root is not None:
                self.stop("documents", event, "a second document starts here", "Write one document in a file.")
            if isinstance(event, yaml.NodeEvent):
                root = self.node(event, 1)
        if root is None:
            span = Span(self.file, 1, 1, 1, source_line(self.text, 1))
            help_ = f'It starts with "{FIRST_LINE}".'
            self.problems.append(Problem("empty-file", span, "the file says nothing", help_))
        return root

    def node(self, event: Any, depth: int) -> Node:
        self.count += 1
        if self.count > MOST_NODES:
            self.stop("too-large", event, f"the file has over {MOST_NODES} parts", "Split it, or use fewer aliases.")
        if depth > DEEPEST:
            self.stop("too-deep", event, f"lists and mappings nest over {DEEPEST} deep", "Write it flatter.")
        if isinstance(event, yaml.AliasEvent):
            return self.alias(event)
        if event.tag is not None and event.tag != "!":
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")[:40]
            self.fault("tag", self.span(event), "tags are not used here", f'Write the value without "{tag}".')
        before = self.count
        if event.anchor:
            # Named, but not whole yet: an alias of it within itself would have no end.
            self.anchors[event.anchor] = None
        made = self.inside(event, depth)
        if event.anchor:
            self.anchors[event.anchor], self.sizes[event.anchor] = made, self.count - before + 1
        return made

    def inside(self, event: Any, depth: int) -> Node:
        if isinstance(event, yaml.MappingStartEvent):
            return self.mapping(event, depth)
        if isinstance(event, yaml.SequenceStartEvent):
            items = []
            while not isinstance(following := next(self.events), yaml.SequenceEndEvent):
                items.append(self.node(following, depth + 1))
            return Sequence(self.span(event), tuple(items))
        return self.scalar(event)

    def scalar(self, event: Any) -> Scalar:
        text: str = event.value
        if len(text) > MOST_SIGNS:
            fact = f"a text of {len(text)} signs stands here"
            self.stop("long-text", event, fact, f"A text may have {MOST_SIGNS}.")
        if found := control_sign(text):
            fact = f"a control sign (U+{ord(found.group()):04X}) stands in the text"
            self.fault("control-sign", self.span(event), fact, "Delete it.")
        # Only of a plain value: in quotes the sign belongs to the text.
        if event.style in (None, "") and (cut := self.cut_off(event)):
            fact = f'"{cut}" is taken for a comment, so only "{text[:40]}" is read'
            help_ = f'If it belongs to the text, put all of it in quotes: "{text[:40]} {cut}".'
            self.problems.append(Problem("cut-by-comment", self.span(event), fact, help_, Severity.WARNING))
        return Scalar(self.span(event), text, event.style in (None, "") and text in ("", "~", "null"))

    def cut_off(self, event: Any) -> str:
        """What looks like a number behind a value and is a comment: the "#1" of "title: Day #1"."""
        end = event.end_mark
        line = self.lines[end.line] if end.line < len(self.lines) else ""
        found = re.match(r"\s+(#[0-9]+)", line[end.column :])
        return found[1] if found and event.value else ""

    def alias(self, event: Any) -> Node:
        target = self.anchors.get(event.anchor)
        if target is None:
            self.stop(
                "alias",
                event,
                f'nothing whole is named "&{event.anchor}" before this',
                "Name it first, or write it out.",
            )
        # An alias counts as all that it stands for: whoever walks the tree later comes through it each time.
        self.count += self.sizes[event.anchor]
        if self.count > MOST_NODES:
            self.stop(
                "too-large",
                event,
                f"with its aliases the file has over {MOST_NODES} parts",
                "Use fewer aliases.",
            )
        assert target is not None
        return target

    def named(self, key: Any) -> str:
        """What to type for a key that says nothing: YAML takes the word after "&" for a name of its own."""
        word = str(key.anchor or "").rstrip(":")
        return f'"&" gives a name to what follows: write "{word}: value".' if word else 'Write "key: value".'

    def mapping(self, event: Any, depth: int) -> Mapping:
        items: dict[str, tuple[Scalar, Node]] = {}
        while not isinstance(following := next(self.events), yaml.MappingEndEvent):
            key = self.node(following, depth + 1)
            value = self.node(next(self.events), depth + 1)
            if not isinstance(key, Scalar):
                self.fault("key", key.span, "a key must be a word", 'Write "key: value".')
            elif not key.text:
                self.fault("key", key.span, "a key is missing here", self.named(following))
            elif len(key.text) > MOST_KEY_SIGNS:
                self.fault("long-text", key.span, f"a key has {len(key.text)} signs", "Write it shorter.")
            elif key.text == "<<":
                self.fault("merge", key.span, "merge keys are not used here", "Write the keys out.")
            elif key.text in items:
                first = items[key.text][0].span.line
                fact = f'"{key.text}" stands twice in this mapping, first on line {first}'
                self.fault("duplicate-key", key.span, fact, "Keep one of the two.")
            else:
                items[key.text] = (key, value)
        return Mapping(self.span(event), tuple(items.values()))

    def span(self, event: Any) -> Span:
        start, end = event.start_mark, event.end_mark
        line = self.lines[start.line] if start.line < len(self.lines) else ""
        width = end.column - start.column if end.line == start.line else len(line) - start.column
        return Span(self.file, start.line + 1, start.column + 1, max(1, width), line)

    def fault(self, code: str, span: Span, fact: str, help_: str) -> None:
        """Keeps a problem; the reading ends where so many of them stand that more would help nobody."""
        self.problems.append(Problem(code, span, fact, help_))
        # A file of another kind may have a fault in every line.
        if len(self.problems) >= MOST_TOLD:
            raise _Stop

    def stop(self, code: str, event: Any, fact: str, help_: str) -> None:
        self.problems.append(Problem(code, self.span(event), fact, help_))
        raise _Stop
