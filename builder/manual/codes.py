"""What the reference takes from closed lists: the rules of the review, the library's movements, and the looks."""

from __future__ import annotations

import sys

from builder.given.movements import Movement
from builder.intake.load import library
from builder.manual.tables import MarkdownTable, by_word, nothing_left
from builder.places import themes
from builder.review import CHECKS, NOTES
from builder.review.finding import Rule
from builder.values.lists import EDITIONS, LANGUAGES, LAYOUTS, PAPERS


def remarks(said: MarkdownTable) -> MarkdownTable:
    """Every code of the review: what it is about, its gravity, the way out and where the norm is from."""
    told, rules = by_word(said), _rules()
    nothing_left(told, rules, "the remarks of the review")
    if left := set(rules) - set(told):
        raise ValueError(f"nothing is said of the remarks {', '.join(sorted(left))}")
    rows = (
        (f"`{code}`", f"{rule.gravity}: {told[code][1]}", f"{rule.help} ({rule.source.rstrip('.')})")
        for code, rule in rules.items()
    )
    return MarkdownTable(("code", "about", "way out, and where the norm is from"), tuple(rows))


def _rules() -> dict[str, Rule]:
    modules = sorted({check.__module__ for check in (*CHECKS, *NOTES)})
    found = [rule for name in modules for value in vars(sys.modules[name]).values() for rule in _of(value)]
    return {rule.code: rule for rule in sorted(found, key=lambda rule: rule.code)}


def _of(value: object) -> tuple[Rule, ...]:
    """The rules that a name of a module stands for: one, or several with a word each."""
    many = (*value, *value.values()) if isinstance(value, dict) else (value,)
    return tuple(one for one in many if isinstance(one, Rule))


def movements(_said: MarkdownTable) -> MarkdownTable:
    """The library's movements by pattern."""
    rows: dict[str, list[str]] = {}
    for name, movement in library().movements.items():
        rows.setdefault(movement.pattern, []).append(_entry(name, movement))
    head = ("pattern", "movements; in brackets the equipment if it is no barbell, or the share of a lift")
    return MarkdownTable(head, tuple((pattern, ", ".join(entries)) for pattern, entries in rows.items()))


def _entry(name: str, movement: Movement) -> str:
    if movement.ratio is not None:
        return f"{name} ({(movement.ratio * 100).normalize():f} % of {movement.of})"
    return name if movement.equipment == "barbell" else f"{name} ({movement.equipment})"


def looks(_said: MarkdownTable) -> MarkdownTable:
    """The words that themes, papers, layouts, editions and languages are named by."""
    every = {"theme": themes(), "paper": PAPERS, "layout": LAYOUTS, "edition": EDITIONS, "language": LANGUAGES}
    rows = ((what, ", ".join(f"`{name}`" for name in names)) for what, names in every.items())
    return MarkdownTable(("what", "names"), tuple(rows))
