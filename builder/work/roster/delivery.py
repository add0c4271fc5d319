"""What a mail merge wants to know of a folder of booklets, as CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from pathlib import Path

from builder.values.mouth import csv_cell
from builder.work.roster.orders import Order
from builder.work.roster.state import Made

DELIVERY = "delivery.csv"
HEAD = ("file", "sha256", "name", "mail", "order", "buyer", "first day", "pages", "remarks")


def delivery(rows: Sequence[tuple[Order, Made]]) -> str:
    """One line for each booklet that lies in the folder, in the order of the roster; every cell in quotes."""
    out = io.StringIO()
    # Line ends and quotes of RFC 4180, which every spreadsheet reads.
    writer = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow(HEAD)
    for order, made in rows:
        wish = order.choices
        cells = (order.file, made.sha256, order.name, order.mail, wish.order, wish.buyer, order.starts, made.pages)
        # A cell that begins like a formula is spelled out, or a name that a buyer typed might be worked out by a
        # spreadsheet.
        writer.writerow([csv_cell(str(cell)) for cell in (*cells, ", ".join(made.remarks))])
    return out.getvalue()


def foreign(path: Path) -> bool:
    """Whether a file of that name lies there which is no list of ours."""
    if not path.is_file():
        return False
    with path.open("rb") as file:
        # As `HEAD` begins, in quotes, behind the mark with which `cli/roster.py` has it written.
        return not file.read(64).startswith(b'\xef\xbb\xbf"file","sha256"')
