"""A filled PDF as the texts of its fields: read whatever program saved it, refused with a reason when it is no log."""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pikepdf

from builder.log import manifest as carried
from builder.log.filled import Form, Value
from builder.log.manifest import Manifest, Protection
from builder.values.problem import Problem, Severity

MOST_BYTES = 64 * 1024 * 1024
MOST_ATTACHED = 8 * 1024 * 1024
MOST_PAGES = 3000
MOST_FIELDS = 60_000
MOST_LETTERS = 20_000
DEEPEST = 16
TICKED = "on"
"""What a tick that is set reads as."""
CODE = re.compile(r"\b([A-Z2-7]{8}) · (w[0-9]{2}\.d[1-7][0-9.]*)")
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
class Opened:
    """A PDF that is open, with what it says of itself."""

    pdf: Any
    manifest: Manifest


@contextmanager
def opened(path: Path) -> Iterator[Opened]:
    """A booklet of ours, open as long as this lasts; raises `Refused` when it is none, or is damaged."""
    try:
        _look(path)
        with _pdf(path) as pdf:
            if len(pdf.pages) > MOST_PAGES:
                raise Refused("pdf-large", f"{path} has {len(pdf.pages)} pages", f"A booklet may have {MOST_PAGES}.")
            manifest = _manifest(pdf, path)
            if manifest is None:
                raise _stranger(pdf, path)
            yield Opened(pdf, manifest)
    except DAMAGE as error:
        fact = f"{path} is damaged and cannot be read ({type(error).__name__})"
        raise Refused("pdf-damaged", fact, "Take the copy on the device where it was filled in.") from error


def read_form(path: Path) -> tuple[Form | None, tuple[Problem, ...]]:
    """The form of a filled booklet, or the one problem that keeps it from being read.

    With a form there may be a warning: that the file is damaged and was mended, so that entries may be lost.
    """
    try:
        with opened(path) as booklet:
            return _form(booklet, path), _mended(booklet.pdf, path)
    except Refused as refused:
        return None, (refused.problem,)


def _look(path: Path) -> None:
    """What the bytes alone tell."""
    try:
        size = path.stat().st_size
        with path.open("rb") as file:
            head = file.read(1024)
            file.seek(max(0, size - 1024))
            tail = file.read()
    except OSError as error:
        fact = f"{path} cannot be read: {(error.strerror or 'unknown reason').lower()}"
        raise Refused("unreadable", fact, "Check the name and the rights of the file.") from error
    if size > MOST_BYTES:
        fact = f"{path} is {size // 1024**2} MiB large"
        raise Refused("pdf-large", fact, f"A filled booklet may have {MOST_BYTES // 1024**2} MiB.")
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


def _mended(pdf: Any, path: Path) -> tuple[Problem, ...]:
    if not pdf.get_warnings():
        return ()
    fact = f"{path} is damaged in places; what could be mended was read"
    help_ = "Compare the log with the file, or take the copy on the device where it was filled in."
    return (Problem("pdf-mended", None, fact, help_, Severity.WARNING),)


def _form(booklet: Opened, path: Path) -> Form:
    pdf, manifest = booklet.pdf, booklet.manifest
    pages: dict[tuple[int, int], int] = {}
    for number, page in enumerate(pdf.pages, 1):
        for widget in _list(page.obj.get("/Annots")):
            pages.setdefault(widget.objgen, number)
    leaves = list(_leaves(pdf))
    names = {name for name, _, _ in leaves}
    if manifest.fields and not names & set(manifest.fields):
        raise _flat(path, manifest.code)
    if missing := [name for name in manifest.fields if name not in names]:
        fact = f"{len(missing)} of the {len(manifest.fields)} form fields are missing in {path}, such as {missing[0]}"
        raise Refused("pdf-cut", fact, "Pages were taken out, or the file was cut short. " + AGAIN)
    shown = {name: pages.get(objgen, 0) for name, _, objgen in leaves}
    values = tuple(Value(name, text, pages.get(objgen, 0)) for name, text, objgen in leaves if text)
    return Form(str(path), manifest, values, shown, _protection(pdf, manifest))


def _protection(pdf: Any, manifest: Manifest) -> Protection:
    """What the copy says of itself, and what its file shows: an older booklet says less, a viewer may unlock it."""
    said = manifest.protection
    return Protection(
        whole=said.whole and carried.PLAN in pdf.attachments,
        buyer=said.buyer or str(pdf.docinfo.get("/Buyer", ""))[:60],
        order=said.order or str(pdf.docinfo.get("/Order", ""))[:40],
        locked=said.locked or pdf.is_encrypted,
    )


