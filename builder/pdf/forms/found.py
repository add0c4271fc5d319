"""A stranger's PDF: looked at, opened, and its form fields told one by one, whatever program saved it.

Every program saves forms in its own way: tables of contents that a strict reader refuses, texts in other encodings,
states without values, fields in no list. So the tree of fields is walked by hand, by a library that mends what it
can, and nothing is taken for granted but the bounds.
"""

from __future__ import annotations

import re
import stat
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pikepdf

from builder.values.problem import Problem

# Many times what a booklet has (98 pages, 3,500 fields, half a megabyte), so that several made one file of are read,
# and a file that was made to fill the memory is not.
MOST_BYTES = 64 * 1024 * 1024
MOST_ATTACHED = 8 * 1024 * 1024
MOST_PAGES = 3000
MOST_FIELDS = 60_000
MOST_LETTERS = 20_000
DEEPEST = 16
ORIGIN = "/LDLF_Field"
TICKED = "on"
"""What a tick that is set reads as."""
_ESCAPES = re.compile("\x1b[^\x1b]*\x1b")

DAMAGE = (
    pikepdf.PdfError, zlib.error, RuntimeError, ValueError, TypeError, AttributeError, KeyError, IndexError,
)  # fmt: skip
"""What is not built as PDFs are shows up as any of these, deep within the library."""
AGAIN = "Open the booklet's own file in a viewer, fill it in and save it there; do not print it into a new PDF."


class Refused(Exception):
    """Ends the reading of a file with the one problem that it has."""

    def __init__(self, code: str, fact: str, help_: str) -> None:
        super().__init__(fact)
        self.problem = Problem(code, None, fact, help_)


@dataclass(frozen=True, slots=True)
class HeldField:
    """A form field that can hold something: its full name, its text ("" for none), and its page from 1, 0 for none.

    `origin` names the document and the field that it was when we made it, in a key of our own (ISO 32000-1, annex E),
    which programs leave alone that give a field another name.
    """

    name: str
    text: str
    page: int
    origin: str


@contextmanager
def opened(path: Path) -> Iterator[Any]:
    """The PDF, open as long as this lasts; raises `Refused` when it is none, or is damaged."""
    try:
        _look(path)
        with _pdf(path) as pdf:
            if len(pdf.pages) > MOST_PAGES:
                raise Refused("pdf-large", f"{path} has {len(pdf.pages)} pages", f"A booklet may have {MOST_PAGES}.")
            yield pdf
    except DAMAGE as error:
        fact = f"{path} is damaged and cannot be read ({type(error).__name__})"
        raise Refused("pdf-damaged", fact, "Take the copy on the device where it was filled in.") from error


def whole(path: Path) -> bytes:
    """The bytes of a file that is no larger than any booklet; refused when it cannot be read."""
    try:
        about = path.stat()
        # A pipe would keep the run waiting. A folder goes on to `open`, whose own fault says what it is.
        if not (stat.S_ISREG(about.st_mode) or stat.S_ISDIR(about.st_mode)):
            raise Refused("unreadable", f"{path} is no regular file", "Name the booklet that was filled in.")
        with path.open("rb") as file:
            # One byte more than may be, so that it is known whether there is more, whatever the size was said to be.
            data = file.read(MOST_BYTES + 1)
    except OSError as error:
        fact = f"{path} cannot be read: {(error.strerror or 'unknown reason').lower()}"
        raise Refused("unreadable", fact, "Check the name and the rights of the file.") from error
    if len(data) > MOST_BYTES:
        fact = f"{path} is larger than {MOST_BYTES // 1024**2} MiB"
        raise Refused("pdf-large", fact, "No booklet is.")
    return data


def _look(path: Path) -> None:
    """What the bytes alone tell."""
    data = whole(path)
    # Where readers look for both (PDF Reference 1.7, appendix H.3, notes 13 and 18).
    head, tail = data[:1024], data[-1024:]
    if b"%PDF-" not in head:
        raise Refused("pdf-other", f"{path} is not a PDF", "Name the booklet that was filled in.")
    if b"%%EOF" not in tail:
        help_ = "It was cut short when it was copied or sent. Copy it again from where it was filled in."
        raise Refused("pdf-cut", f"{path} ends in the middle", help_)


def _pdf(path: Path) -> Any:
    try:
        return pikepdf.open(path, suppress_warnings=True)
    except pikepdf.PasswordError as error:
        help_ = "Save a copy that opens without a password; our own locked booklets do."
        raise Refused("pdf-password", f"{path} asks for a password", help_) from error


def attached(pdf: Any, name: str) -> bytes | None:
    """The bytes of an attachment, None when there is none of that name; refused when it is too large."""
    if name not in pdf.attachments:
        return None
    stream = pdf.attachments[name].obj.EF.F
    return unpacked(stream, f"the attachment {name}")


def unpacked(stream: Any, name: str) -> bytes:
    """The bytes of a stream that messages call `name`.

    They may not grow beyond `MOST_ATTACHED`, and only plain and deflated ones are read.
    """
    raw: bytes = stream.read_raw_bytes()
    filters = [str(one) for one in _list(stream.get("/Filter"))] or [str(stream.get("/Filter", ""))]
    if filters in ([""], []):
        data = raw
    elif filters == ["/FlateDecode"] and "/DecodeParms" not in stream:
        # With a bound, which the library's own way does not have: a few bytes may unpack to gigabytes.
        data = zlib.decompressobj().decompress(raw, MOST_ATTACHED + 1)
    else:
        raise Refused("pdf-damaged", f"{name} is packed in an unknown way", AGAIN)
    if len(data) > MOST_ATTACHED:
        limit = f"It may have {MOST_ATTACHED // 1024**2} MiB."
        raise Refused("pdf-large", f"{name} is too large", limit)
    return data


