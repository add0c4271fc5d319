"""Programs that fill in a PDF form, each driven as far from our own code as it goes: texts by name, True for a tick."""

from __future__ import annotations

import ctypes
import io
import json
import os
import shutil
import subprocess
import threading
from collections.abc import Callable, Mapping
from functools import partial
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pikepdf
import pypdfium2 as pdfium
import pypdfium2.raw as raw

Values = Mapping[str, str | bool]
PDFJS = Path(os.environ.get("LOADLEAF_PDFJS", Path(__file__).parents[2] / ".judges" / "node_modules" / "pdfjs-dist"))
"""Where the npm package pdfjs-dist lies; `.ci/run` puts it there."""
CHROMIUM = (
    "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage",
)  # fmt: skip


def with_pikepdf(data: bytes, values: Values, folder: Path) -> bytes:
    """Values set in the file's objects and nothing else, as scripts do."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        for field in pdf.Root.AcroForm.Fields:
            value = values.get(str(field.T))
            if value is True:
                field.V = field.AS = next(pikepdf.Name(str(key)) for key in field.AP.N if key != "/Off")
            elif isinstance(value, str):
                field.V = value
        out = io.BytesIO()
        pdf.save(out)
    return out.getvalue()


def with_qpdf(data: bytes, values: Values, folder: Path) -> bytes:
    """The same, rewritten for the web by the command-line tool."""
    (folder / "in.pdf").write_bytes(with_pikepdf(data, values, folder))
    subprocess.run(["qpdf", "--linearize", folder / "in.pdf", folder / "out.pdf"], check=True)
    return (folder / "out.pdf").read_bytes()


def with_pypdf(data: bytes, values: Values, folder: Path) -> bytes:
    """Values and appearances from the pure-Python library, as an increment at the end of the file."""
    from pypdf import PdfWriter
    from pypdf.generic import NameObject

    names = _ticks(data)
    writer = PdfWriter(io.BytesIO(data), incremental=True)
    told: dict[str, Any] = {name: NameObject(names[name]) if value is True else value for name, value in values.items()}
    for page in writer.pages:
        writer.update_page_form_field_values(page, told, auto_regenerate=False)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def _ticks(data: bytes) -> dict[str, str]:
    """The name of the state "on" of each tick."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        ticks = [field for field in pdf.Root.AcroForm.Fields if field.FT == "/Btn"]
        return {str(field.T): next(str(key) for key in field.AP.N if key != "/Off") for field in ticks}


def with_pdfium(data: bytes, values: Values, folder: Path) -> bytes:
    """Typed into and clicked on, as in the browsers that use PDFium."""
    rects = _rects(data)
    with pdfium.PdfDocument(data) as pdf:
        pdf.init_forms()
        assert pdf.formenv is not None
        form = pdf.formenv.raw
        for number in range(len(pdf)):
            page = pdf[number]
            for name, (at, rect) in rects.items():
                if at == number and name in values:
                    click(form, page, rect)
                    if values[name] is not True:
                        type_in(form, page, str(values[name]))
            raw.FORM_ForceToKillFocus(form)
        out = io.BytesIO()
        pdf.save(out)
    return out.getvalue()


def _rects(data: bytes) -> dict[str, tuple[int, tuple[float, ...]]]:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        return {
            str(widget.T): (number, tuple(float(v) for v in widget.Rect))
            for number, page in enumerate(pdf.pages)
            for widget in page.obj.get("/Annots", [])
            if widget.Subtype == "/Widget"
        }


def click(form: Any, page: Any, rect: tuple[float, ...]) -> None:
    """A click into the middle of a field."""
    x, y = (rect[0] + rect[2]) / 2, (rect[1] + rect[3]) / 2
    raw.FORM_OnMouseMove(form, page, 0, x, y)
    raw.FORM_OnLButtonDown(form, page, 0, x, y)
    raw.FORM_OnLButtonUp(form, page, 0, x, y)


