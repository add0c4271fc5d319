"""No page, picture, style sheet or font of a stranger reads the network, another folder, or more than it may."""

from __future__ import annotations

import base64
import socket
import struct
import threading
import zlib
from collections.abc import Iterator
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

import brotli
import pytest
from PIL import Image

from builder import places
from builder.intake import load
from builder.pdf import DocumentMeta, Face, Pressed, PressError, press, shipped
from builder.pdf.strangers import (
    MOST_ELEMENTS,
    MOST_LETTERS,
    MOST_LEVELS,
    MOST_PICTURE_BYTES,
    MOST_UNPACKED_BYTES,
    font_fault,
    picture_fault,
)
from builder.values.problem import Span
from builder.work.publish.assets import gather

META = DocumentMeta("Check", "", "", "en", (), datetime(2027, 1, 1, tzinfo=UTC), "check")
PLAIN = 'body { font-family: "Source Sans 3" } img { width: 40mm; height: 40mm }'
HEAD = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="40" height="40">'


def svg(inside: str, before: str = "") -> str:
    return f"{before}{HEAD}{inside}</svg>"


def pressed(folder: Path, body: str, css: str = "", faces: tuple[Face, ...] | None = None) -> Pressed:
    """A page whose relative addresses start in `folder`, the only one besides the styles that may be read."""
    html = f"<html lang=en><head><title>Check</title></head><body>{body}</body></html>"
    return press(html, [PLAIN, css], roots=[folder, places.styles()], fields={}, meta=META, faces=faces)


def codes(folder: Path, body: str, css: str = "") -> list[str]:
    with pytest.raises(PressError) as caught:
        pressed(folder, body, css)
    return [problem.code for problem in caught.value.problems]


def logo(folder: Path, drawing: str) -> str:
    (folder / "logo.svg").write_text(drawing, encoding="utf-8")
    return "<img alt='x' src='logo.svg'>"


@pytest.fixture
def listener() -> Iterator[tuple[int, list[object]]]:
    """A server on this machine, and a list of who called it: nobody may."""
    calls: list[object] = []
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(0.1)
        done = threading.Event()

        def listen() -> None:
            while not done.is_set():
                try:
                    connection, who = server.accept()
                except TimeoutError:
                    continue
                calls.append(who)
                connection.close()

        thread = threading.Thread(target=listen)
        thread.start()
        yield server.getsockname()[1], calls
        done.set()
        thread.join()


CALLS = {
    "a picture": "<img alt='x' src='{url}'>",
    "a style sheet": "<link rel='stylesheet' href='{url}'><p>x</p>",
    "an object": "<object data='{url}'></object>",
    "an embedded file": "<embed src='{url}'>",
    "a frame": "<iframe src='{url}'></iframe>",
    "a video": "<video src='{url}' poster='{url}'></video>",
    "a set of pictures": "<img alt='x' srcset='{url} 2x'>",
    "an attachment": "<link rel='attachment' href='{url}'><p>x</p>",
    "a linked attachment": "<a rel='attachment' href='{url}'>x</a>",
    "a base address": "<base href='{url}'><img alt='x' src='x.png'>",
    "a style attribute": "<p style='background: url({url})'>x</p>",
    "a style element": "<style>@import url({url});</style><p>x</p>",
    "a list mark": "<ul style='list-style-image: url({url})'><li>x</li></ul>",
    "content of a style": "<style>p::before {{ content: url({url}) }}</style><p>x</p>",
    "a border": "<p style='border: 1px solid; border-image: url({url}) 1'>x</p>",
    "a picture of a drawing": "<svg><title>t</title><image href='{url}' width='9' height='9'/></svg>",
    "a redirect by a document": "<meta http-equiv='refresh' content='0; url={url}'><p>x</p>",
}
IN_DRAWINGS = {
    "a picture": "<image href='{url}' width='9' height='9'/>",
    "a picture, the old way": "<image xlink:href='{url}' width='9' height='9'/>",
    "a part of another file": "<use href='{url}#a'/>",
    "a style sheet": "<style>@import url({url});</style><rect width='9' height='9'/>",
    "a font": "<style>@font-face {{ font-family: x; src: url({url}) }}</style><text font-family='x'>A</text>",
    "a fill": "<rect width='9' height='9' fill='url({url}#a)'/>",
    "a page inside": "<foreignObject><img xmlns='http://www.w3.org/1999/xhtml' src='{url}'/></foreignObject>",
    "a filter": "<filter id='f'><feImage href='{url}'/></filter><rect width='9' height='9' filter='url(#f)'/>",
    "a script": "<script href='{url}'/>",
}


