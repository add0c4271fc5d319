"""The keys of the files: what each is, how it is written, and what counts without it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from decimal import Decimal
from enum import StrEnum
from typing import Annotated, Any, get_args

from pydantic import BaseModel, TypeAdapter, ValidationError
from pydantic.fields import FieldInfo

from builder.given.drills import Height
from builder.intake import KINDS
from builder.manual.tables import MarkdownTable, anchor, by_word, nothing_left
from builder.values.scalars import Amount, Every, Part, Range

HEAD = ("key", "what it is", "how to write it", "without it")


def _models(annotation: Any) -> Iterator[type[Part]]:
    """The models that a type is made of, and those below them. Heights are written as one value."""
    if isinstance(annotation, type) and issubclass(annotation, Part) and annotation is not Height:
        yield annotation
        for info in annotation.model_fields.values():
            yield from _models(info.annotation)
    for part in get_args(annotation):
        yield from _models(part)


MODELS: dict[str, type[BaseModel]] = {m.__name__: m for kind in KINDS.values() for m in _models(kind)}


def fields_of(model: type[BaseModel]) -> dict[str, FieldInfo]:
    """The keys of a model as they are written."""
    return {info.alias or name: info for name, info in model.model_fields.items()}


def keys(model: type[BaseModel], said: MarkdownTable) -> MarkdownTable:
    """Every key in the order that it is told in: what it is, how it is written, and what counts without it."""
    told, known = by_word(said), fields_of(model)
    nothing_left(told, known, model.__name__)
    if left := [key for key in known if key not in told]:
        raise ValueError(f"{model.__name__}: nothing is said of {', '.join(left)}")
    rows = []
    for key, (first, how, note) in told.items():
        info = known[key]
        if not info.description:
            raise ValueError(f"{model.__name__}: {key} has no description")
        unset = info.json_schema_extra.get("unset", "") if isinstance(info.json_schema_extra, dict) else ""
        rows.append((first, _sentence(info.description), how, _without(info, _sentence(str(unset)) or note)))
    return MarkdownTable((said.head[0], *HEAD[1:]), tuple(rows))


def _sentence(description: str) -> str:
    """A description as it stands in a cell: without the full stop at its end."""
    return description.strip().removesuffix(".").replace("|", "\\|").replace("\n", " ")


def _without(info: FieldInfo, note: str) -> str:
    """What counts where the key is left out."""
    if info.is_required():
        return "required"
    value = info.get_default(call_default_factory=True)
    if isinstance(value, Part):
        return note
    plain = "none" if value is None else "empty" if value in ((), {}) else f"`{_written(info, value)}`"
    return f"{plain}; {note}" if note else plain


def _written(info: FieldInfo, value: Any) -> str:
    """A default as a file would write it: the first spelling that is read as that value."""
    kind: Any = Annotated[info.annotation, *info.metadata] if info.metadata else info.annotation
    adapter: TypeAdapter[Any] = TypeAdapter(kind)
    for text, data in _spellings(value):
        try:
            if adapter.validate_python(data) == value:
                return text
        except ValidationError:
            continue
    raise ValueError(f"no spelling for the default {value!r}")


def _spellings(value: Any) -> Iterator[tuple[str, Any]]:
    """Ways to write a value: as text, and as what a file reader makes of that text."""
    if isinstance(value, bool):
        texts = ["true" if value else "false", "yes" if value else "no"]
    elif isinstance(value, StrEnum | str):
        texts = [str(value)]
    elif isinstance(value, Amount):
        texts = [f"{value.number.normalize():f} {value.unit}" if value.unit else f"{value.number.normalize():f}"]
    elif isinstance(value, Range):
        texts = [f"{value.low}-{value.high}" if value.low < value.high else f"{value.low}"]
    elif isinstance(value, Every):
        texts = [f"{value.count} {value.of}"]
    elif isinstance(value, Decimal):
        texts = [f"{value.normalize():f}", f"{(value * 100).normalize():f} %"]
    elif isinstance(value, int):
        texts = [str(value), f"{value} s"]
    elif isinstance(value, tuple):
        rows = [list(_spellings(part)) for part in value]
        for many in zip(*rows, strict=True):
            yield f"[{', '.join(text for text, _ in many)}]", [data for _, data in many]
        return
    else:
        texts = []
    yield from ((text, text) for text in texts)


_HEADING = re.compile(r"^#+ (.+)$")
_KEYS = re.compile(r"^<!-- keys: (.+) -->$")


def index(texts: Iterable[str]) -> MarkdownTable:
    """Every key with the headings that tell of it, in the order of the alphabet."""
    places: dict[str, dict[str, None]] = {}
    for text in texts:
        title = ""
        for line in text.split("\n"):
            if found := _HEADING.match(line):
                title = found[1]
            elif found := _KEYS.match(line):
                for key in fields_of(MODELS[found[1]]):
                    places.setdefault(key, {})[title] = None
    link = "[{}](#{})"
    rows = (
        (f"`{key}`", " · ".join(link.format(title, anchor(title)) for title in titles))
        for key, titles in sorted(places.items())
    )
    return MarkdownTable(("key", "under"), tuple(rows))
