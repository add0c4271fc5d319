"""Form fields for the finished pages: widgets, their appearances and their places in the structure tree.

The typesetter makes fields of its own, which will not do: it embeds their font whole, gives text fields no look,
which PDF/A wants, and asks viewers to draw one, which PDF/A forbids. They would also need a box for each cell, and
the time of the layout follows the number of boxes; here a row of cells is one box, divided by numbers.
"""

from collections.abc import Sequence
from typing import Any

from pydyf import Array, Dictionary, Stream, String

from builder.pdf.forms.values import ValueFont
from builder.pdf.survey import Placed

MULTILINE = 1 << 12
# PDF/A wants every note to be printed (ISO 19005-3, 6.3.2).
PRINTED = 4
ALIGN = {"left": 0, "center": 1, "right": 2}

Size = tuple[float, float]


def reserve(placed: Sequence[Placed]) -> None:
    """Before the pages are written: make the typesetter tag each box that holds fields."""
    for place in placed:
        if place.box.widget_annotation is None:
            place.box.widget_annotation = Dictionary({"Subtype": "/Waiting"})


def add_fields(pdf: Any, placed: Sequence[Placed], font: ValueFont | None, document: str) -> list[bytes]:
    """After the pages are written: put every field on its page and in the structure tree; their references, in order.

    Each says which `document` it is of, for the day when somebody makes one file of two.
    """
    return _Form(pdf, font, document).add(placed) if placed else []


def add_form(pdf: Any, fields: Sequence[bytes]) -> None:
    """Say that the file is a form of these fields, whose order becomes the tab order."""
    if not fields:
        return
    # The viewer's own font, for typing: no appearance here uses it, so it need not be embedded.
    helvetica = _entries(Type="/Font", Subtype="/Type1", BaseFont="/Helvetica", Encoding="/WinAnsiEncoding")
    pdf.add_object(helvetica)
    resources = _entries(Font=_entries(Helv=helvetica.reference))
    # Viewers are not asked to draw the looks anew (NeedAppearances), which PDF/A forbids (ISO 19005-3, 6.4.1).
    pdf.catalog["AcroForm"] = _entries(Fields=Array(fields), DA=String("/Helv 0 Tf 0 g"), DR=resources)


class _Form:
    """The form under construction and what its fields share."""

    def __init__(self, pdf: Any, font: ValueFont | None, document: str) -> None:
        self.pdf, self.font, self.document = pdf, font, document
        self.font_reference = font.embed(self.keep) if font else b""
        self.pages = pdf.page_references
        self.blanks: dict[Size, bytes] = {}
        self.ticks: dict[Size, bytes] = {}
        self.tree = _Tree(pdf, self.keep)

    def keep(self, thing: Any) -> bytes:
        """Make `thing` an object of its own; its reference."""
        self.pdf.add_object(thing)
        reference: bytes = thing.reference
        return reference

    def add(self, placed: Sequence[Placed]) -> list[bytes]:
        """Add the fields in the order given."""
        fields = []
        for place in placed:
            widget, page = self.widget(place), self.pages[place.page]
            reference = self.keep(widget)
            self.tree.hang(widget, place.box.widget_annotation, page)
            _at(self.pdf, page).setdefault("Annots", Array()).append(reference)
            fields.append(reference)
        return fields

    def widget(self, place: Placed) -> Any:
        """The widget annotation, which is the field too."""
        spec = place.spec
        x0, y0, x1, y1 = place.rect
        # Viewers stretch an appearance to its field, so nearly equal fields can share one.
        size = (round(x1 - x0, 1), round(y1 - y0, 1))
        widget = _entries(
            Type="/Annot",
            Subtype="/Widget",
            Rect=Array(place.rect),
            P=self.pages[place.page],
            F=PRINTED,
            T=String(spec.name),
            # What a screen reader says of the field; PDF/UA wants it of each (ISO 14289-1, 7.18.1).
            TU=String(spec.label),
            # Programs that make one file of two rename fields, and leave keys alone that they do not know.
            LDLF_Field=String(f"{self.document}.{spec.name}"),
        )
        widget.update(self.tick(place, size) if spec.kind == "tick" else self.text(place, size))
        return widget

    def tick(self, place: Placed, size: Size) -> Any:
        """What only a tick has; its two looks are a drawn path and nothing."""
        state = "/Yes" if place.spec.value else "/Off"
        if size not in self.ticks:
            # A path, since a tick from a font of signs would want that font embedded (ISO 14289-1, 7.21.4.1).
            self.ticks[size] = self.keep(_drawing(size, tick_path(*size)))
        looks = _entries(N=_entries(Yes=self.ticks[size], Off=self.blank(size)))
        # For viewers that draw ticks themselves, "4" is the check mark.
        return _entries(FT="/Btn", V=state, AS=state, AP=looks, MK=_entries(CA=String("4")))

    def text(self, place: Placed, size: Size) -> Any:
        """What only a text field has; a value is drawn in the embedded font."""
        spec = place.spec
        field = _entries(FT="/Tx", DA=String(f"/Helv {spec.font_size:g} Tf 0 g"))
        # Viewers replace the entry of this dictionary when a person types: it must be the field's own.
        field["AP"] = _entries(N=self.shown(place, size) if spec.value else self.blank(size))
        if spec.value:
            field["V"] = String(spec.value)
        if spec.align != "left":
            field["Q"] = ALIGN[spec.align]
        if spec.max_length is not None:
            field["MaxLen"] = spec.max_length
        if spec.kind == "multiline":
            field["Ff"] = MULTILINE
        return field

    def blank(self, size: Size) -> bytes:
        """The empty look that all fields of a size share."""
        if size not in self.blanks:
            self.blanks[size] = self.keep(_drawing(size, b"/Tx BMC EMC"))
        return self.blanks[size]

    def shown(self, place: Placed, size: Size) -> bytes:
        """The look of a prefilled value."""
        if self.font is None:
            raise ValueError(f"field {place.spec.name} has a value but no font to show it in")
        fonts = _entries(Font=_entries(Value=self.font_reference))
        return self.keep(_drawing(size, self.font.content(place.spec, *size), fonts))


