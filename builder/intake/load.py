"""Reads source files from disk and gives typed sources, or every problem of every file."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from importlib.resources import files
from itertools import islice
from pathlib import Path

from builder.given import Block, ChangeMade, Movement, Movements
from builder.given.movements import CONDITIONING
from builder.given.sources import Sources
from builder.intake.change import CHANGE_CODES, changed
from builder.intake.compose import compose
from builder.intake.crosscheck import cross_check
from builder.intake.merge import as_data, merged
from builder.intake.reader import MOST_BYTES, decode
from builder.intake.typed import KINDS, Alike, typed
from builder.intake.unseen import unseen_signs
from builder.intake.upgrade import upgraded
from builder.values.formats import FIRST_LINE, SOURCE_FORMAT
from builder.values.nodes import Mapping, Scalar
from builder.values.problem import Problem, Severity, Span, in_order

MOST_FILES = 200
MOST_PROBLEMS = 100
"""Told of one run; more would take time to find and help nobody."""
PIPES = (("/", "dev"), ("/", "proc"))
"""Where a shell puts what it hands over as a file, which is no plain one."""


@dataclass(frozen=True, slots=True)
class Loaded:
    """What the files say (None when a problem stops the build) and the problems, in file order."""

    sources: Sources | None
    problems: tuple[Problem, ...]
    texts: tuple[tuple[str, bytes], ...] = ()


def load(paths: Sequence[Path], *, need: Sequence[str] = ("client", "block")) -> Loaded:
    """Reads `paths` (a folder stands for the YAML files in it, by name), merges and checks them.

    `need` names the kinds of source that must be there.
    """
    texts, problems = read(paths)
    if not texts:
        return Loaded(None, in_order(problems))
    return understood(texts, need=need, problems=problems)


def read(paths: Sequence[Path]) -> tuple[tuple[tuple[str, bytes], ...], tuple[Problem, ...]]:
    """Name and bytes of each file, and a problem for each that cannot be read, or where there is none."""
    try:
        named = tuple(islice(_expanded(paths), MOST_FILES + 1))
    except OSError as error:
        return (), (_unreadable(str(error.filename), error),)
    if len(named) > MOST_FILES:
        return (), (_too_many(paths),)
    found = [_read(path) for path in named]
    texts = tuple(text for text in found if not isinstance(text, Problem))
    problems = tuple(text for text in found if isinstance(text, Problem))
    return texts, problems if found else (_nothing(paths),)


def understood(
    texts: Sequence[tuple[str, bytes]],
    *,
    need: Sequence[str] = ("client", "block"),
    problems: Sequence[Problem] = (),
) -> Loaded:
    """What files say, from their names and bytes; `problems` are those of reading them."""
    found = [*problems]
    trees: list[Mapping] = []
    # The same file may be named twice, by itself and by its folder.
    for name, data in dict.fromkeys(texts):
        tree, wrong = tree_of(name, data)
        found += wrong
        trees += [tree] if tree is not None else []
    # Before they are laid over each other: of three clients in a folder one lifter would be made, with the limits of
    # all.
    found += one_of_each(trees)
    if not trees:
        return Loaded(None, in_order(_first(found)), tuple(texts))
    # What seems to be missing may stand in a file that cannot be read.
    readable = not found
    whole = merged(trees)
    sources, wrong = assemble(whole)
    found += (*wrong, *(sign for name, data in dict.fromkeys(texts) for sign in _unseen(name, data)))
    if readable:
        found += _absent(sources, need, trees[0].span)
        found += cross_check(sources) if all(problem.code in CHANGE_CODES for problem in wrong) else ()
    found = _first(found)
    stopped = any(p.severity is Severity.ERROR for p in found)
    return Loaded(None if stopped else sources, in_order(found), tuple(texts))


def one_of_each(trees: Sequence[Mapping]) -> tuple[Problem, ...]:
    """A problem for each further file that names a client or titles a block: two would silently become one.

    A file that only changes something of another one leaves name or title out. The same file twice is no second one.
    """
    clients, blocks = _givers(trees, "client", "name"), _givers(trees, "block", "title")
    return (
        *(Problem("two-clients", again.span, *_second("client", "name", again, clients[0])) for again in clients[1:]),
        *(Problem("two-blocks", again.span, *_second("block", "title", again, blocks[0])) for again in blocks[1:]),
    )


def _givers(trees: Sequence[Mapping], kind: str, key: str) -> list[Scalar]:
    """What stands under one key in each file that says something there; equal files are one."""
    parts = [(tree, tree.value(kind)) for tree in trees]
    values = [(tree, part.value(key)) for tree, part in parts if isinstance(part, Mapping)]
    told = [(tree, value) for tree, value in values if isinstance(value, Scalar) and not value.blank]
    found = dict[str, Scalar]()
    for tree, value in told:
        found.setdefault(str(as_data(tree)) if len(told) > 1 else "", value)
    return list(found.values())


def _second(kind: str, key: str, again: Scalar, first: Scalar) -> tuple[str, str]:
    fact = f'a second {kind} stands here, "{again.text}", after "{first.text}" in {first.span.file}'
    return fact, f'Name the files of one {kind} only. A file that changes the other one leaves "{key}:" out.'


def _first(problems: list[Problem]) -> list[Problem]:
    """The problems, or the first of very many with one that says so."""
    if len(problems) <= MOST_PROBLEMS:
        return problems
    rest = Problem("more", None, f"there are more problems than these {MOST_PROBLEMS}", "Mend these first.")
    return [*problems[:MOST_PROBLEMS], rest]


def assemble(tree: Mapping) -> tuple[Sources, tuple[Problem, ...]]:
    """Typed sources from a merged tree, the built-in movements below the files' own."""
    laid = changed(tree)
    models, problems = typed(laid.tree)
    own = models["movements"].movements if models["movements"] else {}
    own = {**_conditioning(models["block"]), **own}
    everything = _everything(Alike(repr(own), own))
    given = models["client"], models["block"], models["brand"]
    made = tuple(_named(one, everything) for one in laid.made)
    return Sources(*given, everything, laid.tree, made, laid.variants), (*laid.problems, *problems)


