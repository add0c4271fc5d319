"""Objects of a fragment written as bytes, with marks where the joined file has numbers and places of its own."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Any, cast

import pydyf

DOCUMENT = "\x04"
"""Stands for the name of the document, which no fragment knows."""
_MARK = re.compile(rb"([\x01-\x03][-.\d]+;|\x04)")
_NEXT = b"\0"
# Not \x04: it stands in the texts of fields on purpose, in place of the document's name.
_CONTROL = re.compile(rb"[\x00-\x03]")
# Notes and the grounds of boxes have their places on the page itself. All else is moved by an operator that comes
# before it (`Joint._shift`), and needs no mark.
_PARENT, _ACROSS = b"\x02%d;", {"Rect": (0, 2), "Matrix": (4,)}


def written(value: Any) -> bytes:
    """An object as PDF: references marked by \\x01, the place in the parent tree by \\x02, left and right by \\x03.

    Text cannot be taken for a mark: signs of control are written as octal numbers.
    """
    kind = type(value)
    if kind is bytes:
        return b"\x01%s;" % value[:-4] if value[-4:] == b" 0 R" and value[:-4].isdigit() else cast(bytes, value)
    if kind is str:
        return cast(str, value).encode("ascii")
    if isinstance(value, pydyf.Dictionary):
        entries = [b"%s%s" % (_key(key), _entry(key, one)) for key, one in value.items()]
        return b"<<%s>>" % b"".join(entries)
    if isinstance(value, pydyf.Array):
        return b"[%s]" % b" ".join([written(one) for one in value])
    if isinstance(value, pydyf.String):
        return _CONTROL.sub(lambda sign: b"\\%03o" % sign[0][0], value.data)
    return cast(bytes, pydyf._to_bytes(value))


@lru_cache(maxsize=1024)
def _key(key: str | bytes) -> bytes:
    """There are few: the names of the format, and those of what the operators of a page use."""
    return b"/%s " % pydyf._to_bytes(key)


def _entry(key: str, value: Any) -> bytes:
    if key in _ACROSS:
        across = _ACROSS[key]
        sides = (b"\x03%s;" % written(side) if place in across else written(side) for place, side in enumerate(value))
        return b"[%s]" % b" ".join(sides)
    return _PARENT % value if key == "StructParent" else written(value)


class Filling(dict[bytes, bytes]):
    """What stands for each mark in the joined file.

    `numbers` are the new numbers of objects by the old, `parents` and `across` what is added to places in the parent
    tree and to places on the page.
    """

    def __init__(self, numbers: Mapping[int, int], parents: int, across: float, document: bytes) -> None:
        super().__init__({DOCUMENT.encode("ascii"): document})
        self.numbers, self.parents, self.across = numbers, parents, across

    def __missing__(self, mark: bytes) -> bytes:
        kind, number = mark[:1], mark[1:-1]
        if kind == b"\x01":
            told = b"%d 0 R" % self.numbers[int(number)]
        elif kind == b"\x02":
            told = b"%d" % (int(number) + self.parents)
        else:
            told = _moved(number, self.across)
        self[mark] = told
        return told

    def told(self, texts: Iterable[bytes]) -> list[bytes]:
        """The texts of objects as they stand in the joined file."""
        # All texts at one go, since a booklet has tens of thousands; the sign between them is one that no object can
        # have.
        parts = _MARK.split(_NEXT.join(texts))
        parts[1::2] = map(self.__getitem__, parts[1::2])
        return b"".join(parts).split(_NEXT)


def _moved(number: bytes, across: float) -> bytes:
    if not across:
        return number
    made: bytes = pydyf._to_bytes(round(float(number) + across, 4))
    return made


def is_bound(text: bytes) -> bool:
    """Whether an object leads to others, so that it may differ from one that reads the same."""
    return _MARK.search(text) is not None


__all__ = ["DOCUMENT", "Filling", "is_bound", "written"]