def _tried(folder: Path, body: str, css: str = "") -> None:
    """Presses the page; refusing it is as good as leaving the address alone."""
    with suppress(PressError):
        pressed(folder, body, css)


@pytest.mark.parametrize("scheme", ["http", "https", "ftp"])
def test_no_page_ever_calls_the_network(tmp_path: Path, listener: tuple[int, list[object]], scheme: str) -> None:
    port, calls = listener
    for body in CALLS.values():
        _tried(tmp_path, body.format(url=f"{scheme}://127.0.0.1:{port}/x"))
    assert calls == []


def test_no_drawing_ever_calls_the_network(tmp_path: Path, listener: tuple[int, list[object]]) -> None:
    port, calls = listener
    for inside in IN_DRAWINGS.values():
        _tried(tmp_path, logo(tmp_path, svg(inside.format(url=f"http://127.0.0.1:{port}/x"))))
    sheet = f'<?xml-stylesheet href="http://127.0.0.1:{port}/x.css"?>'
    _tried(tmp_path, logo(tmp_path, svg("<rect width='9' height='9'/>", sheet)))
    _tried(tmp_path, logo(tmp_path, svg("<rect/>", f'<!DOCTYPE svg SYSTEM "http://127.0.0.1:{port}/x.dtd">')))
    assert calls == []


def test_no_style_sheet_ever_calls_the_network(tmp_path: Path, listener: tuple[int, list[object]]) -> None:
    port, calls = listener
    url = f"http://127.0.0.1:{port}/x"
    for css in (f"@import url({url});", f"@font-face {{ font-family: x; src: url({url}) }} p {{ font-family: x }}",
                f"@page {{ background: url({url}) }}", f"@color-profile --x {{ src: url({url}) }}"):  # fmt: skip
        _tried(tmp_path, "<p>x</p>", css)
    assert calls == []


def test_the_listener_hears_a_call(listener: tuple[int, list[object]]) -> None:
    port, calls = listener
    with socket.create_connection(("127.0.0.1", port)):
        pass
    for _ in range(50):
        if calls:
            break
        threading.Event().wait(0.1)
    assert len(calls) == 1


@pytest.mark.parametrize("inside", ["a picture", "a picture, the old way"])
@pytest.mark.parametrize("url", ["file:///etc/hostname", "file://elsewhere/etc/hostname", "../secret.svg", "out.svg"])
def test_a_drawing_reads_no_other_folder(tmp_path: Path, inside: str, url: str) -> None:
    (tmp_path / "brand").mkdir()
    (tmp_path / "secret.svg").write_text(svg("<rect/>"))
    (tmp_path / "brand" / "out.svg").symlink_to(tmp_path / "secret.svg")
    assert codes(tmp_path / "brand", logo(tmp_path / "brand", svg(IN_DRAWINGS[inside].format(url=url)))) == [
        "file-refused"
    ]