def leaves(pdf: Any) -> Iterator[HeldField]:
    """Each field that can hold something, in the form's order; those of no form come last."""
    pages: dict[tuple[int, int], int] = {}
    # From the pages to the fields: a field need not say on which page it stands.
    for number, page in enumerate(pdf.pages, 1):
        for widget in _list(page.obj.get("/Annots")):
            if isinstance(widget, pikepdf.Dictionary):
                pages.setdefault(widget.objgen, number)
    form = pdf.Root.get("/AcroForm")
    walk = _FieldWalk(pages)
    if isinstance(form, pikepdf.Dictionary):
        yield from walk.below(form.get("/Fields"), "", None, None, 0)
    for page in pdf.pages:
        # Programs that make one file of several leave widgets on the pages that no form has.
        stray = [w for w in _list(page.obj.get("/Annots")) if walk.is_stray(w)]
        yield from walk.below(stray, "", None, None, 0)


def full_name(field: Any) -> str:
    """The name of a field with those of the fields above it (ISO 32000-1, 12.7.3.2)."""
    return ".".join(reversed([_text(one.T) for one in _upwards(field) if "/T" in one]))


def inherited(field: Any, key: str) -> Any:
    """An entry of a field, or of the nearest field above it that has one; None where none has."""
    return next((one[key] for one in _upwards(field) if key in one), None)


def _upwards(field: Any) -> Iterator[Any]:
    """The field and those above it; a file that goes in a circle ends somewhere."""
    for _ in range(DEEPEST):
        if not isinstance(field, pikepdf.Dictionary):
            return
        yield field
        field = field.get("/Parent")


class _FieldWalk:
    """The way through the tree of fields; it holds what it has seen."""

    def __init__(self, pages: dict[tuple[int, int], int]) -> None:
        self.pages = pages
        self.seen: set[tuple[int, int]] = set()

    def is_stray(self, widget: Any) -> bool:
        """Whether a widget stands on a page without being entered in the form."""
        return (
            isinstance(widget, pikepdf.Dictionary)
            and widget.get("/Subtype") == "/Widget"
            and "/T" in widget
            and widget.objgen not in self.seen
        )

    def below(self, fields: Any, above: str, value: Any, kind: Any, depth: int) -> Iterator[HeldField]:
        for field in _list(fields):
            known = isinstance(field, pikepdf.Dictionary) and field.is_indirect and field.objgen in self.seen
            if not isinstance(field, pikepdf.Dictionary) or depth > DEEPEST or known:
                continue
            # An object without a number cannot be met twice, but counts towards the most.
            self.seen.add(field.objgen if field.is_indirect else (-len(self.seen), 0))
            if len(self.seen) > MOST_FIELDS:
                raise Refused("pdf-large", f"there are more than {MOST_FIELDS} form fields", "No booklet has so many.")
            name = ".".join(filter(None, (above, _text(field.get("/T")))))
            held, type_ = field.get("/V", value), field.get("/FT", kind)
            kids = [kid for kid in _list(field.get("/Kids")) if isinstance(kid, pikepdf.Dictionary)]
            # Kids with a name are fields; those without are the places where this one shows.
            if any("/T" in kid for kid in kids):
                yield from self.below(kids, name, held, type_, depth + 1)
            else:
                self.seen.update(kid.objgen for kid in kids)
                page = self.pages.get((kids[0] if kids else field).objgen, 0)
                yield HeldField(name, _held(field, kids, held, type_), page, _text(field.get(ORIGIN)))


def _held(field: Any, kids: list[Any], value: Any, kind: Any) -> str:
    """The text of a field, `TICKED` for a tick that is set, "" for a blank one."""
    if kind != "/Btn":
        return _text(value)
    # Some programs set the state of the widget alone. Any name but Off is on: it is for the writer to choose.
    states = [value] if value is not None else [widget.get("/AS") for widget in kids or [field]]
    return TICKED if any(state not in (None, "/Off", "") for state in states) else ""


def _text(value: Any) -> str:
    """A text string in any of the spellings that programs write, without language marks, line ends as \\n."""
    if isinstance(value, pikepdf.Stream):
        raw = unpacked(value, "the value of a field")
    elif isinstance(value, pikepdf.String):
        raw = bytes(value)
    else:
        return ""
    if len(raw) > MOST_LETTERS * 4:
        raise Refused("pdf-large", "a field holds more text than any log", f"{MOST_LETTERS} letters are read.")
    text = _ESCAPES.sub("", _decoded(raw))
    return text.replace("\r\n", "\n").replace("\r", "\n").replace("\x00", "").strip()


def _decoded(raw: bytes) -> str:
    """PDF text (ISO 32000-2, 7.9.2.2); UTF-8 without its mark, which some programs write, is known by its bytes."""
    for mark, encoding in ((b"\xfe\xff", "utf-16-be"), (b"\xff\xfe", "utf-16-le"), (b"\xef\xbb\xbf", "utf-8")):
        if raw.startswith(mark):
            return raw[len(mark) :].decode(encoding, "replace")
    if raw.isascii():
        return raw.decode("ascii")
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError:
        return raw.decode("pdfdoc", "replace")


def _list(value: Any) -> list[Any]:
    return list(value) if isinstance(value, pikepdf.Array | list) else []


__all__ = [
    "AGAIN", "DAMAGE", "TICKED", "HeldField", "Refused", "attached", "full_name", "inherited", "leaves", "opened",
    "unpacked", "whole",
]  # fmt: skip
