"""Small PDFs made with pikepdf alone, each page with its number, for the tests of print sheets."""

from __future__ import annotations

from io import BytesIO

import pikepdf

MM = 72 / 25.4
A5, HALF_LETTER, A4 = (148.0, 210.0), (139.7, 215.9), (210.0, 297.0)
AT = (100.0, 300.0)
"""Where the number of each page stands, in points from its lower left corner."""


def numbered(pages: int, size: tuple[float, float] = A5, origin: tuple[float, float] = (0, 0)) -> pikepdf.Pdf:
    """`pages` pages of a size in mm; page 7 says "p7". `origin` is the corner of the page, in points."""
    pdf = pikepdf.new()
    font = pdf.make_indirect(pikepdf.Dictionary(
        Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica
    ))  # fmt: skip
    for number in range(1, pages + 1):
        x, y = origin
        page = pdf.add_blank_page(page_size=(size[0] * MM, size[1] * MM))
        page.mediabox = pikepdf.Array([x, y, x + size[0] * MM, y + size[1] * MM])
        page.Resources = pikepdf.Dictionary(Font=pikepdf.Dictionary(F=font))
        text = f"BT /F 12 Tf {x + AT[0]} {y + AT[1]} Td (p{number}) Tj ET"
        page.Contents = pdf.make_stream(text.encode())
    return pdf


def saved(pdf: pikepdf.Pdf, **how: object) -> bytes:
    """The bytes of a PDF."""
    target = BytesIO()
    pdf.save(target, **how)  # type: ignore[arg-type]
    return target.getvalue()
