"""The desk where the pages lie: a server that this machine alone can reach, and only from its own page."""

from __future__ import annotations

import json
import sys
import threading
from dataclasses import dataclass, replace
from functools import partial
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from types import TracebackType
from typing import Any, Self

from builder.pdf.raster import picture_of, text_of
from builder.values.mouth import visible
from builder.work.preview.page import PreviewPages
from builder.work.preview.shell import PAGE, SCRIPT, STYLE

# As a number, since a name may be made to lead elsewhere.
HOST = "127.0.0.1"
HEADERS = {
    # What others wrote into the files is shown in these pages: nothing in them may run, load or send anything.
    "Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
    "connect-src 'self'; object-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'",
    # No site that is open in the same browser may take these pages for its own.
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    # The pages change under one address, and a lifter's facts stay out of what a browser keeps.
    "Cache-Control": "no-store",
}


@dataclass(frozen=True, slots=True)
class View:
    """What is on the desk: the last good pages, made `made` times so far, and the problems of the newest files."""

    told: int = 0
    made: int = 0
    title: str = ""
    pdf: bytes = b""
    picture: bytes = b""
    text: str = ""
    problems: tuple[tuple[str, str], ...] = ()
    stale: bool = False

    def as_json(self) -> bytes:
        """All but the pages themselves."""
        state = {
            "made": self.made, "title": self.title, "picture": bool(self.picture), "text": self.text,
            "stale": self.stale, "problems": [{"severity": how, "text": text} for how, text in self.problems],
        }  # fmt: skip
        return json.dumps(state).encode()


class Desk:
    """Serves the newest view while this lasts; OSError where the port is taken. Port 0 takes a free one."""

    def __init__(self, port: int = 0) -> None:
        self.view = View()
        self._server = _Server((HOST, port), partial(_Answers, desk=self))
        self.port: int = self._server.server_port

    @property
    def address(self) -> str:
        """Where a browser finds the page."""
        return f"http://{HOST}:{self.port}/"

    def show(self, shown: PreviewPages) -> None:
        """Lays new pages on the desk; where a problem stopped them the old ones stay, and are marked so."""
        # Signs that move or hide text are spelled out, as on a terminal.
        problems = tuple((str(one.severity), visible(one.as_text(), "\n")) for one in shown.problems)
        view = replace(self.view, told=self.view.told + 1, problems=problems, stale=not shown.pdf)
        if shown.pdf:
            picture, text = picture_of(shown.pdf) or b"", text_of(shown.pdf)
            view = replace(
                view, made=view.made + 1, title=shown.title, pdf=shown.pdf, picture=picture, text=text
            )
        self.view = view

    def __enter__(self) -> Self:
        threading.Thread(target=self._server.serve_forever, args=(0.1,), daemon=True).start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._server.shutdown()
        self._server.server_close()


class _Server(ThreadingHTTPServer):
    # A browser that holds its connection does not keep the run from ending.
    daemon_threads = True

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that has gone is no fault."""
        if not isinstance(sys.exc_info()[1], OSError):
            super().handle_error(request, client_address)


class _Answers(BaseHTTPRequestHandler):
    # A browser that connects and says nothing holds its thread no longer.
    timeout = 10

    def __init__(self, *request: Any, desk: Desk) -> None:
        self.desk = desk
        super().__init__(*request)

    def do_GET(self) -> None:
        """One of the desk's own paths, asked for under its own name."""
        # Taken once: new pages may be laid on the desk while this is answered.
        port, view = self.desk.port, self.desk.view
        # All lines of that name: a second one could say what the first does not.
        if self.headers.get_all("Host") not in ([f"{HOST}:{port}"], [f"localhost:{port}"]):
            # Another name that leads here is that of a site which would read along.
            self._answer(403, "text/plain", b"This page answers to 127.0.0.1 only.\n")
            return
        # Behind the sign the script puts the number of the making, so that a browser asks anew.
        path, tag = self.path.partition("?")[0], f'"{view.told}"'
        if path == "/state" and self.headers.get("If-None-Match") == tag:
            self._answer(304, "application/json", b"", tag)
            return
        known = {
            "/": ("text/html; charset=utf-8", PAGE), "/page.js": ("text/javascript; charset=utf-8", SCRIPT),
            "/page.css": ("text/css; charset=utf-8", STYLE), "/page.pdf": ("application/pdf", view.pdf),
            "/page.png": ("image/png", view.picture),
        }  # fmt: skip
        kind, body = known.get(path, ("", b""))
        if path == "/state":
            self._answer(200, "application/json", view.as_json(), tag)
        elif body:
            self._answer(200, kind, body)
        else:
            self._answer(404, "text/plain", b"There is nothing here.\n")

    def _answer(self, code: int, kind: str, body: bytes, tag: str = "") -> None:
        self.send_response(code)
        own = {"Content-Type": kind, "Content-Length": str(len(body))} | ({"ETag": tag} if tag else {})
        for name, value in (own | HEADERS).items():
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(body)

    def version_string(self) -> str:
        """Who answers."""
        return "Loadleaf"

    def log_message(self, *_: Any) -> None:
        """Nothing is written of requests."""