def test_a_theme_reads_pictures_below_its_folders_and_nothing_else(tmp_path: Path) -> None:
    """A theme is one style sheet; whatever it says, only pictures come in by it, no other sheets or texts."""
    (tmp_path / "dots.svg").write_text(svg("<rect width='9' height='9'/>"))
    (tmp_path / "client.yaml").write_text("format: 1")
    (tmp_path / "more.css").write_text("p { color: red }")
    assert pressed(tmp_path, "<p>x</p>", "p { background: url(dots.svg) }").warnings == ()
    assert codes(tmp_path, "<p>x</p>", "p { background: url(../dots.svg) }") == ["file-refused"]
    assert codes(tmp_path, "<p>x</p>", "p { background: url(/etc/hostname) }") == ["file-refused"]
    for other in ("p { background: url(client.yaml) }", "@import url(more.css);"):
        assert codes(tmp_path, "<p>x</p>", other) == ["picture"]


def test_a_font_that_the_brand_did_not_name_is_refused(tmp_path: Path) -> None:
    (tmp_path / "own.ttf").write_bytes(shipped()[0].file.read_bytes())
    css = "@font-face { font-family: own; src: url(own.ttf) } p { font-family: own }"
    assert "picture" in codes(tmp_path, "<p>x</p>", css)


def _uses(levels: int, each: int = 10) -> str:
    groups = (f"<g id='a{n}'>" + f"<use href='#a{n - 1}'/>" * each + "</g>" for n in range(1, levels))
    return svg(f"<defs><rect id='a0' width='1' height='1'/>{''.join(groups)}</defs><use href='#a{levels - 1}'/>")


def _chain(tag: str, use: str, inside: str) -> str:
    def one(number: int) -> str:
        return inside.format(use=f"{use}='url(#m{number})'")

    parts = (f"<{tag} id='m{n}'>{one(n + 1) * 2}</{tag}>" for n in range(24))
    return svg(f"<defs>{''.join(parts)}</defs>{one(0)}")


ENTITIES = "<!DOCTYPE svg [<!ENTITY a0 'lol'>" + "".join(
    "<!ENTITY a" + str(n) + " '" + f"&a{n - 1};" * 10 + "'>" for n in range(1, 9)) + "]>"  # fmt: skip
FAULTS = {
    "entities that multiply": (svg("<text>&a8;</text>", ENTITIES), "entities"),
    "one long entity": (svg("<text>&a;</text>" * 99, "<!DOCTYPE svg [<!ENTITY a '" + "x" * 999 + "'>]>"), "entities"),
    "an entity that reads a file": (
        svg("<text>&a;</text>", '<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/hostname">]>'), "entities"),
    "an entity of parameters": (
        svg("<text/>", '<!DOCTYPE svg [<!ENTITY % a SYSTEM "file:///etc/hostname"> %a;]>'), "entities"),
    "many elements": (svg("<rect/>" * MOST_ELEMENTS), "elements"),
    "deep nesting": (svg("<g>" * MOST_LEVELS + "</g>" * MOST_LEVELS), "deep"),
    "a long text": (svg(f"<text>{'W' * (MOST_LETTERS + 1)}</text>"), "letters"),
    "rules for everything": (svg(f"<style>{'rect {fill: red}' * 3000}</style>{'<rect/>' * 2000}"), "rules"),
    "a gradient without end": (svg("<linearGradient id='g' x2='0.0000001' spreadMethod='repeat'/>"), "gradient"),
    "a gradient to and fro": (svg("<radialGradient id='g' r='0.0000001' spreadMethod='reflect'/>"), "gradient"),
    "another kind of file": ("%!PS-Adobe-3.0 EPSF-3.0\n", "neither"),
    "a page": ("<html><body/></html>", "neither"),
    "nothing": ("", "neither"),
    "half a drawing": (HEAD, "neither"),
    "an unknown encoding": ("<?xml version='1.0' encoding='x-unknown'?>" + svg(""), "neither"),
}  # fmt: skip


@pytest.mark.parametrize("name", FAULTS)
def test_a_drawing_that_hurts_is_refused_before_it_is_drawn(name: str) -> None:
    drawing, reason = FAULTS[name]
    assert reason in picture_fault(drawing.encode())