def type_in(form: Any, page: Any, text: str) -> None:
    """A text in the place of what the field in focus holds."""
    data = (text + "\0").encode("utf-16-le")
    buffer = ctypes.create_string_buffer(data, len(data))
    raw.FORM_SelectAllText(form, page)
    raw.FORM_ReplaceSelection(form, page, ctypes.cast(buffer, ctypes.POINTER(ctypes.c_ushort)))
    raw.FORM_ForceToKillFocus(form)


MUTOOL = """
var values = JSON.parse(read(scriptArgs[1]));
var doc = new PDFDocument(scriptArgs[0]);
for (var i = 0; i < doc.countPages(); ++i) {
    var page = doc.loadPage(i), widgets = page.getWidgets();
    for (var k = 0; k < widgets.length; ++k) {
        var widget = widgets[k], value = values[widget.getLabel()];
        if (value === true) widget.toggle();
        else if (value !== undefined) widget.setTextValue(value);
        widget.update();
    }
    page.update();
}
doc.save(scriptArgs[2], "");
"""


def with_mupdf(data: bytes, values: Values, folder: Path) -> bytes:
    """The widgets of MuPDF, by its own script language, which knows them by their spoken names."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        spoken = {str(field.TU): values[str(field.T)] for field in pdf.Root.AcroForm.Fields if str(field.T) in values}
    (folder / "in.pdf").write_bytes(data)
    (folder / "fill.js").write_text(MUTOOL)
    (folder / "values.json").write_text(json.dumps(spoken), encoding="utf-8")
    files = [folder / name for name in ("fill.js", "in.pdf", "values.json", "out.pdf")]
    subprocess.run(["mutool", "run", *files], check=True, capture_output=True, text=True)
    return (folder / "out.pdf").read_bytes()


POPPLER = """
import json, sys
import gi
gi.require_version("Poppler", "0.18")
from gi.repository import Poppler
source, values, target = sys.argv[1:]
values = json.load(open(values, encoding="utf-8"))
pdf = Poppler.Document.new_from_file("file://" + source, None)
for number in range(pdf.get_n_pages()):
    for mapping in pdf.get_page(number).get_form_field_mapping():
        field = mapping.field
        value = values.get(field.get_name())
        if value is True:
            field.button_set_state(True)
        elif value is not None:
            field.text_set_text(value)
