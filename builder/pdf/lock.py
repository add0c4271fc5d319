"""A finished file locked against changes: it opens without a password, and forms can be filled and printed."""

from __future__ import annotations

import re
from io import BytesIO
from typing import Any

# XMP allows both ways to write a property.
_CLAIM = re.compile(rb"\s+pdfaid:(?:part|conformance)=\"[^\"]*\"|<pdfaid:(part|conformance)>[^<]*</pdfaid:\1>")


def locked(pdf: bytes, password: str) -> bytes:
    """The file encrypted with AES-256 (ISO 32000-2, 7.6.4, revision 6) under an owner's password.

    Without the password a reader that keeps to the standard fills forms, prints and reads aloud; it neither
    changes pages nor copies text. The file no longer claims PDF/A, which forbids encryption (ISO 19005-3, 6.1.3),
    and two runs never give the same bytes, since the standard wants random salts.
    """
    import pikepdf

    with pikepdf.open(BytesIO(pdf)) as document:
        _withdraw_claim(document)
        allowed = pikepdf.Permissions(
            accessibility=True, extract=False, modify_annotation=False, modify_assembly=False, modify_form=True,
            modify_other=False, print_highres=True, print_lowres=True,
        )  # fmt: skip
        made = BytesIO()
        document.save(made, encryption=pikepdf.Encryption(owner=password, user="", R=6, allow=allowed))
    return made.getvalue()


def _withdraw_claim(document: Any) -> None:
    metadata = document.Root.Metadata
    metadata.write(_CLAIM.sub(b"", metadata.read_bytes()))


def unlocked(pdf: bytes) -> bytes:
    """The same file without encryption, if it opens without a password; other files as they are."""
    import pikepdf

    if b"/Encrypt" not in pdf:
        return pdf
    with pikepdf.open(BytesIO(pdf)) as document:
        made = BytesIO()
        document.save(made)
    return made.getvalue()
