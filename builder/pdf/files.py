"""What lies in a finished PDF that would be lost if it were overwritten, and of which kind it is."""

from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from builder.log.manifest import Protection
from builder.pdf.fence import Answer, fenced


class UnreadablePdfError(Exception):
    """The file is not a PDF that can be read."""


@dataclass(frozen=True, slots=True)
class Inside:
    """What a PDF is, "" for one that was not made here, and name and value of each form field that holds something.

    `protection` is that of a booklet of ours, None where it does not say.
    """

    kind: Literal["booklet", "preview", "intake", "report", "manual", "sheets", ""]
    filled: tuple[tuple[str, str], ...]
    protection: Protection | None = None


def inside(path: Path) -> Inside:
    """What lies in a PDF, looked at behind the fence.

    Raises OSError when the file cannot be opened and UnreadablePdfError when it cannot be understood.
    """
    # A file that is not there or may not be read is told as that, and not from behind the fence.
    path.open("rb").close()
    found, problems = fenced(_inside, path)
    if found is None:
        raise UnreadablePdfError(problems[0].fact)
    return found


def _inside(path: Path) -> Answer[Inside]:
    from builder.pdf.forms.form import manifest_in
    from builder.pdf.forms.found import Refused, leaves, opened

    try:
        with opened(path) as pdf:
            kind = _kind(pdf)
            filled = tuple((leaf.name, leaf.text) for leaf in leaves(pdf) if leaf.text)
            manifest = None
            if kind == "booklet":
                # One that is not understood says nothing of its protection, and may be replaced all the same.
                with suppress(Refused):
                    manifest = manifest_in(pdf, path)
            return Inside(kind, filled, manifest.protection if manifest else None), ()
    except Refused as refused:
        return None, (refused.problem,)


def _kind(pdf: Any) -> Literal["booklet", "preview", "intake", "report", "manual", "sheets", ""]:
    """Told by who says to have made it, and by the identifier that each booklet and report has."""
    from builder.pdf.forms.found import unpacked

    if pdf.docinfo.get("/Producer") == "Loadleaf":
        return "sheets"
    if pdf.docinfo.get("/Creator") != "Loadleaf":
        return ""
    packet = pdf.Root.get("/Metadata")
    text = unpacked(packet, "the metadata") if packet is not None else b""
    # These are the beginnings of the identifiers that the makers in `work` hand to the press.
    if b"<dc:identifier>manual-" in text:
        return "manual"
    if b"<dc:identifier>intake-" in text:
        return "intake"
    if b"<dc:identifier>preview-" in text:
        return "preview"
    return "report" if b"<dc:identifier>report-" in text else "booklet"
