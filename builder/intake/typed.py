"""A merged tree to typed models; what pydantic finds becomes located problems in plain words.

What pydantic says is meant for who writes programs: types of Python, and paths of keys. People get the line of their
file, and what to type there.
"""

from __future__ import annotations

import re
from collections.abc import Sequence as Many
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import lru_cache
from typing import Any

from pydantic import BaseModel, ValidationError

from builder.given import Block, BrandFile, Client, Movements
from builder.intake import shapes
from builder.intake.merge import blanks, kept_data
from builder.intake.reader import MOST_TOLD
from builder.values import slips
from builder.values.nodes import Mapping, Node, Path, Scalar, Sequence, locate, node_at
from builder.values.problem import Problem, Span, closest, did_you_mean, listing

KINDS: dict[str, type[BaseModel]] = {
    "client": Client,
    "block": Block,
    "brand": BrandFile,
    "movements": Movements,
}
"""Each kind of source by the top-level key that tells it, which every file of the kind must have."""


def top_keys(kind: str) -> list[str]:
    """The top-level keys that belong to a kind of source, as they are written."""
    return [field.alias or name for name, field in KINDS[kind].model_fields.items()]


def typed(tree: Mapping) -> tuple[dict[str, Any], tuple[Problem, ...]]:
    """Every kind of source that the tree holds as its model, or None where it has problems."""
    problems = [_blank_problem(key, value) for key, value in blanks(tree)[:MOST_TOLD]]
    known = sorted({key for kind in KINDS for key in top_keys(kind)})
    strange = [key for key, _ in tree.items if key.text not in known][:MOST_TOLD]
    problems += [_unknown(key.span, key.text, known, elsewhere=_below(key.text, known)) for key in strange]
    data = kept_data(tree)
    models: dict[str, Any] = {}
    for kind, model in KINDS.items():
        mine = {key: data[key] for key in top_keys(kind) if key in data}
        models[kind] = None
        # The number of the format stands in each file and says nothing of its kind.
        if not set(mine) - {"format"}:
            continue
        try:
            models[kind] = _model(kind, Alike(repr(mine), mine))
        except ValidationError as error:
            found = error.errors(include_url=False)[:MOST_TOLD]
            meant = {_meant(model, tuple(e["loc"])) for e in found if e["type"] == "extra_forbidden"}
            # One slip often makes several errors: of a miswritten key that it is not known, and that another one is
            # missing.
            told = [e for e in found if not _echo(tree, e, found) and tuple(e["loc"]) not in meant]
            problems += [_problem(tree, model, kind, e) for e in told]
    return models, tuple(problems)


@dataclass(frozen=True, slots=True)
class Alike:
    """Plain data, the same as any other that is written alike."""

    written: str
    data: dict[str, Any] = field(compare=False)


@lru_cache(maxsize=64)
def _model(kind: str, given: Alike) -> BaseModel:
    """The model of one kind of source; a block that many buyers share is typed once. May raise ValidationError."""
    return KINDS[kind].model_validate(given.data)


def _meant(model: type[BaseModel], path: Path) -> Path:
    """The path that an unknown key was probably meant for; what is said of it need not be said again."""
    word, known = str(path[-1]), _keys_of(model, path[:-1])
    return (*path[:-1], shapes.said_for(word, known) or closest(word, known) or "")


def _echo(tree: Mapping, error: Any, errors: Many[Any]) -> bool:
    """Whether an error only follows from a problem that is told elsewhere.

    So is a reserve that a rating was turned into, a missing key with a blank value, anything about "format" (each
    file is asked for its own), and a list that counts as too short because of what is wrong inside it.
    """
    path = tuple(error["loc"])
    if path == ("format",):
        return True
    if error["type"] == "too_short":
        return any(other["loc"][: len(path)] == path and len(other["loc"]) > len(path) for other in errors)
    owner = node_at(tree, path[:-1])
    rated = node_at(tree, path[: path.index("rir")]) if "rir" in path else None
    if isinstance(rated, Mapping) and rated.key("rpe") is not None:
        return True
    blank = isinstance(owner, Mapping) and owner.key(str(path[-1])) is not None
    return error["type"] == "missing" and blank