pdf.save("file://" + target)
"""
SYSTEM_PYTHON = "/usr/bin/python3"


def with_poppler(data: bytes, values: Values, folder: Path) -> bytes:
    """The form fields of Poppler, which the document viewers of Linux desktops use."""
    (folder / "in.pdf").write_bytes(data)
    (folder / "values.json").write_text(json.dumps(values), encoding="utf-8")
    files = [folder / name for name in ("in.pdf", "values.json", "out.pdf")]
    subprocess.run([SYSTEM_PYTHON, "-c", POPPLER, *files], check=True, capture_output=True, text=True)
    return (folder / "out.pdf").read_bytes()


PAGE = """<!DOCTYPE html><meta charset="utf-8"><div id="pages"></div><script type="module">
const tell = (path, body) => fetch(path, {method: "POST", body});
try {
    const pdfjs = await import("/build/pdf.mjs");
    pdfjs.GlobalWorkerOptions.workerSrc = "/build/pdf.worker.mjs";
    const values = await (await fetch("/values")).json();
    const pdf = await pdfjs.getDocument({url: "/file", enableXfa: false}).promise;
    for (let number = 1; number <= pdf.numPages; number++) {
        const page = await pdf.getPage(number);
        const annotations = await page.getAnnotations({intent: "display"});
        const viewport = page.getViewport({scale: 1}).clone({dontFlip: true});
        const div = document.createElement("div");
        document.getElementById("pages").append(div);
        const linkService = {addLinkAttributes() {}, getDestinationHash: () => "", getAnchorUrl: () => "",
            setHash() {}, goToDestination() {}, executeNamedAction() {}, eventBus: {dispatch() {}, on() {}}};
        const layer = new pdfjs.AnnotationLayer({div, page, viewport, linkService,
            annotationStorage: pdf.annotationStorage});
        await layer.render({annotations, renderForms: true, linkService, viewport, div, page,
            annotationStorage: pdf.annotationStorage, enableScripting: false});
        for (const input of div.querySelectorAll("input, textarea")) {
            const value = values[input.name];
            if (value === true) input.click();
            else if (value !== undefined) {
                input.focus();
                input.value = value;
                input.dispatchEvent(new Event("input", {bubbles: true}));
                input.dispatchEvent(new Event("change", {bubbles: true}));
                input.blur();
            }
        }
    }
    await tell("/saved", await pdf.saveDocument());
} catch (error) {
    await tell("/failed", String(error && error.stack || error));
}
</script>"""


def with_pdfjs(data: bytes, values: Values, folder: Path) -> bytes:
    """Typed into the boxes that pdf.js shows in a browser, and saved by it."""
    outcome: dict[str, bytes] = {}
    done = threading.Event()
    handler = partial(_Desk, data=data, values=json.dumps(values).encode(), outcome=outcome, done=done)
    server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    address = f"http://127.0.0.1:{server.server_port}/"
    browser = subprocess.Popen(
        ["chromium", *CHROMIUM, f"--user-data-dir={folder / 'browser'}", "--remote-debugging-port=0", address],
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    try:
        assert done.wait(90), "the browser did not answer"
    finally:
        browser.kill()
        browser.wait()
        server.shutdown()
        server.server_close()
    assert "/saved" in outcome, outcome["/failed"].decode()
    return outcome["/saved"]


class _Desk(BaseHTTPRequestHandler):
    """Hands out the page, the library, the file and the values, and takes the saved file."""

    def __init__(self, *request: Any, data: bytes, values: bytes, outcome: dict[str, bytes], done: Any) -> None:
        self.data, self.values, self.outcome, self.done = data, values, outcome, done
        super().__init__(*request)

    def do_GET(self) -> None:
        kinds = {"/": ("text/html", PAGE.encode()), "/file": ("application/pdf", self.data)}
        kinds["/values"] = ("application/json", self.values)
        kind, body = kinds.get(self.path, ("text/javascript", b""))
        if self.path.startswith("/build/"):
            body = (PDFJS / "build" / Path(self.path).name).read_bytes()
        self.answer(kind, body)

    def do_POST(self) -> None:
        self.outcome[self.path] = self.rfile.read(int(self.headers["Content-Length"]))
        self.answer("text/plain", b"")
        self.done.set()

    def answer(self, kind: str, body: bytes) -> None:
        self.send_response(200)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *_: Any) -> None:
        """Nothing is written of requests."""


def missing_gi() -> bool:
    """Whether the system's Python cannot drive Poppler."""
    probe = "import gi; gi.require_version('Poppler', '0.18')"
    return not os.path.exists(SYSTEM_PYTHON) or bool(
        subprocess.run([SYSTEM_PYTHON, "-c", probe], capture_output=True).returncode
    )


Fill = Callable[[bytes, Values, Path], bytes]
FILLERS: dict[str, Fill] = {
    "pikepdf": with_pikepdf,
    "qpdf": with_qpdf,
    "pypdf": with_pypdf,
    "pdfium": with_pdfium,
    "mupdf": with_mupdf,
    "poppler": with_poppler,
    "pdfjs": with_pdfjs,
}


def absent(name: str) -> str:
    """Why a filler cannot be used here, "" when it can."""
    if name == "qpdf" and not shutil.which("qpdf"):
        return "qpdf is not installed"
    if name == "mupdf" and not shutil.which("mutool"):
        return "mutool is not installed"
    if name == "poppler" and missing_gi():
        return "the packages python3-gi and gir1.2-poppler-0.18 are not installed"
    if name == "pdfjs" and not shutil.which("chromium"):
        return "chromium is not installed"
    if name == "pdfjs" and not (PDFJS / "build" / "pdf.mjs").is_file():
        return f"pdfjs-dist is not installed in {PDFJS}"
    return ""