def test_too_many_bytes_are_refused() -> None:
    assert "2 MiB" in picture_fault(svg("<rect/>").encode() + b" " * MOST_PICTURE_BYTES)


GROWING = {
    "uses of uses": _uses(9),
    "markers in markers": svg(
        "<defs>" + "".join(
            f"<marker id='m{n}'><path d='M0 0{'L1 1' * 8}' marker-mid='url(#m{n + 1})'/></marker>" for n in range(8)
        ) + f"</defs><path d='M0 0{'L1 1' * 8}' marker-mid='url(#m0)'/>"),
    "masks in masks": _chain("mask", "mask", "<rect width='9' height='9' {use}/>"),
    "clips in clips": _chain("clipPath", "clip-path", "<rect width='9' height='9' {use}/>"),
    "a use of itself": svg("<g id='a'><use href='#a'/></g>"),
    "a marker of itself": svg("<marker id='m'><path d='M0 0L1 1L2 2' marker-mid='url(#m)'/></marker>"
                              "<path d='M0 0L1 1L2 2' marker-mid='url(#m)'/>"),
    "a picture of itself": svg("<image href='logo.svg' width='9' height='9'/>"),
}  # fmt: skip


@pytest.mark.parametrize("name", GROWING)
def test_a_drawing_that_grows_without_end_is_given_up(name: str, tmp_path: Path) -> None:
    assert picture_fault(GROWING[name].encode()) == ""
    assert codes(tmp_path, logo(tmp_path, GROWING[name])) == ["picture"]


@pytest.mark.parametrize("box", ["0 0 1e308 1e308", "0 0 0 0", "nan nan nan nan", "0 0 1 1"])
def test_a_drawing_of_any_size_is_drawn_in_its_place(tmp_path: Path, box: str) -> None:
    drawing = svg("<rect width='1e300' height='1'/>").replace("width=", f"viewBox='{box}' width=", 1)
    assert pressed(tmp_path, logo(tmp_path, drawing)).pages == 1


def test_a_drawing_of_many_sound_elements_is_drawn(tmp_path: Path) -> None:
    assert pressed(tmp_path, logo(tmp_path, svg("<rect width='1' height='1'/>" * 2000))).warnings == ()


