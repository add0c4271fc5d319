"""Whatever cannot be pressed as asked is refused with its reason, never mended in silence."""

import logging
import os
import subprocess
import sys
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from builder.pdf import HEADING, TEXT, Attached, DocumentMeta, Face, Pressed, PressError, press, shipped
from builder.values.fields import FieldSpec
from builder.values.problem import Severity

from . import sample

PNG = (
    "data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNgAAAAAgABSK+kcQAAAABJRU5ErkJggg=="
)
TINY = FieldSpec("a", "text", "A field")


def tried(
    body: str,
    css: str = "",
    *,
    fields: Mapping[str, FieldSpec] | None = None,
    root: Path = sample.HERE,
    faces: Sequence[Face] | None = None,
    fillable: bool = True,
) -> Pressed:
    sheets = [f'body {{ font-family: "{TEXT}" }}', css]
    html = f"<html><body>{body}</body></html>"
    return press(html, sheets, roots=[root], fields=fields or {}, meta=sample.META, faces=faces, fillable=fillable)


def refusal(body: str, css: str = "", **more: object) -> list[tuple[str, str]]:
    """Code and fact of each problem that the press refuses these pages with."""
    with pytest.raises(PressError) as caught:
        tried(body, css, **more)  # type: ignore[arg-type]
    assert all(problem.help for problem in caught.value.problems)
    return [(problem.code, problem.fact) for problem in caught.value.problems]


# Fonts


def test_a_family_without_a_file_is_named() -> None:
    [(code, fact)] = refusal("<p style='font-family: Nowhere'>x</p>")
    assert code == "font-unknown"
    assert "Nowhere" in fact


def test_text_that_names_no_family_at_all_is_refused() -> None:
    with pytest.raises(PressError) as caught:
        press("<p>x</p>", [], roots=[sample.HERE], fields={}, meta=sample.META)
    assert [p.code for p in caught.value.problems] == ["font-unknown"]


def test_an_unknown_family_is_found_even_behind_a_known_one() -> None:
    assert refusal(f"<p style='font-family: \"{TEXT}\", serif'>x</p>")[0][0] == "font-unknown"


def test_a_weight_without_a_file_is_named() -> None:
    [(code, fact)] = refusal(f"<p style='font-family: \"{HEADING}\"; font-weight: 400'>x</p>")
    assert code == "font-weight"
    assert f"{HEADING}, weight 400" in fact


def test_a_sign_that_no_named_family_has_is_spelled_out() -> None:
    [(code, fact)] = refusal("<p>Squat 日</p>")
    assert code == "glyph-missing"
    assert "U+65E5" in fact


def test_a_sign_is_not_borrowed_from_a_family_that_the_text_did_not_name() -> None:
    body = f"<p style='font-family: \"{HEADING}\"; font-weight: 600'>→ ✓</p>"
    [(code, fact)] = refusal(body)
    assert code == "glyph-missing"
    assert "U+2192" in fact
    assert "U+2713" in fact


def test_the_heading_family_takes_its_missing_signs_from_the_text_family_behind_it() -> None:
    body = f'<p style=\'font-family: "{HEADING}", "{TEXT}"; font-weight: 600\'>→ ✓ 1\u20092\u202f3</p>'
    assert tried(body).warnings == ()


def test_text_in_a_drawing_needs_a_family_at_hand_too() -> None:
    drawing = "<svg width='90' height='20'><title>t</title><text y='15' {}>kg 5</text></svg>"
    assert refusal(drawing.format(""))[0][0] == "font-unknown"
    assert refusal(drawing.format("font-family='Nowhere'"))[0][0] == "font-unknown"
    assert tried(drawing.format(f"font-family='{TEXT}'")).warnings == ()


def test_a_sign_without_glyph_in_a_drawing_is_found() -> None:
    drawing = f"<svg width='90' height='20'><title>t</title><text y='15' font-family='{TEXT}'>日</text></svg>"
    assert ("glyph-missing", f"{TEXT} has no glyph for 日 U+65E5") in refusal(drawing)


def test_system_fonts_stay_out_even_when_the_typesetter_was_loaded_before() -> None:
    """In a new process that has already looked at the system's fonts."""
    code = """
import weasyprint, weasyprint.text.fonts
weasyprint.HTML(string='x').write_pdf()
from pdf import test_press_faults as t
print(t.refusal("<svg width='90' height='20'><title>t</title><text y='15'>kg</text></svg>"))
"""
    root = sample.HERE.parents[1]
    env = {**os.environ, "PYTHONPATH": os.pathsep.join([str(root), str(sample.HERE.parent)])}
    run = subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True)
    assert "font-unknown" in run.stdout


