"""Fragments and compiled templates kept from one run to the next, found again by all that they come from."""

from __future__ import annotations

import hashlib
import marshal
import os
import re
import sys
import zlib
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit
from urllib.request import url2pathname

import jinja2
from jinja2.bccache import Bucket, BytecodeCache

from builder import __version__
from builder.door import Shelf, caches
from builder.pdf.fonts import Setting
from builder.pdf.fragments.parts import FontUse, Fragment, FragmentPage, Known, Leaf
from builder.values.lists import Keep

MOST = 96 * 1024 * 1024
"""Bytes on disk; a booklet of 120 pages takes about 3 MB."""
_FILES = re.compile(r'\bsrc="([^"]*)"|url\(\s*["\']?([^"\')]*)')
# A kind that is missing here is written, and never found again.
_PARTS = {kind.__name__: kind for kind in (Fragment, FragmentPage, FontUse, Known, Setting)}


def shelf() -> Shelf:
    """Where they stay."""
    return Shelf(caches(os.environ) / "loadleaf" / "fragments", MOST)


class Keeping:
    """The fragments of one booklet on the shelf. `ground` is what all its leaves have in common."""

    def __init__(self, keep: Keep, shelf: Shelf, ground: tuple[Any, ...]) -> None:
        self.keep, self.shelf = keep, shelf
        self.ground = _digest(_programs(), *map(repr, ground)) if keep is not Keep.NONE else ""

    def key(self, leaf: Leaf, numbers: Mapping[str, int] | None = None) -> str:
        """The name of a leaf's fragment, "" for one that is not to be kept."""
        if self.keep is Keep.NONE or (leaf.personal and self.keep is Keep.TEXTS):
            return ""
        try:
            # By what is in them: a picture may change under its name.
            files = [_file(one or other) for one, other in _FILES.findall(leaf.html)]
        except OSError:
            return ""
        counted = repr(sorted(numbers.items())) if numbers is not None else ""
        return _digest(self.ground, leaf.html, repr(leaf.fields), counted, *files)

    def found(self, key: str) -> Fragment | None:
        """The fragment of that name, if it is there."""
        data = self.shelf.get(key) if key else None
        return _unpacked(data) if data is not None else None

    def lay(self, key: str, made: Fragment) -> None:
        """Keep a fragment that nothing is wrong with."""
        # One that was warned of is made anew each time: a kept one is silent, and the warning would be heard only once.
        if key and not made.problems and not made.warnings:
            # What pickle reads may name any code to be run, what marshal reads none. But bytes of a stranger could
            # crash it, so the shelf takes nothing that others could have laid there. Compressed lightly: most of it is
            # compressed already.
            self.shelf.put(key, zlib.compress(marshal.dumps(_plain(made)), 1))


class Compiled(BytecodeCache):
    """Our templates as they were compiled, on the shelf. Its keys name their text and the programs."""

    def __init__(self, shelf: Shelf) -> None:
        self.shelf = shelf

    def load_bytecode(self, bucket: Bucket) -> None:
        """Take the template from the shelf, if it is there."""
        if (data := self.shelf.get(self._key(bucket))) is not None:
            bucket.bytecode_from_string(data)

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Lay the template there."""
        self.shelf.put(self._key(bucket), bucket.bytecode_to_string())

    def _key(self, bucket: Bucket) -> str:
        # The engine's own check sum is of the text alone, and another version compiles it otherwise.
        return _digest(_programs(), jinja2.__version__, bucket.key, bucket.checksum)


def _digest(*parts: str) -> str:
    told = hashlib.sha256()
    for part in parts:
        # Each part by its digest, so that no two lists of parts run together into one text.
        told.update(hashlib.sha256(part.encode("utf-8", "surrogatepass")).digest())
    return told.hexdigest()


def _file(address: str) -> str:
    """The digest of a file that a page shows; OSError for one that cannot be read here."""
    if address.startswith(("data:", "#")):
        return ""
    parts = urlsplit(address)
    if parts.scheme != "file":
        raise OSError(f"{address} is no file")
    return hashlib.sha256(Path(url2pathname(parts.path)).read_bytes()).hexdigest()


@lru_cache(maxsize=1)
def _programs() -> str:
    """The versions of all that has a hand in a fragment; of our own, what it says."""
    import fontTools
    import pydyf
    import weasyprint
    from weasyprint.text.ffi import harfbuzz, pango

    folder = Path(__file__).parents[1]
    # The text of the whole room, since our version stays the same while it is worked on.
    ours = _digest(*(path.read_text(encoding="utf-8") for path in sorted(folder.rglob("*.py"))))
    versions = (__version__, ours, sys.version, weasyprint.__version__, pydyf.__version__, fontTools.version)
    return repr((*versions, pango.pango_version(), bool(harfbuzz.hb_version_atleast(7, 0, 0))))


def _plain(value: Any) -> Any:
    """A value as tuples, numbers and texts, which can be written down without naming code."""
    if is_dataclass(value) and not isinstance(value, type):
        return "*", type(value).__name__, tuple(_plain(getattr(value, one.name)) for one in fields(value))
    if isinstance(value, Mapping):
        return "{", tuple((_plain(key), _plain(one)) for key, one in value.items())
    if isinstance(value, tuple | list):
        return "(" if isinstance(value, tuple) else "[", tuple(map(_plain, value))
    return value


def _value(plain: Any) -> Any:
    """The value that was written as `plain`."""
    if not isinstance(plain, tuple):
        return plain
    kind = plain[0]
    if kind == "*":
        return _PARTS[plain[1]](*map(_value, plain[2]))
    if kind == "{":
        return {_value(key): _value(one) for key, one in plain[1]}
    return tuple(map(_value, plain[1])) if kind == "(" else list(map(_value, plain[1]))


def _unpacked(data: bytes) -> Fragment | None:
    try:
        made = _value(marshal.loads(zlib.decompress(data)))
    except (ValueError, EOFError, TypeError, KeyError, zlib.error):  # of a program that wrote otherwise
        return None
    return made if isinstance(made, Fragment) else None