@lru_cache(maxsize=16)
def _everything(own: Alike) -> Movements:
    """The built-in movements and the files' own, whose names are sorted once for all buyers of a block."""
    # Both parts were validated when they were read.
    return Movements.model_construct(format=str(SOURCE_FORMAT), movements={**library().movements, **own.data})


def _conditioning(block: Block | None) -> dict[str, Movement]:
    """What a block's conditioning is called, as movements that nothing else is known of."""
    words = [slot.conditioning for day in (block.days if block else ()) for slot in day.slots if slot.conditioning]
    return {word: CONDITIONING for word in words if library().named(word) is None}


def _named(made: ChangeMade, every: Movements) -> ChangeMade:
    """A change with the movements as the library calls them."""
    return replace(made, movement=every.named(made.movement) or made.movement, by=every.named(made.by) or made.by)


@lru_cache(maxsize=1)
def library() -> Movements:
    """The movements that come with the installation."""
    data = files("builder.given").joinpath("library.yaml").read_bytes()
    tree, broken = tree_of("library.yaml", data)
    assert tree is not None and not broken
    models, problems = typed(tree)
    if models["movements"] is None:
        raise RuntimeError("\n".join(p.as_text() for p in problems))
    built_in: Movements = models["movements"]
    return built_in


def _expanded(paths: Sequence[Path]) -> Iterator[Path]:
    """The files, and for a folder the YAML files in it by name."""
    for path in paths:
        if path.is_dir():
            yield from sorted(p for p in path.iterdir() if p.suffix in (".yaml", ".yml"))
        else:
            yield path


@lru_cache(maxsize=64)
def tree_of(name: str, data: bytes) -> tuple[Mapping | None, tuple[Problem, ...]]:
    """The tree of one file, and what is wrong with it as a file; files that many buyers share are parsed once."""
    text, problems = decode(data, name)
    if problems:
        return None, problems
    tree, problems = compose(text, name)
    if tree is not None and not isinstance(tree, Mapping):
        found = Problem("wrong-type", tree.span, "the file is not a mapping", f'It starts with "{FIRST_LINE}".')
        return None, (*problems, found)
    if tree is None:
        return None, problems
    ours, unknown = upgraded(tree)
    return ours, (*problems, *unknown)


@lru_cache(maxsize=64)
def _unseen(name: str, data: bytes) -> tuple[Problem, ...]:
    tree, _ = tree_of(name, data)
    return unseen_signs(tree) if tree is not None else ()


def _read(path: Path) -> tuple[str, bytes] | Problem:
    name = str(path)
    if path.exists() and not path.is_file() and path.parts[:2] not in PIPES:
        fact = f"{name} is {'a folder' if path.is_dir() else 'no plain file'}"
        return Problem("unreadable", None, fact, "Give a text file this name.")
    try:
        with path.open("rb") as file:
            # One byte too many tells that there are more, and no more is read of a file that may have no end.
            return name, file.read(MOST_BYTES + 1)
    except OSError as error:
        return _unreadable(name, error)


def _unreadable(name: str, error: OSError) -> Problem:
    fact = f"{name} cannot be read: {(error.strerror or 'unknown reason').lower()}"
    return Problem("unreadable", None, fact, "Check the name and the rights of the file.")


def _absent(sources: Sources, need: Sequence[str], start: Span) -> list[Problem]:
    help_ = 'Name a file that has it, such as "loadleaf check client.yaml block.yaml".'
    return [
        Problem("missing-part", Span(start.file, 1, 1), f'no file has a section "{kind}:"', help_)
        for kind in need
        if kind in KINDS and getattr(sources, kind) is None and sources.tree.key(kind) is None
    ]


def _too_many(paths: Sequence[Path]) -> Problem:
    fact = f"there are more than {MOST_FILES} files in {', '.join(map(str, paths))}"
    return Problem("too-many-files", None, fact, "Name the files of one client and one block.")


def _nothing(paths: Sequence[Path]) -> Problem:
    names = ", ".join(str(p) for p in paths)
    return Problem(
        "missing-part",
        None,
        f"no YAML file in {names}",
        "Name files that end in .yaml, or a folder with some.",
    )


__all__ = ["Loaded", "assemble", "library", "load", "read", "tree_of", "understood"]