def test_a_missing_or_broken_font_file_is_named(tmp_path: Path) -> None:
    gone = Face("Brand", 400, "normal", tmp_path / "gone.ttf")
    broken = Face("Brand", 700, "normal", tmp_path / "broken.ttf")
    broken.file.write_bytes(b"not a font")
    found = refusal("<p>x</p>", faces=(*shipped(), gone, broken))
    assert [code for code, _ in found] == ["font-file", "font-file"]
    assert "gone.ttf" in found[0][1]
    assert "broken.ttf" in found[1][1]


def test_a_brand_font_is_a_row_in_the_table(tmp_path: Path) -> None:
    """Any file under any name: here a shipped one copied to a folder with a space in its name."""
    folder = tmp_path / "my brand"
    folder.mkdir()
    (folder / "Ünser.ttf").write_bytes(shipped()[0].file.read_bytes())
    brand = Face("House Sans", 400, "normal", folder / "Ünser.ttf")
    made = tried("<p style='font-family: \"House Sans\"'>x</p>", faces=(*shipped(), brand))
    assert made.warnings == ()


@pytest.mark.parametrize("sign", list("×−–—½¼¾±≤≥→✓°·…€\u2009\u202f"))
def test_the_text_family_has_every_sign_that_pages_use(sign: str) -> None:
    from builder.pdf.fonts import coverage

    assert all(ord(sign) in coverage(face.file) for face in shipped() if face.family == TEXT)


def test_the_text_family_has_all_of_latin_1_and_latin_extended_a() -> None:
    from builder.pdf.fonts import coverage

    letters = {*range(0x20, 0x7F), *range(0xA0, 0x180)}
    assert all(letters <= coverage(face.file) for face in shipped() if face.family == TEXT)


def test_figures_are_tabular_by_nature_or_by_feature() -> None:
    """Upright text figures share one width; the heading family does it with the tnum feature."""
    from fontTools.ttLib import TTFont

    for face in shipped():
        font = TTFont(face.file)
        widths = {font["hmtx"][font.getBestCmap()[ord(c)]][0] for c in "0123456789"}
        features = {record.FeatureTag for record in font["GSUB"].table.FeatureList.FeatureRecord}
        # One italic figure is a thousandth of the size narrower than the others.
        assert max(widths) - min(widths) <= 1 or "tnum" in features, face


# Fields


def test_a_described_field_that_no_page_marks_is_lost() -> None:
    assert refusal("<p>x</p>", fields={"a": TINY})[0][0] == "field-lost"


def test_a_marked_field_that_nothing_describes_is_unknown() -> None:
    assert refusal("<p data-field='b'>x</p>")[0][0] == "field-unknown"


def test_a_field_has_one_place_only() -> None:
    found = refusal("<p data-field='a'>x</p><p data-field='a'>y</p>", fields={"a": TINY})
    assert [code for code, _ in found] == ["field-twice"]


def test_a_marked_cell_that_breaks_over_pages_is_refused() -> None:
    long = "<br>".join(["x"] * 90)
    assert {code for code, _ in refusal(f"<p data-field='a'>{long}</p>", fields={"a": TINY})} == {"field-twice"}


def test_a_field_without_area_is_refused() -> None:
    assert refusal("<p>x</p><p data-field='a'></p>", fields={"a": TINY})[0][0] == "field-flat"


def test_a_field_inside_a_transform_is_refused() -> None:
    body = "<div style='transform: rotate(5deg)'><p data-field='a'>x</p></div>"
    assert refusal(body, fields={"a": TINY})[0][0] == "field-place"


def test_a_field_in_the_page_margin_is_refused() -> None:
    css = "@page { @top-left { content: element(head) } } p { position: running(head) }"
    assert refusal("<p data-field='a'>x</p><div>y</div>", css, fields={"a": TINY})[0][0] == "field-place"


@pytest.mark.parametrize("mark", ["a@0", "a@0.5,0.5", "a@-0.1,1", "a@0,1.2", "a@x,y"])
def test_a_share_that_makes_no_sense_is_refused(mark: str) -> None:
    assert [code for code, _ in refusal(f"<p data-fields='{mark}'>x</p>", fields={"a": TINY})] == ["field-mark"]


def test_a_value_with_a_sign_that_cannot_be_shown_is_kept_with_a_warning() -> None:
    """A lifter may have typed anything; the value stays, its picture has a question mark."""
    pressed = tried("<p data-field='a'>x</p>", fields={"a": replace(TINY, value="5 日")})
    assert [(p.code, p.severity) for p in pressed.problems] == [("glyph-unseen", Severity.WARNING)]
    fields = PdfReader(BytesIO(pressed.pdf)).get_fields()
    assert fields and fields["a"].value == "5 日"


def test_values_are_not_dropped_from_a_booklet_without_fields() -> None:
    found = refusal("<p data-field='a'>x</p>", fields={"a": replace(TINY, value="5")}, fillable=False)
    assert found[0][0] == "value-lost"


