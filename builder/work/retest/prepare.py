"""The texts of all files with the tests added, read again and proved; nothing is written here."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from builder.given import Conditions, Sources
from builder.intake import Loaded, tree_of, understood
from builder.intake.load import assemble
from builder.intake.merge import as_data, merged
from builder.log.results import LiftOutcome, Outcome
from builder.values.nodes import Mapping as Tree
from builder.values.problem import Problem, Severity, did_you_mean
from builder.work.retest.append import append_test
from builder.work.retest.entry import conditions_of, entry_of, trained_conditions
from builder.work.retest.written import Value

Text = tuple[str, bytes]


@dataclass(frozen=True, slots=True)
class Prepared:
    """All files as they will be read; `changed` holds name, old and new bytes of those that change."""

    loaded: Loaded
    changed: tuple[tuple[str, bytes, bytes], ...]
    problems: tuple[Problem, ...]


def prepare(outcome: Outcome, texts: Sequence[Text]) -> Prepared:
    """Adds every lift of an outcome to the file that holds its tests, under the next revision.

    With problems nothing is to be written: what is wrong with the files as they are, or would be with the tests.
    """
    read = [(name, *tree_of(name, data)) for name, data in texts]
    trees = {name: tree for name, tree, _ in read if tree is not None}
    broken = any(problems for *_, problems in read)
    if broken or not any(tree.key("client") for tree in trees.values()):
        return _stopped(texts, understood(texts).problems)
    whole = merged(list(trees.values()))
    sources, _ = assemble(whole)
    wrong = _names(outcome, sources)
    if wrong:
        return _stopped(texts, wrong)
    return _proved(outcome, texts, *_added(outcome, texts, trees, whole, sources))


def next_revision(tree: Tree) -> int:
    """One more than the highest revision that a test of the tree names, even where the profile has problems."""
    found = [1]
    for lift in _mappings(_mapping(as_data(tree)).get("lifts")):
        tests = lift.get("tests")
        for test in tests if isinstance(tests, list) else ():
            number = str(_mapping(test).get("revision", ""))
            found += [int(number)] if number.isdecimal() and len(number) < 5 else []
    return max(found) + 1


def _mapping(data: Any) -> Mapping[str, Any]:
    return data if isinstance(data, Mapping) else {}


def _mappings(data: Any) -> list[Mapping[str, Any]]:
    return [_mapping(part) for part in _mapping(data).values()]


def _names(outcome: Outcome, sources: Sources) -> tuple[Problem, ...]:
    """Lifts that no movement is named after, and those that stand twice under two names."""
    found: list[Problem] = []
    seen: dict[str, str] = {}
    for one in outcome.lifts:
        name = sources.movements.named(one.movement)
        if name is None:
            help_ = did_you_mean(one.movement, sources.movements.every_name()) or "Write a movement of the profile."
            found.append(Problem("unknown-movement", None, f'no movement is named "{one.movement}"', help_))
        elif name in seen:
            fact = f'"{seen[name]}" and "{one.movement}" are the same lift'
            found.append(Problem("duplicate-lift", None, fact, f'Say all of it under "{name}".'))
        seen[name or ""] = one.movement
    return tuple(found)


def _added(
    outcome: Outcome, texts: Sequence[Text], trees: Mapping[str, Tree], whole: Tree, sources: Sources
) -> tuple[dict[str, bytes], dict[str, dict[str, Value]], list[Problem]]:
    """The new bytes of each file, what was added under which name of the profile, and problems."""
    new, problems = dict(texts), list[Problem]()
    entries: dict[str, dict[str, Value]] = {}
    revision = next_revision(whole)
    for one in outcome.lifts:
        word = _word(one, sources)
        name = _holder(trees, word)
        entry = entry_of(outcome, one, _conditions(one, word, sources), revision)
        data, found = append_test(new[name], name, word, entry)
        problems += found
        entries[word] = entry
        new |= {other: data for other in new if os.path.realpath(other) == os.path.realpath(name)}
    return new, entries, problems


def _conditions(one: LiftOutcome, word: str, sources: Sources) -> Conditions:
    movement = sources.movements.named(one.movement) or one.movement
    return conditions_of(one, word, sources.client, trained_conditions(sources.block, movement, sources.movements))


def _word(one: LiftOutcome, sources: Sources) -> str:
    """What the profile calls a lift; a lift that is not in it gets the movement's own name."""
    movement = sources.movements.named(one.movement)
    lifts = sources.tree.value("lifts")
    words = [key.text for key, _ in lifts.items] if isinstance(lifts, Tree) else []
    return next((word for word in words if sources.movements.named(word) == movement), movement or one.movement)


def _holder(trees: Mapping[str, Tree], word: str) -> str:
    """The file whose word counts for a lift's tests: the last that has them, else the lift, lifts, or the client."""
    for way in (("lifts", word, "tests"), ("lifts", word), ("lifts",), ("client",)):
        holders = [name for name, tree in trees.items() if _has(tree, way)]
        if holders:
            return holders[-1]
    raise ValueError("no file has a client")


def _has(tree: Tree, way: Sequence[str]) -> bool:
    node: Any = tree
    for key in way:
        if not isinstance(node, Tree) or node.key(key) is None:
            return False
        node = node.value(key)
    return True


def _proved(
    outcome: Outcome,
    texts: Sequence[Text],
    new: dict[str, bytes],
    entries: dict[str, dict[str, Value]],
    problems: Sequence[Problem],
) -> Prepared:
    """Everything read again: sound, and each test where the plan will find it."""
    if problems:
        return _stopped(texts, problems)
    loaded = understood([(name, new[name]) for name, _ in texts])
    if loaded.sources is None:
        before = understood(texts)
        return _stopped(texts, before.problems if before.sources is None else loaded.problems)
    client = loaded.sources.client
    assert client is not None
    for word, entry in entries.items():
        test = client.lifts[word].tests[-1]
        assert str(test.revision) == entry["revision"] and test.day.isoformat() == entry["date"]
    changed = tuple((name, data, new[name]) for name, data in texts if new[name] != data)
    return Prepared(loaded, changed, loaded.problems)


def _stopped(texts: Sequence[Text], problems: Sequence[Problem]) -> Prepared:
    assert any(problem.severity is Severity.ERROR for problem in problems)
    return Prepared(Loaded(None, tuple(problems), tuple(texts)), (), tuple(problems))
