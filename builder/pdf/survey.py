"""One walk over the laid-out pages: where each form field lies, and which fonts the text asks for.

Fields are placed by the boxes as they were laid out: where a cell comes to lie is known nowhere else.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from builder.pdf.fonts import Setting
from builder.values.fields import FieldSpec
from builder.values.problem import Problem, did_you_mean

PT_PER_PX = 0.75
# The typesetter writes any other address into the file as it is, and a viewer may follow it.
SCHEMES = ("https:", "http:", "mailto:")


@dataclass(frozen=True, slots=True)
class Placed:
    """A field on its page: the box that holds it and its rectangle in points, left, bottom, right, top."""

    spec: FieldSpec
    page: int
    box: Any
    rect: tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Survey:
    """What the walk found; `placed` is in reading order, `used` gives the characters in each setting."""

    placed: tuple[Placed, ...]
    used: Mapping[Setting, set[str]]
    problems: tuple[Problem, ...]


def survey(document: Any, specs: Mapping[str, FieldSpec], zoom: float = 1.0) -> Survey:
    """The fields and fonts of a laid-out document; every misplaced, doubled or lost field is a problem.

    The document is printed `zoom` times as large; fields and the type in them grow with it.
    """
    walk = _BoxWalk({name: replace(spec, font_size=spec.font_size * zoom) for name, spec in specs.items()}, zoom)
    for number, page in enumerate(document.pages):
        walk.page, walk.height = number, page.height
        walk.step(page._page_box, None, "")
        walk.links(page)
    for name in specs:
        if name not in walk.seen:
            help_ = f'Mark its printed cell in the template: data-field="{name}".'
            walk.fault("field-lost", f"the form field {name} stands on no page", help_)
    return Survey(tuple(walk.placed), walk.used, tuple(walk.problems))


class _BoxWalk:
    """The state of the walk: the page it is on and the elements whose boxes it has met."""

    def __init__(self, specs: Mapping[str, FieldSpec], zoom: float) -> None:
        from weasyprint.formatting_structure import boxes
        from weasyprint.layout.absolute import AbsolutePlaceholder

        self.text_box, self.margin_box, self.placeholder = boxes.TextBox, boxes.MarginBox, AbsolutePlaceholder
        self.specs, self.zoom = specs, zoom
        self.placed: list[Placed] = []
        self.used: dict[Setting, set[str]] = {}
        self.problems: dict[Problem, None] = {}
        self.seen: set[str] = set()
        self.page = 0
        self.height = 0.0
        self._settings: dict[tuple[Any, ...], set[str]] = {}

    def step(self, box: Any, holder: Any, why_not: str) -> None:
        """Look at one box and its children; `holder` is the marked element around it, if any."""
        if isinstance(box, self.placeholder):
            box = box._box
        if isinstance(box, self.text_box):
            self.read(box)
            return
        if box.transformation_matrix is not None:
            # A field is an upright rectangle, and its cell would not be.
            why_not = "it is inside a box with a CSS transform"
        elif isinstance(box, self.margin_box):
            why_not = "it is in a page margin, which readers skip"
        element = box.element
        # Anonymous boxes and pseudo-elements share the element of the box around them.
        if element is not None and element is not holder:
            mark = element.get("data-fields") or element.get("data-field")
            if mark:
                holder = element
                self.place(mark, box, why_not)
        for child in box.all_children():
            self.step(child, holder, why_not)

    def read(self, box: Any) -> None:
        """Note the characters of a text box under the fonts it asks for."""
        style = box.style
        key = (style["font_family"], style["font_weight"], style["font_style"])
        characters = self._settings.get(key)
        if characters is None:
            families = tuple(style["font_family"])
            characters = self._settings[key] = self.used.setdefault(Setting(families, *key[1:]), set())
        characters.update(box.text)

    def place(self, mark: str, box: Any, why_not: str) -> None:
        """Place the field, or the fields, that an element is marked with."""
        left, width = box.border_box_x(), box.border_width()
        top = self.height - box.border_box_y()
        bottom = top - box.border_height()
        for name, start, end in self.shares(mark):
            spec = self.spec(name, why_not)
            x0, x1 = left + start * width, left + end * width
            if spec and (x1 - x0 < 1 or top - bottom < 1):
                self.fault("field-flat", f"the cell of the form field {name} has no area", "Give it a size.")
            elif spec:
                rect = tuple(round(v * PT_PER_PX * self.zoom, 3) for v in (x0, bottom, x1, top))
                self.placed.append(Placed(spec, self.page, box, rect))

    def shares(self, mark: str) -> list[tuple[str, float, float]]:
        """`NAME` or `NAME@x0,x1;NAME@x0,x1` as names with fractions of the element's width."""
        shares = []
        for part in filter(None, (p.strip() for p in mark.split(";"))):
            name, _, share = part.partition("@")
            try:
                start, end = (float(x) for x in share.split(",")) if share else (0.0, 1.0)
            except ValueError:
                start, end = 0.0, 0.0
            if not 0 <= start < end <= 1:
                help_ = "Write NAME@x0,x1 with 0 ≤ x0 < x1 ≤ 1."
                self.fault("field-mark", f"the field mark {part!r} cannot be read", help_)
                # Told once, and not as a lost field besides.
                self.seen.add(name)
                continue
            shares.append((name, start, end))
        return shares

    def spec(self, name: str, why_not: str) -> FieldSpec | None:
        """The spec of a field met now; None, with a problem, when it cannot be placed."""
        spec = self.specs.get(name)
        if spec is None:
            help_ = did_you_mean(name, list(self.specs)) or "Give the press a FieldSpec of this name."
            self.fault("field-unknown", f"a page marks the form field {name!r}, which nothing describes", help_)
        elif name in self.seen:
            help_ = "Mark one cell only, and keep it from breaking over lines or pages."
            self.fault("field-twice", f"the form field {name} has two places", help_)
        elif why_not:
            self.seen.add(name)
            help_ = "Mark a cell in the page's own flow."
            self.fault("field-place", f"the form field {name} cannot be placed: {why_not}", help_)
        else:
            self.seen.add(name)
            return spec
        return None

    def links(self, page: Any) -> None:
        """Refuse links that lead anywhere but to the web, to mail or within the document."""
        for kind, target, _, _ in page.links:
            if kind != "internal" and not target.lower().startswith(SCHEMES):
                help_ = "Link to https, http or mailto addresses, or to #anchors of the booklet."
                self.fault("link-refused", f"a link leads to {target[:80]!r}", help_)

    def fault(self, code: str, fact: str, help_: str) -> None:
        """Keep one problem, once; the walk goes on, so that all are told together."""
        self.problems[Problem(code, None, fact, help_)] = None
