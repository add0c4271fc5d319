"""A filled PDF as the texts of its fields, booklet by booklet; refused with a reason when it is no log."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from builder.log import manifest as carried
from builder.log.filled import Form, Value
from builder.log.manifest import Manifest, Protection
from builder.pages.names import PRINTED_CODE
from builder.pdf.forms.found import AGAIN, HeldField, Refused, attached, leaves, opened
from builder.pdf.raster import printed_texts
from builder.values import fields
from builder.values.fields import SessionField, SetField, SlotNote
from builder.values.problem import Problem, Severity

_ORIGIN = re.compile(r"([A-Z2-7]{8})-[A-Za-z0-9-]*\.([A-Za-z0-9-]+)")
_RENAMED = re.compile(r"(?:.*\.)?([A-Za-z0-9-]+)(?:\+[0-9]+)?")
"""A field as programs rename it that make one file of two: below a new parent, or with a number behind."""
LENT = "Read it with --from and the PDF as it was built."
_REBUILT = re.compile(
    r"xref entry for the xref stream itself is missing|xref not found|Attempting to reconstruct cross-reference"
    r"|file is damaged$|reported number of objects|\(xref stream: object [0-9 ]+, offset [0-9]+\): expected endobj"
)
"""What the library says of a table of contents that was written carelessly, and of nothing else."""


def read_forms(path: Path, lent: Sequence[Manifest] = ()) -> tuple[tuple[Form, ...], tuple[Problem, ...]]:
    """The booklets that a file holds, filled in: one, or several that were made one file of.

    `lent` are the meanings of booklets whose own copy has lost them. Without a form there is the one problem that keeps
    the file from being read; with one there may be warnings.
    """
    try:
        with opened(path) as pdf:
            return _Reading(pdf, path, lent).forms()
    except Refused as refused:
        return (), (refused.problem,)


def read_manifest(path: Path) -> tuple[Manifest | None, tuple[Problem, ...]]:
    """What a booklet says of itself, or why it does not."""
    try:
        with opened(path) as pdf:
            return manifest_of(pdf, path), ()
    except Refused as refused:
        return None, (refused.problem,)


def manifest_of(pdf: Any, path: Path) -> Manifest:
    """What an open booklet says of itself; refused when it is none of ours, or does not say it."""
    manifest = manifest_in(pdf, path)
    if manifest is None:
        raise _stranger(list(leaves(pdf)), path)
    return manifest


class _Reading:
    """Reads one open file; it holds what is known of the booklets that it may have."""

    def __init__(self, pdf: Any, path: Path, lent: Sequence[Manifest]) -> None:
        self.pdf, self.path = pdf, path
        self.own = manifest_in(pdf, path)
        known = {manifest.code: manifest for manifest in lent}
        # What was lent says more than a copy that was stripped.
        if self.own and not (self.own.code in known and not self.own.protection.whole):
            known[self.own.code] = self.own
        self.known = known
        self.leaves = list(leaves(pdf))

    def forms(self) -> tuple[tuple[Form, ...], tuple[Problem, ...]]:
        if not self.leaves and self.own:
            raise _flat(self.path, self.own.code)
        books: dict[str, list[tuple[str, HeldField]]] = {}
        for code, name, leaf in self.told_apart():
            books.setdefault(code, []).append((name, leaf))
        forms = tuple(self.form(self.known[code], book) for code, book in books.items() if code in self.known)
        if not forms:
            raise _stranger(self.leaves, self.path)
        if not any(form.pages for form in forms):
            raise _flat(self.path, forms[0].manifest.code)
        unknown = (self.unknown(code, book) for code, book in books.items() if code not in self.known)
        return tuple(form for form in forms if form.pages), (*unknown, *_mended(self.pdf, self.path, forms))

    def told_apart(self) -> Iterator[tuple[str, str, HeldField]]:
        """Each field with the code of its booklet and the name that it had there.

        The field itself says both. Where it does not, in older booklets, its name and the code on its page do.
        """
        plain = self.own.code if self.own else next(iter(self.known)) if len(self.known) == 1 else ""
        known = self.known.get(plain)
        # Pages are read for the code that they print only where names leave a doubt: to find their words is slow.
        odd = self.own is None or any(known and leaf.name not in known.fields for leaf in self.leaves)
        silent = [leaf.page for leaf in self.leaves if odd and leaf.page and not _ORIGIN.fullmatch(leaf.origin)]
        codes = _printed_codes(self.path, set(silent))
        for leaf in self.leaves:
            if said := _ORIGIN.fullmatch(leaf.origin):
                yield said[1], said[2], leaf
            else:
                code = codes.get(leaf.page, plain)
                yield code, _former_name(leaf.name, self.known.get(code)), leaf

    def form(self, manifest: Manifest, book: Sequence[tuple[str, HeldField]]) -> Form:
        meant = set(manifest.fields)
        filled = [(name, leaf) for name, leaf in book if leaf.text]
        pages: dict[str, int] = {}
        for name, leaf in book:
            if name in meant:
                pages[name] = pages.get(name) or leaf.page
        return Form(
            str(self.path),
            manifest,
            tuple(Value(name, leaf.text, leaf.page) for name, leaf in filled if name in meant),
            pages,
            self.protection(manifest),
            tuple(Value(leaf.name, leaf.text, leaf.page) for name, leaf in filled if name not in meant),
        )

    def protection(self, manifest: Manifest) -> Protection:
        """What the copy says of itself, and what its file shows: an older booklet says less, a viewer may unlock it."""
        said = self.own.protection if self.own and self.own.code == manifest.code else Protection()
        info = self.pdf.docinfo
        return Protection(
            whole=said.whole and carried.PLAN in self.pdf.attachments,
            buyer=said.buyer or str(info.get("/Buyer", ""))[:60],
            order=said.order or str(info.get("/Order", ""))[:40],
            locked=said.locked or self.pdf.is_encrypted,
        )

    def unknown(self, code: str, book: Sequence[tuple[str, HeldField]]) -> Problem:
        pages = sorted({leaf.page for _, leaf in book if leaf.page})
        where = f" (pages {pages[0]} to {pages[-1]})" if pages else ""
        filled = sum(bool(leaf.text) for _, leaf in book)
        what = f"the booklet {code}" if code else "another file"
        fact = f"{self.path} has {len(book)} fields of {what} too{where}, {filled} of them filled in, not their meaning"
        return Problem("pdf-merged", None, fact, LENT, Severity.WARNING)


def _former_name(name: str, manifest: Manifest | None) -> str:
    found = _RENAMED.fullmatch(name)
    return found[1] if found and manifest and name not in manifest.fields and found[1] in manifest.fields else name


def _mended(pdf: Any, path: Path, forms: Sequence[Form]) -> tuple[Problem, ...]:
    """A warning for a file that was damaged. One that was added to, and whose every field is there, is none."""
    said = [str(one) for one in pdf.get_warnings()]
    # A viewer that saves by adding to the file may leave a table of contents that the library has to rebuild. Where
    # each field is there, nothing was lost by that.
    whole = all(set(form.manifest.fields) == set(form.pages) for form in forms)
    if not said or (whole and all(map(_REBUILT.search, said)) and path.read_bytes().count(b"startxref") > 1):
        return ()
    fact = f"{path} is damaged in places; what could be mended was read"
    help_ = "Compare the log with the file, or take the copy on the device where it was filled in."
    return (Problem("pdf-mended", None, fact, help_, Severity.WARNING),)


def _stranger(found: Sequence[HeldField], path: Path) -> Refused:
    """Why a file without a meaning for its fields cannot be read."""
    if not found and (code := next(iter(_printed_codes(path, None).values()), "")):
        return _flat(path, code)
    codes = dict.fromkeys(said[1] for leaf in found if (said := _ORIGIN.fullmatch(leaf.origin)))
    if codes or any(isinstance(fields.known(leaf.name), SetField | SessionField | SlotNote) for leaf in found):
        of = f" of the booklet {', '.join(codes)}" if codes else ""
        fact = f"{path} has the form fields{of} but not what they mean: a program dropped the attachments"
        return Refused("pdf-stripped", fact, LENT)
    return Refused("pdf-other", f"{path} is a PDF, but no booklet of ours", "Name the booklet that was filled in.")


def _flat(path: Path, code: str) -> Refused:
    fact = f"{path} is a printed or flattened copy of the booklet {code}: its pages are there, its form fields are not"
    return Refused("pdf-flat", fact, AGAIN + " Only a copy at hand? Type the result of the test: loadleaf retest.")


def _printed_codes(path: Path, wanted: set[int] | None) -> dict[int, str]:
    """The booklet's code as these pages print it, by page; with None that of the first page that has one.

    A page that prints none belongs to what stands before it.
    """
    found: dict[int, str] = {}
    if wanted is not None and not wanted:
        return found
    try:
        for number, text in printed_texts(path, wanted):
            said = PRINTED_CODE.search(text)
            if said or found:
                found[number] = said[1] if said else found[max(found)]
            if wanted is None and found:
                break
    except Exception:  # pypdf raises many kinds on odd files; then there is nothing to recognise
        return found
    return found


def manifest_in(pdf: Any, path: Path) -> Manifest | None:
    """What the booklet says of itself, None when it carries nothing of ours."""
    data = attached(pdf, carried.MANIFEST)
    if data is None:
        return None
    try:
        return carried.from_bytes(data)
    except carried.NewerFormatError as error:
        fact = f"{path} was made by a newer loadleaf: {error}"
        raise Refused("unknown-format", fact, "Update loadleaf.") from error
    except ValueError as error:
        fact = f"{path} carries a description that is not understood: {error}"
        raise Refused("pdf-damaged", fact, AGAIN) from error


__all__ = ["manifest_in", "manifest_of", "read_forms", "read_manifest"]
