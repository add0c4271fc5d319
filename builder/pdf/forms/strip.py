"""A filled booklet without what is personal: the pages with sets and results, their entries, and what these mean."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any

import pikepdf

from builder.log import manifest as carried
from builder.log.manifest import Manifest, Protection
from builder.pdf.fence import Answer
from builder.pdf.forms.form import manifest_of
from builder.pdf.forms.found import Refused, full_name, inherited, opened
from builder.values import fields
from builder.values.fields import AttemptField, ResultField, SetField

# What is kept is named, not what goes: a key that nobody thought of may hold what is personal.
PAGE = {
    "/Type", "/Parent", "/MediaBox", "/CropBox", "/TrimBox", "/BleedBox", "/ArtBox", "/Rotate", "/Resources",
    "/Contents",
}  # fmt: skip
WIDGET = {
    "/Type", "/Subtype", "/Rect", "/F", "/T", "/TU", "/FT", "/V", "/AS", "/AP", "/MK", "/DA", "/Ff", "/MaxLen", "/Q",
    "/LDLF_Field",
}  # fmt: skip
ROOT = {"/Type", "/Pages", "/Lang", "/OutputIntents"}
"""What a page, a field and the file keep; everything else goes."""
ABOVE = ("/FT", "/V", "/DA", "/Ff", "/MaxLen", "/Q")
"""What a field may have from the one above it."""


@dataclass(frozen=True, slots=True)
class Stripped:
    """The new PDF; `pages` of `of` are left, and `entries` filled fields."""

    pdf: bytes
    pages: int
    of: int
    entries: int
    buyer: str


def stripped(path: Path) -> Answer[Stripped]:
    """The booklet with nothing in it that is not kept on purpose."""
    try:
        with opened(path) as pdf:
            manifest, of = manifest_of(pdf, path), len(pdf.pages)
            buyer = str(pdf.docinfo.get("/Buyer", ""))
            names, entries = _pages(pdf)
            if not names:
                help_ = "Name a booklet with its form fields."
                raise Refused("pdf-flat", f"{path} has no page with entries of sets or results", help_)
            _file(pdf, manifest, names)
            target = BytesIO()
            # Objects that nothing leads to any longer are not written.
            pdf.save(target, object_stream_mode=pikepdf.ObjectStreamMode.generate, deterministic_id=True)
            return Stripped(target.getvalue(), len(pdf.pages), of, entries, buyer), ()
    except Refused as refused:
        return None, (refused.problem,)


def _pages(pdf: Any) -> tuple[tuple[str, ...], int]:
    """Leaves the pages with sets and results, and of their fields only these: the names, and how many are filled."""
    names, entries, form = list[str](), 0, pikepdf.Array()
    # From the end, so that the numbers of the pages before stay as they are.
    for number in reversed(range(len(pdf.pages))):
        if not _mine(pdf.pages[number]):
            del pdf.pages[number]
    for page in pdf.pages:
        widgets = pikepdf.Array()
        for name, widget in _mine(page):
            _only(widget, name)
            widget.P = page.obj
            widgets.append(widget)
            form.append(widget)
            names.append(name)
            entries += str(widget.get("/V", "")) not in ("", "/Off")
        _keep(page.obj, PAGE)
        page.obj.Annots = widgets
    pdf.Root.AcroForm = pikepdf.Dictionary(Fields=form, DA=pikepdf.String("/Helv 0 Tf 0 g"))
    return tuple(names), entries


def _mine(page: Any) -> list[tuple[str, Any]]:
    """The widgets of a page that are about sets and results, by name; notes and facts of the day are not."""
    found = []
    for widget in page.obj.get("/Annots", ()):
        name = full_name(widget) if isinstance(widget, pikepdf.Dictionary) and widget.is_indirect else ""
        if _is_kept(name):
            found.append((name, widget))
    return found


def _is_kept(name: str) -> bool:
    field = fields.known(name)
    return isinstance(field, SetField | AttemptField) or (isinstance(field, ResultField) and field.part != "note")


def _only(widget: Any, name: str) -> None:
    """The widget as a field of its own, with what it had from above."""
    for key in ABOVE:
        if key not in widget and (value := inherited(widget, key)) is not None:
            widget[key] = value
    widget.T = pikepdf.String(name)
    _keep(widget, WIDGET)


def _keep(thing: Any, keys: set[str]) -> None:
    for key in set(thing.keys()) - keys:
        del thing[key]


def _file(pdf: Any, manifest: Manifest, names: tuple[str, ...]) -> None:
    """What the file says of itself: whose fields these are, and nothing of the lifter."""
    form = pdf.Root.AcroForm
    _keep(pdf.Root, ROOT)
    pdf.Root.AcroForm = form
    bare = {
        "client": "", "sources": (), "assets": (), "left_out": (), "lifts": (), "fields": names,
        "protection": Protection(whole=False),
    }  # fmt: skip
    pdf.attachments[carried.MANIFEST] = carried.as_bytes(manifest.model_copy(update=bare))
    del pdf.docinfo
    pdf.docinfo["/Creator"] = "Loadleaf"
    pdf.docinfo["/Title"] = manifest.title


__all__ = ["Stripped", "stripped"]