def _stranger(pdf: Any, path: Path) -> Refused:
    """Why a file without a manifest cannot be read."""
    names = [name for name, _, _ in _leaves(pdf)]
    if not names and (code := _printed_code(path)):
        return _flat(path, code)
    if any(re.fullmatch(r"w[0-9]{2}-d[1-7]-.*", name) for name in names):
        fact = f"{path} has our form fields but not what they mean: a program dropped the attachments"
        return Refused("pdf-stripped", fact, AGAIN)
    return Refused("pdf-other", f"{path} is a PDF, but no booklet of ours", "Name the booklet that was filled in.")


def _flat(path: Path, code: str) -> Refused:
    fact = f"{path} is a printed or flattened copy of the booklet {code}: its pages are there, its form fields are not"
    return Refused("pdf-flat", fact, AGAIN + " Only a copy at hand? Type the result of the test: loadleaf retest.")


def _printed_code(path: Path) -> str | None:
    """The document code that log pages print, found in the text of the pages."""
    from pypdf import PdfReader

    try:
        for page in PdfReader(path, strict=False).pages[:MOST_PAGES]:
            if found := CODE.search(page.extract_text()):
                return found[1]
    except Exception:  # pypdf raises many kinds on odd files; then there is nothing to recognise
        return None
    return None


def _manifest(pdf: Any, path: Path) -> Manifest | None:
    """What the booklet says of itself, None when it carries nothing of ours."""
    data = attached(pdf, carried.MANIFEST)
    if data is None:
        return None
    try:
        return carried.from_bytes(data)
    except ValueError as error:
        fact = f"{path} carries a description that is not understood: {error}"
        raise Refused("pdf-damaged", fact, "It may be from a newer loadleaf, or damaged.") from error


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
        data = zlib.decompressobj().decompress(raw, MOST_ATTACHED + 1)
    else:
        raise Refused("pdf-damaged", f"{name} is packed in an unknown way", AGAIN)
    if len(data) > MOST_ATTACHED:
        limit = f"It may have {MOST_ATTACHED // 1024**2} MiB."
        raise Refused("pdf-large", f"{name} is too large", limit)
    return data


def _leaves(pdf: Any) -> Iterator[tuple[str, str, tuple[int, int]]]:
    """Full name, text and object number of each field that can hold something, in the form's order."""
    form = pdf.Root.get("/AcroForm")
    seen: set[tuple[int, int]] = set()
    if isinstance(form, pikepdf.Dictionary):
        yield from _below(form.get("/Fields"), "", None, None, seen, 0)
    for page in pdf.pages:
        stray = [w for w in _list(page.obj.get("/Annots")) if _is_stray(w, seen)]
        yield from _below(stray, "", None, None, seen, 0)


def _is_stray(widget: Any, seen: set[tuple[int, int]]) -> bool:
    """Whether a widget stands on a page without being entered in the form."""
    return (
        isinstance(widget, pikepdf.Dictionary)
        and widget.get("/Subtype") == "/Widget"
        and "/T" in widget
        and widget.objgen not in seen
    )


def _below(
    fields: Any, above: str, value: Any, kind: Any, seen: set[tuple[int, int]], depth: int
) -> Iterator[tuple[str, str, tuple[int, int]]]:
    for field in _list(fields):
        if not isinstance(field, pikepdf.Dictionary) or depth > DEEPEST or (field.is_indirect and field.objgen in seen):
            continue
        seen.add(field.objgen if field.is_indirect else (-len(seen), 0))
        if len(seen) > MOST_FIELDS:
            raise Refused("pdf-large", f"there are more than {MOST_FIELDS} form fields", "No booklet has so many.")
        part = _text(field.get("/T"))
        name = ".".join(filter(None, (above, part)))
        held, type_ = field.get("/V", value), field.get("/FT", kind)
        kids = [kid for kid in _list(field.get("/Kids")) if isinstance(kid, pikepdf.Dictionary)]
        if any("/T" in kid for kid in kids):
            yield from _below(kids, name, held, type_, seen, depth + 1)
        else:
            seen.update(kid.objgen for kid in kids)
            yield name, _held(field, kids, held, type_), (kids[0] if kids else field).objgen


def _held(field: Any, kids: list[Any], value: Any, kind: Any) -> str:
    """The text of a field, `TICKED` for a tick that is set, "" for a blank one."""
    if kind != "/Btn":
        return _text(value)
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


__all__ = ["TICKED", "Form", "Opened", "Refused", "Value", "attached", "opened", "read_form"]