def _blank_problem(key: Scalar | None, value: Node) -> Problem:
    if key is None:
        return Problem("empty-value", value.span, "this list entry is empty", "Write it, or delete the dash.")
    cut = re.search(r"(\d+),\s*$", key.span.source[: key.span.column - 1])
    if cut and re.match(r"\d", key.text):
        at = replace(key.span, column=cut.start() + 1, width=key.span.column + key.span.width - cut.start() - 1)
        fact = f'"{cut[1]},{key.text}" has a comma, which parts entries inside {{ }}'
        weeks = key.span.source[: cut.start()].rstrip().endswith("weeks:")
        help_ = f'Write "{cut[1]}-{key.text}".' if weeks else f'Write "{cut[1]}.{key.text}", with a point.'
        return Problem("decimal-comma", at, fact, help_)
    rest = value.span.source[value.span.column - 1 :].strip() if value.span.line == key.span.line else ""
    help_ = "Write its value, or delete the line."
    if whole := shapes.glued(key.text):
        return Problem("no-space", key.span, f'a space is missing after ":" in "{key.text}"', f'Write "{whole}".')
    if rest.startswith("#"):
        help_ = f'What follows # is a remark: put the value in quotes, "{rest.split()[0]}".'
    return Problem("empty-value", key.span, f'nothing stands after "{key.text}:"', help_)


def _unknown(span: Span, word: str, known: list[str], value: Node | None = None, elsewhere: str = "") -> Problem:
    meant = elsewhere or shapes.key_for(word, known, value) or did_you_mean(word, known)
    help_ = meant or (f"Known here: {listing(known, 20)}." if known else "Take it out.")
    return Problem("unknown-key", span, f'"{word}" is not a key of this part', help_)


def _problem(tree: Mapping, model: type[BaseModel], kind: str, error: Any) -> Problem:
    path, type_ = tuple(error["loc"]), error["type"]
    context = error.get("ctx") or {}
    if type_ == "extra_forbidden":
        span, known = locate(tree, path, key=True), _keys_of(model, path[:-1])
        return _unknown(span, str(path[-1]), known, node_at(tree, path), _elsewhere(tree, model, path))
    if type_ == "missing":
        return _missing(tree, model, kind, path)
    if type_ == "union_tag_invalid":
        path = (*path, "kind")
    if context.get("key"):
        path = (*path, context["key"], "[key]")
    span = locate(tree, tuple(step for step in path if step != "[key]"), key=path[-1:] == ("[key]",))
    if type_ == "share-without-sign" and path[-1] in ("sets", "reps") and re.fullmatch(r"[2-9]|1\d", _shown(span)):
        return Problem(type_, span, context["fact"], 'Write how much of them stays, such as "50 %".')
    if "fact" in context:
        return Problem(type_, span, context["fact"], context["help"])
    return _builtin(tree, model, type_, span, path, context)


def _missing(tree: Mapping, model: type[BaseModel], kind: str, path: Path) -> Problem:
    word = str(path[-1])
    if len(path) == 1:
        owner = tree.key(kind)
        span = owner.span if owner else locate(tree, ())
        return Problem(
            "missing-key", span, f'the {kind} files have no "{word}:"', f'Add a section "{word}:" to one of them.'
        )
    wanted = _schema_at(model, path)
    help_ = f'Add "{word}: …".'
    if "enum" in wanted:
        help_ = f'Add "{word}:" with {listing(map(str, wanted["enum"]))}.'
    elif "form" in wanted:
        help_ = f'Add "{word}: …", {wanted["form"]}.'
    here = _schema_at(model, path[:-1]).get("properties", {}).get(word, {})
    example, about = next(iter(here.get("examples", ())), None), here.get("description")
    if example is not None:
        help_ = help_.replace(f"{word}: …", f"{word}: {_flow(example)}")
    help_ = f"{help_} {about}" if about else help_
    return Problem("missing-key", locate(tree, path[:-1], key=True), f'"{word}" is missing here', help_)


def _flow(example: Any) -> str:
    """An example as a file may write it in one line."""
    if isinstance(example, dict):
        parts = sorted(example.items(), key=lambda part: part[0] != "kind")
        return f"{{{', '.join(f'{key}: {_flow(value)}' for key, value in parts)}}}"
    return f"[{', '.join(map(_flow, example))}]" if isinstance(example, list | tuple) else str(example)


