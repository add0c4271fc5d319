"""The JSON Schema of a kind of source file, for editors: it takes each file and part of one that `check` takes.

Why not the schema that pydantic makes of a model: it describes typed values, while a file has texts such as "85 %", and
may hold a part of a client or of a block alone, to be laid over others.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from enum import Enum
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

import annotated_types as at
from pydantic import BaseModel, WithJsonSchema
from pydantic.fields import FieldInfo

from builder.values.effort import Rated
from builder.values.forms import Or
from builder.values.scalars import Amount, Every, Part, Range

Json = dict[str, Any]
DRAFT = "https://json-schema.org/draft/2020-12/schema"


def file_schema(models: Mapping[str, type[BaseModel]], names: Mapping[str, Iterable[str]], title: str) -> Json:
    """The schema of a file that holds these kinds, or parts of them; `names` are those that an editor may offer.

    Files are laid over each other key by key, so that no key is due outside of lists, which are replaced as a whole.
    """
    made = _Schema(names)
    keys: Json = {}
    for model in models.values():
        keys |= made.keys(model, whole=False)
    about = " ".join((model.__doc__ or "").split("\n")[0] for model in models.values())
    return {
        "$schema": DRAFT,
        "title": title,
        "description": about,
        "type": "object",
        "properties": keys,
        "required": ["format"],
        "additionalProperties": False,
        "$defs": dict(sorted(made.parts.items())),
    }


class _Schema:
    """Makes schemas of types, and collects those of the parts that they refer to."""

    def __init__(self, names: Mapping[str, Iterable[str]]) -> None:
        self.parts: Json = {}
        self.names = names

    def keys(self, model: type[BaseModel], *, whole: bool) -> Json:
        """The keys of a part as they are written, each with what is said of it."""
        return {info.alias or name: self._key(info, whole) for name, info in model.model_fields.items()}

    def _key(self, info: FieldInfo, whole: bool) -> Json:
        extra = info.json_schema_extra if isinstance(info.json_schema_extra, dict) else {}
        unset = extra.get("unset")
        made = self._of(Annotated[info.annotation, *info.metadata] if info.metadata else info.annotation, whole)
        if info.discriminator:
            made = {"oneOf": made["anyOf"]}
        told = [info.description or "", f"Written as {made['form']}." if "form" in made else ""]
        told += [f"Without it: {unset}." if unset else ""]
        default = info.get_default(call_default_factory=True) if not info.is_required() else None
        made |= {key: value for key, value in extra.items() if key != "unset"}
        if default is not None and not (unset and info.annotation in (int, Range)):
            made["default"] = as_written(default, made.pop("written", ""))
        shown = {key: value for key, value in made.items() if key not in ("form", "written")}
        return {**shown, "description": " ".join(filter(None, told)), "examples": list(info.examples or ())}

    def _of(self, kind: Any, whole: bool) -> Json:
        origin = get_origin(kind)
        if origin is Annotated:
            return self._annotated(kind, whole)
        if origin in (Union, UnionType):
            options = [self._of(one, whole) for one in get_args(kind) if one is not NoneType]
            return options[0] if len(options) == 1 else {"anyOf": options}
        if origin is Literal:
            values = list(get_args(kind))
            return {"const": values[0]} if len(values) == 1 else {"enum": values}
        if origin is tuple:
            return self._list(get_args(kind))
        if origin is dict:
            key, value = get_args(kind)
            return {"type": "object", "propertyNames": self._bare(key), "additionalProperties": self._bare(value)}
        if kind is str:
            return {"type": "string"}
        if issubclass(kind, Enum):
            return {"enum": [str(one.value) for one in kind]}
        return self._part(kind, whole)

    def _bare(self, kind: Any, whole: bool = False) -> Json:
        """A type without what is said of its writing, which stands at the key."""
        return {key: value for key, value in self._of(kind, whole).items() if key not in ("form", "written")}

    def _list(self, kinds: tuple[Any, ...]) -> Json:
        if kinds[-1] is Ellipsis:
            item = self._of(kinds[0], True)
            return {"type": "array", "items": self._bare(kinds[0], True)} | _way(item)
        each = [self._bare(kind, True) for kind in kinds]
        counts = {"minItems": len(each), "maxItems": len(each)}
        return {"type": "array", "prefixItems": each, **counts} | _way(self._of(kinds[0], True))

    def _annotated(self, kind: Any, whole: bool) -> Json:
        inner, *marks = get_args(kind)
        said = [mark.json_schema for mark in marks if isinstance(mark, WithJsonSchema)]
        made = dict(said[-1] or {}) if said else self._of(inner, whole)
        made = self._offer(made) if "offered" in made else made
        for mark in marks:
            for one in mark.metadata if isinstance(mark, FieldInfo) else (mark,):
                made |= _bounds(one, made)
        other = next((mark.form for mark in marks if isinstance(mark, Or)), None)
        return {"anyOf": [self._bare(other), made]} if other is not None else made

    def _offer(self, made: Json) -> Json:
        text = {key: value for key, value in made.items() if key != "offered"}
        refs = []
        for what in made["offered"]:
            self.parts[what] = {"enum": sorted(self.names[what])}
            refs.append({"$ref": f"#/$defs/{what}"})
        return {"anyOf": [*refs, text]}

    def _part(self, model: type[Part], whole: bool) -> Json:
        name = model.__name__ if whole else f"{model.__name__}.part"
        if name not in self.parts:
            # Entered before it is made, so that a part that holds its own kind comes to an end.
            self.parts[name] = {}
            self.parts[name] |= self._made(model, whole)
        return {"$ref": f"#/$defs/{name}"}

    def _made(self, model: type[Part], whole: bool) -> Json:
        extra = model.model_config.get("json_schema_extra")
        due = [info.alias or name for name, info in model.model_fields.items() if whole and info.is_required()]
        made: Json = {
            "type": "object",
            "description": (model.__doc__ or "").split("\n")[0],
            "properties": self.keys(model, whole=whole),
            "additionalProperties": False,
            **(extra if isinstance(extra, dict) and whole else {}),
        }
        if issubclass(model, Rated) and "rpe" in model.model_fields:
            if "rir" in due:
                due.remove("rir")
                made["anyOf"] = [{"required": ["rir"]}, {"required": ["rpe"]}]
            made["not"] = {"required": ["rir", "rpe"]}
        return made | ({"required": due} if due else {})


def _way(made: Json) -> Json:
    """How the values of a list are written, for its default."""
    return {"written": made["written"]} if "written" in made else {}


def _bounds(mark: Any, made: Json) -> Json:
    """What a limit of pydantic's says in JSON Schema of a value of this type."""
    kinds = made.get("type", [])
    size = {"array": "Items", "object": "Properties"}.get(kinds if isinstance(kinds, str) else "", "Length")
    if isinstance(mark, at.Interval | at.Len | at.GroupedMetadata):
        found: Json = {}
        for one in mark:
            found |= _bounds(one, made)
        return found
    if isinstance(mark, at.MinLen):
        return {f"min{size}": mark.min_length}
    if isinstance(mark, at.MaxLen):
        return {f"max{size}": mark.max_length}
    if pattern := getattr(mark, "pattern", None):
        return {"pattern": pattern, "type": "string"}
    if not {"number", "integer"} & set(kinds if isinstance(kinds, list) else [kinds]):
        return {}
    for limit, word, key in _LIMITS:
        if isinstance(mark, limit):
            return {key: _plain(getattr(mark, word))}
    return {}


_LIMITS: tuple[tuple[type, str, str], ...] = (
    (at.Ge, "ge", "minimum"), (at.Gt, "gt", "exclusiveMinimum"), (at.Le, "le", "maximum"),
    (at.Lt, "lt", "exclusiveMaximum"), (at.MultipleOf, "multiple_of", "multipleOf"),
)  # fmt: skip


def _plain(number: Any) -> Any:
    return number if isinstance(number, int) else int(number) if number == int(number) else float(number)


def as_written(value: Any, way: str = "") -> Any:
    """A value as a file says it; `way` names what the number alone does not tell."""
    if isinstance(value, tuple):
        return [as_written(one, way) for one in value]
    if way == "share":
        return f"{(value * 100).normalize():f} %"
    if way == "seconds":
        return f"{value} s"
    if isinstance(value, Amount):
        return _plain(value.number)
    if isinstance(value, Decimal):
        return _plain(value)
    if isinstance(value, Every):
        return f"{value.count} {value.of}"
    if isinstance(value, Part):
        return {}
    return str(value) if isinstance(value, Enum) else value


__all__ = ["as_written", "file_schema"]
