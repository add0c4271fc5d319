"""Two small pages with every kind of field, for the press tests."""

from datetime import UTC, datetime
from pathlib import Path

from builder.pdf import Attached, DocumentMeta, PageLabel, Pressed, press
from builder.values.fields import FieldSpec, SessionField, SetField, SlotNote, write

HERE = Path(__file__).resolve().parent
ROWS = range(1, 6)
PARTS = ("load", "reps", "rir")
SHARES = ((0.0, 0.4), (0.4, 0.7), (0.7, 1.0))

CSS = """
@page { size: A5; margin: 12mm; @bottom-center { content: counter(page); font-family: "Source Sans 3" } }
body { font-family: "Source Sans 3"; font-size: 10pt }
h1, h2 { font-family: "Barlow Condensed", "Source Sans 3"; font-weight: 700 }
h2 { break-before: page }
table { width: 100%; table-layout: fixed; border-spacing: 2pt }
th { font-weight: 600; text-align: left }
td { height: 9mm }
[data-field], [data-fields] { background: #e8e8e8 }
.line { display: inline-block; width: 30mm; height: 9mm }
.area { height: 24mm }
"""

META = DocumentMeta(
    title="Sample für A & B",
    author="A Coach",
    subject="Two pages of fields",
    language="en-GB",
    keywords=("strength", "log"),
    created=datetime(2027, 1, 11, 6, 30, tzinfo=UTC),
    identifier="sample-0001",
)

ATTACHED = (
    Attached("plan.json", b'{"format": 1}\n', "The plan", "application/json", "Data"),
    Attached("client.yaml", "client: {name: Łucja}\n".encode(), "The client’s profile", "application/yaml"),
)

LABELS = (PageLabel(0, "r"), PageLabel(1, "D", "W1-", 5))


def set_name(row: int, part: str) -> str:
    """The name of a field in the sample's log."""
    return write(SetField(1, 2, 1, row, part))  # type: ignore[arg-type]


PLACE, NOTE = write(SessionField(1, 2, "place")), write(SlotNote(1, 2, 1))
WEIGHT, SLEEP = write(SessionField(1, 2, "bodyweight")), write(SessionField(1, 2, "sleep"))


def specs(*, filled: bool = True) -> dict[str, FieldSpec]:
    """Every field of the sample; `filled` gives some of them values."""
    found = []
    for row in ROWS:
        for part in PARTS:
            value = "102.5" if filled and (row, part) == (1, "load") else ""
            label = f"Set {row}: {part}"
            found.append(FieldSpec(set_name(row, part), "text", label, value, "center", 6, 11))
        found.append(FieldSpec(set_name(row, "done"), "tick", f"Set {row}: done", "x" if filled and row == 2 else ""))
    note = "Slow off the floor – knees fine; ½ kg plates. " * 3 + "\nŁódź, 2 × 5" if filled else ""
    found.append(FieldSpec(NOTE, "multiline", "Note on the squat", note, font_size=9))
    found.append(FieldSpec(WEIGHT, "text", "Bodyweight in kg", "71,4" if filled else "", "right"))
    found.append(FieldSpec(SLEEP, "text", "Hours of sleep"))
    found.append(FieldSpec(PLACE, "text", "Place (gym)", "Kraków" if filled else ""))
    return {spec.name: spec for spec in found}


def row_html(row: int) -> str:
    """A log row: the plan, one cell of three fields, one cell with a tick over its text."""
    pairs = zip(PARTS, SHARES, strict=True)
    marks = ";".join(f"{set_name(row, part)}@{x0},{x1}" for part, (x0, x1) in pairs)
    return (
        f'<tr><th>{row} × 100 kg</th><td data-fields="{marks}"></td>'
        f'<td data-field="{set_name(row, "done")}">as planned</td></tr>'
    )


def page_html(body: str = "") -> str:
    """The sample's two pages; `body` is set before the end."""
    rows = "".join(row_html(row) for row in ROWS)
    return f"""<html><body><h1>Week 1 → squat</h1>
<table><thead><tr><th>Plan</th><th>Log</th><th>Done</th></tr></thead><tbody>{rows}</tbody></table>
<p class="area" data-field="{NOTE}"></p>
<p>Bodyweight <span class="line" data-field="{WEIGHT}"></span> kg,
slept <span data-field="{SLEEP}">…………</span> hours. <a href="#second">Second</a></p>
<h2 id="second">Second page</h2><div class="area" data-field="{PLACE}"></div>
<p><a href="https://example.org/">example.org</a></p>{body}</body></html>"""


def pressed(*, filled: bool = True, fillable: bool = True) -> Pressed:
    """The sample as a PDF with everything that the press can do."""
    return press(
        page_html(),
        [CSS],
        roots=[HERE],
        fields=specs(filled=filled),
        meta=META,
        attachments=ATTACHED,
        labels=LABELS,
        fillable=fillable,
    )