def _builtin(
    tree: Mapping, model: type[BaseModel], type_: str, span: Span, path: Path, context: dict[str, Any]
) -> Problem:
    if type_ in _BOUNDS:
        limit = next(iter(context.values()))
        fact = f'"{_shown(span)}" is out of range'
        if _shown(span).startswith("-") and type_.startswith("greater") and Decimal(_plain(limit)) == 0:
            return Problem("out-of-range", span, fact, f'Write "{_shown(span)[1:]}", without the minus.')
        help_ = f"Write a value {_BOUNDS[type_]} {_limit(_shown(span), limit)}."
        help_ = 'Write the year with four digits, such as "born: 1990".' if path[-1] == "born" else help_
        return Problem("out-of-range", span, fact, help_)
    if type_ == "union_tag_invalid":
        known = [word.strip("' ") for word in str(context["expected_tags"]).split(",")]
        tag = str(context["tag"])
        said = slips.reps(tag) or ""
        meant = slips.word(tag, tuple(known)) or (f"single, {said}" if said.startswith("sets") else "")
        help_ = did_you_mean(tag, known) or f"Known kinds: {listing(known)}."
        help_ = f'Write "kind: {meant}".' if meant else help_
        return Problem("unknown-kind", span, f'"{context["tag"]}" is not a kind of progression', help_)
    if type_ == "union_tag_not_found":
        written = node_at(tree, path)
        if isinstance(written, Scalar):
            return Problem("wrong-type", span, "a mapping is expected here", _shape(tree, model, path, type_) or _LINES)
        keys = [key for key, _ in written.items] if isinstance(written, Mapping) else []
        if tags := [key for key in keys if shapes.said_for(key.text, ["kind"])]:
            return _unknown(tags[0].span, tags[0].text, ["kind"])
        return Problem("missing-key", span, '"kind" is missing here', 'Add "kind: …", such as "kind: single".')
    if type_ in ("too_short", "too_long"):
        least, most = context.get("min_length"), context.get("max_length")
        help_ = f"Write at least {least}." if least else f"Write at most {most}."
        what = "list" if isinstance(node_at(tree, path), Sequence) else "mapping"
        return Problem("wrong-length", span, f"this {what} has too {'few' if least else 'many'} entries", help_)
    if type_ == "string_pattern_mismatch":
        return Problem(
            "wrong-form",
            span,
            f'"{_shown(span)}" has the wrong form',
            _form(str(path[-1]), _shown(span)),
        )
    fact, help_ = _TYPES.get(type_, ("this value does not fit here", "See the reference of this key."))
    return Problem("wrong-type", span, fact, _shape(tree, model, path, type_) or help_)


def _shape(tree: Mapping, model: type[BaseModel], path: Path, type_: str) -> str | None:
    """What to type where one kind of value stands in the place of another."""
    words = [step for step in path if isinstance(step, str) and step not in _TAGS]
    owner = words[-1] if isinstance(path[-1], int) else words[-2] if len(words) > 1 else ""
    key, node = "*" if isinstance(path[-1], int) else words[-1], node_at(tree, path)
    if type_ in ("tuple_type", "list_type"):
        return shapes.as_list(key, node, tuple(_schema_at(model, (*path, 0)).get("enum", ())))
    avoided = node_at(tree, (*path[:-1], "avoid"))
    first = avoided.items[0] if isinstance(avoided, Sequence) and avoided.items else None
    return shapes.shaped(key, node, owner, first.text if isinstance(first, Scalar) else "")


_TAGS = ("steps", "list")
"""Steps of a path that no file writes: they tell two ways of writing a value apart."""


def _elsewhere(tree: Mapping, model: type[BaseModel], path: Path) -> str:
    """Where an unknown key belongs when the part inside this one, or the one around it, knows it."""
    word, here, said = str(path[-1]), _schema_at(model, path[:-1]), _said(tree, path)
    if {f"{word}s", word.removesuffix("s")} & set(here.get("properties", {})):
        return ""
    if "alter" in here.get("properties", {}):
        return _altered(model, path, said)
    if inner := _inside(model, path[:-1], word):
        part = node_at(tree, path[:-1])
        if isinstance(part, Mapping) and _says(part.value(inner), word):
            return f'It stands inside "{inner}:" already: leave it out here.'
        inside = f"[{{{said}}}]" if _schema_at(model, (*path[:-1], inner)).get("type") == "array" else f"{{{said}}}"
        return f'Write it inside "{inner}:", such as "{inner}: {inside}".'
    around = path[:-1]
    while around:
        last, around = around[-1], around[:-1]
        known = _schema_at(model, around).get("properties", {})
        if isinstance(last, str) and word in known:
            owner = next((step for step in reversed(path[:-1]) if step in known), last)
            if _says(node_at(tree, around), word):
                return f'It stands beside "{owner}:" already: leave it out here.'
            return f'Write it beside "{owner}:", not inside.'
    return ""


def _says(part: Node | None, word: str) -> bool:
    return isinstance(part, Mapping) and part.key(word) is not None


def _said(tree: Mapping, path: Path) -> str:
    """A key with its value, where that is a single one."""
    value = node_at(tree, path)
    return f"{path[-1]}: {value.text if isinstance(value, Scalar) else '…'}"


def _below(word: str, known: list[str]) -> str:
    """Where a strange key of a whole file belongs when one section alone knows it."""
    parts = {part for model in KINDS.values() if (part := _inside(model, (), word))}
    if len(parts) != 1 or shapes.said_for(word, known):
        return ""
    (part,) = parts
    return f'Write it inside "{part}:", such as "{part}: {{{word}: …}}".'


