"""What lies in a finished PDF that would be lost if it were overwritten, and of which kind it is."""

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any, Literal

from builder.pdf.lock import unlocked


class UnreadablePdfError(Exception):
    """The file is not a PDF that can be read."""


@dataclass(frozen=True, slots=True)
class Inside:
    """What a PDF is, "" for one that was not made here, and name and value of each form field that holds something."""

    kind: Literal["booklet", "report", "sheets", ""]
    filled: tuple[tuple[str, str], ...]


def inside(path: Path) -> Inside:
    """What lies in a PDF; a tick's value is its state.

    Raises OSError when the file cannot be opened and UnreadablePdfError when it cannot be understood.
    """
    from pypdf import PdfReader

    with path.open("rb") as file:
        try:
            reader = PdfReader(BytesIO(unlocked(file.read())), strict=False)
            form = reader.root_object.get("/AcroForm")
            found = list(_leaves(form.get_object().get("/Fields", []), "", None, 0)) if form is not None else []
            kind = _kind(reader)
        except Exception as error:  # pypdf raises many kinds on broken files
            raise UnreadablePdfError(f"{path} cannot be read as a PDF ({type(error).__name__})") from error
    return Inside(kind, tuple((name, value) for name, value in found if value))


def filled_fields(path: Path) -> tuple[tuple[str, str], ...]:
    """Name and value of each form field that holds something; the errors are those of `inside`."""
    return inside(path).filled


def _kind(reader: Any) -> Literal["booklet", "report", "sheets", ""]:
    """Told by who says to have made it, and by the identifier that each booklet and report has."""
    about = reader.metadata or {}
    if about.get("/Producer") == "Loadleaf":
        return "sheets"
    if about.get("/Creator") != "Loadleaf":
        return ""
    packet = reader.root_object.get("/Metadata")
    text = packet.get_object().get_data() if packet is not None else b""
    return "report" if b"<dc:identifier>report-" in text else "booklet"


def _leaves(fields: Any, above: str, inherited: Any, depth: int) -> Iterator[tuple[str, str]]:
    """Full name and value of the fields in one part of the form's tree."""
    if depth > 16:
        return
    for reference in fields:
        field = reference.get_object()
        part = field.get("/T")
        name = ".".join(filter(None, (above, str(part) if part is not None else "")))
        value = field.get("/V", inherited)
        kids = field.get("/Kids")
        if kids is not None:
            yield from _leaves(kids, name, value, depth + 1)
        else:
            yield name, _plain(value if value is not None else field.get("/AS"))


def _plain(value: Any) -> str:
    text = "" if value is None else str(value.get_object() if hasattr(value, "get_object") else value).strip()
    return "" if text == "/Off" else text