def _png(width: int, height: int) -> bytes:
    """A small file whose head claims a size; its pixels are zeros that pack well."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">L", len(data)) + kind + data + struct.pack(">L", zlib.crc32(kind + data))

    head = struct.pack(">LLBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 9)) + chunk(b"IEND", b"")


@pytest.mark.parametrize("size", [(50_000, 50_000), (2**31 - 1, 1), (4000, 2001)])
def test_a_picture_of_too_many_pixels_is_not_unpacked(tmp_path: Path, size: tuple[int, int]) -> None:
    (tmp_path / "logo.png").write_bytes(_png(*size))
    assert "pixels" in picture_fault(_png(*size))
    assert codes(tmp_path, "<img alt='x' src='logo.png'>") == ["picture"]
    address = "data:image/png;base64," + base64.b64encode(_png(*size)).decode()
    assert codes(tmp_path, f"<img alt='x' src='{address}'>") == ["picture"]
    inside = f"<image href='{address}' width='9' height='9'/>"
    assert codes(tmp_path, logo(tmp_path, svg(inside))) == ["picture"]


def test_a_sound_png_and_jpeg_are_drawn(tmp_path: Path) -> None:
    for name, kind in (("a.png", "PNG"), ("b.jpg", "JPEG")):
        Image.new("RGB", (60, 40), "navy").save(tmp_path / name, kind)
        assert pressed(tmp_path, f"<img alt='x' src='{name}'>").warnings == ()


@pytest.mark.parametrize("kind", ["EPS", "TIFF", "PSD", "GIF"])
def test_other_kinds_of_pictures_are_not_opened_whatever_they_are_called(tmp_path: Path, kind: str) -> None:
    """Some would start other programs, or have had holes."""
    heads = {"EPS": b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n", "TIFF": b"II*\0", "PSD": b"8BPS",
             "GIF": b"GIF89a"}  # fmt: skip
    (tmp_path / "logo.png").write_bytes(heads[kind] + b"\0" * 99)
    assert codes(tmp_path, "<img alt='x' src='logo.png'>") == ["picture"]


def test_an_unfit_logo_is_told_where_the_brand_names_it(tmp_path: Path) -> None:
    (tmp_path / "brand.yaml").write_text("format: 1\nbrand: {name: Ferry Street Strength, logo: logo.svg}\n")
    (tmp_path / "logo.svg").write_text(FAULTS["entities that multiply"][0])
    sources = load([tmp_path / "brand.yaml"], need=()).sources
    assert sources is not None
    (problem,) = gather(sources)[1]
    assert problem.code == "picture"
    assert isinstance(problem.span, Span) and (problem.span.line, problem.span.column) == (2, 44)


@pytest.mark.parametrize("link", ["logo.svg", "page.md", "font.ttf"])
def test_a_brand_file_behind_a_link_that_leads_out_is_refused(tmp_path: Path, link: str) -> None:
    brand = tmp_path / "brand"
    brand.mkdir()
    (tmp_path / "secret").write_text(svg(""))
    (brand / link).symlink_to(tmp_path / "secret")
    named = {"logo.svg": "logo: logo.svg", "page.md": "pages: [page.md]", "font.ttf": "text_font: [{file: font.ttf}]"}
    (brand / "brand.yaml").write_text(f"format: 1\nbrand: {{name: B, {named[link]}}}\n")
    sources = load([brand / "brand.yaml"], need=()).sources
    assert sources is not None
    assert [problem.code for problem in gather(sources)[1]] == ["path"]


def _woff(packed: bytes, size: int) -> bytes:
    """A WOFF 1.0 file of one table (W3C, WOFF File Format 1.0, 3 and 4)."""
    head = struct.pack(">4sLLHHLHHLLLLL", b"wOFF", 0x10000, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0)
    return head + struct.pack(">4sLLLL", b"glyf", 64, len(packed), size, 0) + packed


def _woff2(packed: bytes) -> bytes:
    """A WOFF 2.0 file of one table, `cmap`, without a transform (W3C, WOFF File Format 2.0, 4 and 5)."""
    head = struct.pack(">4sLLHHLLHHLLLLL", b"wOF2", 0x10000, 0, 1, 0, 0, len(packed), 0, 0, 0, 0, 0, 0, 0)
    return head + b"\x00\x10" + packed


def test_a_packed_font_is_not_unpacked_without_end() -> None:
    zeros = b"\0" * (MOST_UNPACKED_BYTES + 2)
    assert "unpacks" in font_fault(_woff(zlib.compress(zeros), len(zeros)))
    assert "unpacks" in font_fault(_woff2(brotli.compress(zeros, quality=5)))


def test_sound_packed_fonts_pass() -> None:
    from io import BytesIO

    from fontTools.ttLib import TTFont

    for flavour in ("woff", "woff2"):
        with TTFont(shipped()[0].file) as font:
            font.flavor = flavour
            made = BytesIO()
            font.save(made)
        assert font_fault(made.getvalue()) == ""
        assert font_fault(made.getvalue()[:2000]) == "is broken" or flavour == "woff"


def test_an_unfit_font_is_a_problem_of_the_press(tmp_path: Path) -> None:
    file = tmp_path / "own.woff2"
    file.write_bytes(_woff2(brotli.compress(b"\0" * (MOST_UNPACKED_BYTES + 2), quality=5)))
    with pytest.raises(PressError) as caught:
        pressed(tmp_path, "<p>x</p>", faces=(*shipped(), Face("Own", 400, "normal", file)))
    assert [problem.code for problem in caught.value.problems] == ["font-file"]