def _inside(model: type[BaseModel], path: Path, word: str) -> str:
    """The key at a path whose part knows a word."""
    here = _schema_at(model, path)
    known = here.get("properties", {})
    for key in known:
        below = _schema_at(model, (*path, key))
        if below.get("type") == "array" and key in here.get("required", ()) and not shapes.said_for(word, known):
            below = _schema_at(model, (*path, key, 0))
        kinds = below.get("discriminator", {}).get("mapping", {})
        inner = [_schema_at(model, (*path, key, kind)) for kind in kinds] or [below]
        if any(word in each.get("properties", {}) for each in inner):
            return str(key)
    return ""


def _altered(model: type[BaseModel], path: Path, said: str) -> str:
    """Where a key of a slot or of its progression stands in a change of it."""
    word, slot = str(path[-1]), (*path[:-1], "add")
    if word in _schema_at(model, slot).get("properties", {}):
        return f'Write it inside "with:", such as "with: {{{said}}}".'
    inner = _inside(model, slot, word)
    return f'Write it inside "with:", such as "with: {{{inner}: {{{said}}}}}".' if inner else ""


# By the names that pydantic gives its errors.
_BOUNDS = {
    "greater_than": "above",
    "greater_than_equal": "of at least",
    "less_than": "below",
    "less_than_equal": "of at most",
    "multiple_of": "that is a multiple of",
}
_FORMS = {
    "tempo": 'Write seconds down, held, up and at the top, such as "3-1-1" or "3-1-X-0".',
    "rep": 'Write metres or seconds such as "20 m" or "10 s".',
    "superset": "Write one capital letter, such as A, the same for each slot of the superset.",
}


def _form(key: str, shown: str) -> str:
    meant = slips.form(key, shown)
    return f'Write "{meant}".' if meant else _FORMS.get(key, "See the reference.")


_LINES = 'Write "key: value" lines below, indented.'
_TYPES = {
    "model_type": ("a mapping is expected here", _LINES),
    "model_attributes_type": ("a mapping is expected here", _LINES),
    "dict_type": ("a mapping is expected here", _LINES),
    "tuple_type": ("a list is expected here", "Write [a, b] or one entry a line after a dash."),
    "list_type": ("a list is expected here", "Write [a, b] or one entry a line after a dash."),
    "bool_parsing": ("this is neither true nor false", "Write true or false."),
}


def _limit(written: str, limit: Any) -> str:
    """A bound as the person would write it: shares are bounded as fractions but written with %."""
    number = _plain(limit)
    return f"{(Decimal(number) * 100).normalize():f} %" if "%" in written else number


def _plain(limit: Any) -> str:
    """A bound as a number; one that is a Decimal comes as the text "Decimal('0.8')"."""
    return str(limit).removeprefix("Decimal('").removesuffix("')")


def _shown(span: Span) -> str:
    return span.source[span.column - 1 : span.column - 1 + min(span.width, 120)]


def _keys_of(model: type[BaseModel], path: Path) -> list[str]:
    """The keys that the model at `path` knows."""
    return sorted(_schema_at(model, path).get("properties", {}))


@lru_cache(maxsize=8)
def _schema(model: type[BaseModel]) -> dict[str, Any]:
    return model.model_json_schema()


def _schema_at(model: type[BaseModel], path: Path) -> dict[str, Any]:
    """The JSON Schema of what may stand at `path`, followed through lists, mappings and kinds."""
    schema = _schema(model)
    here = schema
    for step in path:
        here = _one_step(schema, _settled(schema, here), step)
    return _settled(schema, here)


def _settled(schema: dict[str, Any], node: dict[str, Any]) -> dict[str, Any]:
    """The schema behind references, and of several alternatives the one that has parts."""
    while "$ref" in node:
        node = schema["$defs"][node["$ref"].rsplit("/", 1)[1]]
    for option in node.get("anyOf", []):
        settled = _settled(schema, option)
        if settled.get("type") in ("object", "array") or "discriminator" in settled or "enum" in settled:
            return settled
    return node


def _one_step(schema: dict[str, Any], here: dict[str, Any], step: str | int) -> dict[str, Any]:
    if isinstance(step, int):
        items: dict[str, Any] = here.get("items", {})
        return items
    kinds = here.get("discriminator", {}).get("mapping", {})
    if step in here.get("properties", {}):
        part: dict[str, Any] = here["properties"][step]
        return part
    if step in kinds:
        return {"$ref": kinds[step]}
    further = here.get("additionalProperties")
    return further if isinstance(further, dict) else here


__all__ = ["KINDS", "top_keys", "typed"]