class _Tree:
    """The structure tree, in which every field hangs below the node of its printed cell."""

    def __init__(self, pdf: Any, keep: Any) -> None:
        self.pdf, self.keep = pdf, keep
        root = _at(pdf, pdf.catalog["StructTreeRoot"])
        self.parents = _at(pdf, root["ParentTree"])["Nums"]
        # Beyond all that are there, since the keys of this tree must ascend (ISO 32000-1, 7.9.7).
        self.next = max(self.parents[0::2]) + 1
        self.nodes = dict(zip(self.parents[0::2], self.parents[1::2], strict=True))
        self.last: dict[int, Any] = {}

    def hang(self, widget: Any, waiting: Any, page: bytes) -> None:
        """Hang a Form node for `widget` where the typesetter tagged the stand-in `waiting`."""
        last = self.last.get(id(waiting))
        if last is None:
            number, node = waiting["StructParent"], _at(self.pdf, self.nodes[waiting["StructParent"]])
            _at(self.pdf, node["K"][0])["Obj"] = widget.reference
        else:
            number, node = self.next, self.beside(last, widget, page)
            self.parents += [number, node.reference]
            self.next += 1
        widget["StructParent"] = number
        # A row of cells is one box with one stand-in: its first field takes the node that is there, the others get
        # nodes of their own after it.
        self.last[id(waiting)] = node

    def beside(self, last: Any, widget: Any, page: bytes) -> Any:
        """A further Form node in the same cell, right after `last`."""
        kid = _entries(Type="/OBJR", Obj=widget.reference, Pg=page)
        node = _entries(Type="/StructElem", S="/Form", P=last["P"], Pg=page, K=Array([kid]))
        siblings = _at(self.pdf, last["P"])["K"]
        siblings.insert(siblings.index(last.reference) + 1, self.keep(node))
        return node


def _entries(**items: Any) -> Any:
    return Dictionary(items)


def _at(pdf: Any, reference: bytes) -> Any:
    """The object that a reference points to."""
    return pdf.objects[int(reference.split()[0])]


def _drawing(size: Size, content: bytes, resources: Any = None) -> Any:
    """A form XObject as large as the field."""
    box, resources = Array((0, 0, *size)), resources or Dictionary()
    extra = _entries(Type="/XObject", Subtype="/Form", BBox=box, Resources=resources)
    # A short one would grow by it.
    return Stream([content], extra, compress=len(content) > 200)


def tick_path(width: float, height: float) -> bytes:
    """A tick in the middle of the field, as a stroked path."""
    side = min(width, height) * 0.62
    x, y = (width - side) / 2, (height - side) / 2
    points = [(x + side * a, y + side * b) for a, b in ((0.0, 0.48), (0.36, 0.08), (1.0, 0.94))]
    (ax, ay), (bx, by), (cx, cy) = points
    line = f"q 0 G 1 J 1 j {side * 0.14:.3f} w {ax:.3f} {ay:.3f} m {bx:.3f} {by:.3f} l {cx:.3f} {cy:.3f} l S Q"
    return line.encode("ascii")
