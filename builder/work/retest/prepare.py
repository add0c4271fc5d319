"""The texts of all files with tests and logged sets added, read again and proved; nothing is written here."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from builder.given import Conditions, Sources
from builder.intake import Loaded, tree_of, understood
from builder.intake.load import assemble
from builder.intake.merge import as_data, merged
from builder.log.results import DayOutcome, LiftOutcome
from builder.values.nodes import Mapping as Tree
from builder.values.problem import Problem, Severity, did_you_mean
from builder.work.retest.append import Growth, append
from builder.work.retest.entry import conditions_of, entry_of, trained_conditions

Text = tuple[str, bytes]


@dataclass(frozen=True, slots=True)
class Prepared:
    """All files as they will be read; `changed` has name, old and new bytes of those that change, `new` the entries."""

    loaded: Loaded
    changed: tuple[tuple[str, bytes, bytes], ...]
    problems: tuple[Problem, ...]
    new: tuple[Growth, ...] = ()


def prepare(outcome: DayOutcome, texts: Sequence[Text]) -> Prepared:
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
    growths = (*_tests(outcome, next_revision(whole), sources), *_shown(outcome))
    return _proved(texts, *_added(growths, texts, trees), growths)


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


def _names(outcome: DayOutcome, sources: Sources) -> tuple[Problem, ...]:
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


def _tests(outcome: DayOutcome, revision: int, sources: Sources) -> Iterator[Growth]:
    for one in outcome.lifts:
        word = _word(one, sources)
        yield Growth(word, "tests", (entry_of(outcome, one, _conditions(one, word, sources), revision),))


def _shown(outcome: DayOutcome) -> Iterator[Growth]:
    for one in outcome.shown:
        for key, lines in (("records", one.records), ("logged", one.logged)):
            if lines:
                yield Growth(one.movement, key, tuple(line.entry for line in lines))


def _added(
    growths: Sequence[Growth], texts: Sequence[Text], trees: Mapping[str, Tree]
) -> tuple[dict[str, bytes], list[Problem]]:
    """The new bytes of each file, and problems."""
    new, problems = dict(texts), list[Problem]()
    for one in growths:
        name = _holder(trees, one)
        data, found = append(new[name], name, one)
        problems += found
        # A file that is named in two ways is one: what is added next goes on from this text.
        new |= {other: data for other in new if os.path.realpath(other) == os.path.realpath(name)}
    return new, problems


def _conditions(one: LiftOutcome, word: str, sources: Sources) -> Conditions:
    movement = sources.movements.named(one.movement) or one.movement
    return conditions_of(one, word, sources.client, trained_conditions(sources.block, movement, sources.movements))


def _word(one: LiftOutcome, sources: Sources) -> str:
    """What the profile calls a lift; a lift that is not in it gets the movement's own name."""
    movement = sources.movements.named(one.movement)
    lifts = sources.tree.value("lifts")
    words = [key.text for key, _ in lifts.items] if isinstance(lifts, Tree) else []
    return next((word for word in words if sources.movements.named(word) == movement), movement or one.movement)


def _holder(trees: Mapping[str, Tree], new: Growth) -> str:
    """The file whose word counts for a list of a lift: the last that has it, else the lift, lifts, or the client."""
    for way in (new.way, new.way[:2], new.way[:1], ("client",)):
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
    texts: Sequence[Text], new: Mapping[str, bytes], problems: Sequence[Problem], growths: tuple[Growth, ...]
) -> Prepared:
    """Everything read again: sound, and each entry where the plan will find it."""
    if problems:
        return _stopped(texts, problems)
    loaded = understood([(name, new[name]) for name, _ in texts])
    if loaded.sources is None:
        # What was wrong before is told of the files as they are, at the lines that they have.
        before = understood(texts)
        return _stopped(texts, before.problems if before.sources is None else loaded.problems)
    client = loaded.sources.client
    assert client is not None
    for one in growths:
        # A list of a later file replaces that of an earlier one: an entry in the wrong file would be there and never
        # count.
        last = getattr(client.lifts[one.word], one.key)[-1]
        assert last.day.isoformat() == one.entries[-1]["date"] and str(last.reps) == one.entries[-1]["reps"]
    changed = tuple((name, data, new[name]) for name, data in texts if new[name] != data)
    return Prepared(loaded, changed, loaded.problems, growths)


def _stopped(texts: Sequence[Text], problems: Sequence[Problem]) -> Prepared:
    assert any(problem.severity is Severity.ERROR for problem in problems)
    return Prepared(Loaded(None, tuple(problems), tuple(texts)), (), tuple(problems))