def test_all_problems_are_told_in_one_run() -> None:
    found = refusal("<p data-field='b'>日</p><p style='font-family: Nowhere'>x</p>", fields={"a": TINY})
    assert {code for code, _ in found} == {"field-unknown", "field-lost", "glyph-missing", "font-unknown"}


@pytest.mark.parametrize("place", ["div", "p", "section", "li", "td", "th", "span", "b", "figure", "h2"])
def test_any_of_the_usual_elements_can_hold_a_field(place: str) -> None:
    inner = f"<{place} data-field='a'>x</{place}>"
    wrap = {"td": "<table><tr>{}</tr></table>", "th": "<table><tr>{}</tr></table>", "li": "<ul>{}</ul>"}
    css = f'b, th, h2 {{ font-family: "{TEXT}"; font-weight: 700 }}'
    made = tried(f"<h1 style='font-weight: 700'>t</h1>{wrap.get(place, '{}').format(inner)}", css, fields={"a": TINY})
    assert made.field_count == 1


@pytest.mark.parametrize("css", ["display: flex", "display: grid", "position: absolute; top: 0", "float: left"])
def test_fields_are_placed_in_every_kind_of_layout(css: str) -> None:
    made = tried(f"<div style='{css}'><p data-field='a'>x</p></div>", fields={"a": TINY})
    assert made.field_count == 1


# Files and links


def test_the_web_is_never_asked() -> None:
    assert refusal("<img alt='x' src='https://example.org/x.png'>")[0][0] == "file-refused"
    assert refusal("<p>x</p>", "@import url(http://example.org/x.css);")[0][0] == "file-refused"


@pytest.mark.parametrize("source", ["../secret.png", "/etc/hostname", "file:///etc/hostname", "%2e%2e/secret.png"])
def test_files_outside_the_roots_are_refused(tmp_path: Path, source: str) -> None:
    (tmp_path / "root").mkdir()
    (tmp_path / "secret.png").write_bytes(b"x")
    found = refusal(f"<img alt='x' src='{source}'>", root=tmp_path / "root")
    assert found[0][0] == "file-refused"


def test_a_link_in_the_file_system_does_not_lead_out_of_the_root(tmp_path: Path) -> None:
    (tmp_path / "root").mkdir()
    (tmp_path / "secret.png").write_bytes(b"x")
    (tmp_path / "root" / "link.png").symlink_to(tmp_path / "secret.png")
    assert refusal("<img alt='x' src='link.png'>", root=tmp_path / "root")[0][0] == "file-refused"


@pytest.mark.parametrize(
    "hole",
    [
        "<svg><title>t</title><image href='file:///etc/hostname' width='9' height='9'/></svg>",
        "<object data='file:///etc/hostname'></object>",
        "<embed src='file:///etc/hostname'>",
        "<link rel='stylesheet' href='file:///etc/hostname'><p>x</p>",
        "<p style='background: url(file:///etc/hostname)'>x</p>",
        "<ul style='list-style-image: url(file:///etc/hostname)'><li>x</li></ul>",
    ],
)
def test_every_way_to_a_file_passes_the_same_gate(hole: str) -> None:
    assert refusal(hole)[0][0] == "file-refused"


def test_a_base_address_in_the_page_cannot_move_the_root() -> None:
    found = refusal("<base href='file:///etc/'><img alt='x' src='hostname'>")
    assert found[0][0] == "file-refused"


def test_pictures_from_the_root_and_from_data_addresses_are_read(tmp_path: Path) -> None:
    (tmp_path / "ä b.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>')
    assert tried(f"<img alt='x' src='ä b.svg'><img alt='y' src='{PNG}'>", root=tmp_path).warnings == ()


def test_an_absent_picture_is_a_warning(tmp_path: Path) -> None:
    made = tried("<img alt='x' src='gone.png'>", root=tmp_path)
    assert any("gone.png" in warning for warning in made.warnings)


@pytest.mark.parametrize("target", ["javascript:alert(1)", "file:///etc/hostname", "other.html"])
def test_links_to_scripts_and_files_are_refused(target: str) -> None:
    assert refusal(f"<a href='{target}'>x</a>")[0][0] == "link-refused"


# Warnings and values of our own


def test_warnings_of_the_typesetter_are_handed_back_and_the_listener_leaves() -> None:
    before = list(logging.getLogger("weasyprint").handlers)
    made = tried("<p style='colour: red'>x</p>")
    assert any("colour" in warning for warning in made.warnings)
    assert logging.getLogger("weasyprint").handlers == before


def test_a_creation_time_needs_a_zone_and_an_attachment_a_plain_name() -> None:
    with pytest.raises(ValueError, match="time zone"):
        replace(sample.META, created=datetime(2027, 1, 1))
    with pytest.raises(ValueError, match="title"):
        DocumentMeta("", "", "", "en", (), sample.META.created, "x")
    for name in ("plän.yaml", "a/b.yaml"):
        with pytest.raises(ValueError, match="plain ASCII"):
            Attached(name, b"", "", "text/plain")
