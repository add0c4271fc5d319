"""YAML as an editor reads it, by the core schema of YAML 1.2 (yaml.org/spec/1.2.2, 10.3): dates and `yes` are texts."""

from __future__ import annotations

import re
from typing import Any, ClassVar

import yaml


class _Core(yaml.SafeLoader):
    yaml_implicit_resolvers: ClassVar[dict[str, list[tuple[str, re.Pattern[str]]]]] = {}  # type: ignore[misc]


for _tag, _pattern, _first in (
    ("bool", r"^(?:true|True|TRUE|false|False|FALSE)$", "tTfF"),
    ("int", r"^[-+]?[0-9]+$", "-+0123456789"),
    ("float", r"^[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?$", "-+.0123456789"),
    ("null", r"^(?:~|null|Null|NULL|)$", "~nN"),
):
    _Core.add_implicit_resolver(f"tag:yaml.org,2002:{_tag}", re.compile(_pattern), list(_first))


def _plain(value: Any) -> Any:
    """With keys as text, as JSON has them."""
    if isinstance(value, dict):
        return {str(key): _plain(item) for key, item in value.items()}
    return [_plain(item) for item in value] if isinstance(value, list) else value


def as_editor(text: str) -> Any:
    """The value of a YAML text, as a JSON Schema sees it."""
    return _plain(yaml.load(text, _Core))
