"""A language server as an editor talks to it: JSON-RPC over its two pipes."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from pathlib import Path
from typing import Any

_SHIPPED = Path(__file__).parents[2] / ".judges" / "node_modules" / "yaml-language-server"
SERVER = Path(os.environ.get("LOADLEAF_YAML_SERVER", _SHIPPED)) / "bin" / "yaml-language-server"
"""In the npm package yaml-language-server; `.ci/run` puts it there."""
ABSENT = "" if SERVER.is_file() and shutil.which("node") else "without node and the npm package yaml-language-server"


class Editor:
    """An editor with one folder open."""

    def __init__(self, folder: Path) -> None:
        self.folder, self._id = folder, 0
        self._diagnostics: dict[str, list[dict[str, Any]]] = {}
        self._server = subprocess.Popen(["node", SERVER, "--stdio"], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        features = {"textDocument": {"completion": {"completionItem": {"snippetSupport": True}}, "hover": {}}}
        root = {"processId": os.getpid(), "rootUri": folder.as_uri(), "capabilities": features}
        self.asked("initialize", root)
        self._tell("initialized", {})
        settings = {"yaml": {"validate": True, "hover": True, "completion": True, "schemaStore": {"enable": False}}}
        self._tell("workspace/didChangeConfiguration", {"settings": settings})

    def __enter__(self) -> Editor:
        return self

    def __exit__(self, *_: object) -> None:
        self._server.kill()
        self._server.communicate()

    def opened(self, name: str, text: str) -> list[str]:
        """Shows a file, and gives what the server has against it."""
        uri = (self.folder / name).as_uri()
        document = {"uri": uri, "languageId": "yaml", "version": 1, "text": text}
        self._tell("textDocument/didOpen", {"textDocument": document})
        while uri not in self._diagnostics:
            self._take(self._read())
        return [one["message"] for one in self._diagnostics.pop(uri)]

    def offered(self, name: str, line: int, column: int) -> set[str]:
        """The words that are offered at a place, counted from 0."""
        found = self.asked("textDocument/completion", self._at(name, line, column))
        return {item["label"] for item in found["items"]}

    def hover(self, name: str, line: int, column: int) -> str:
        """What is shown over a word."""
        found = self.asked("textDocument/hover", self._at(name, line, column))
        return str(found["contents"]["value"]) if found else ""

    def asked(self, method: str, params: dict[str, Any]) -> Any:
        """The answer to a request."""
        self._id += 1
        mine = self._id
        self._send({"id": mine, "method": method, "params": params})
        while True:
            message = self._read()
            if message.get("id") == mine and "method" not in message:
                assert "error" not in message, message
                return message["result"]
            self._take(message)

    def _at(self, name: str, line: int, column: int) -> dict[str, Any]:
        place = {"line": line, "character": column}
        return {"textDocument": {"uri": (self.folder / name).as_uri()}, "position": place}

    def _take(self, message: dict[str, Any]) -> None:
        """What the server says or asks by itself."""
        if message.get("method") == "textDocument/publishDiagnostics":
            self._diagnostics[message["params"]["uri"]] = message["params"]["diagnostics"]
        elif "id" in message:
            items = message.get("params", {}).get("items", [])
            answer = [None] * len(items) if message["method"] == "workspace/configuration" else None
            self._send({"id": message["id"], "result": answer})

    def _tell(self, method: str, params: dict[str, Any]) -> None:
        self._send({"method": method, "params": params})

    def _send(self, message: dict[str, Any]) -> None:
        data = json.dumps({"jsonrpc": "2.0", **message}).encode()
        assert self._server.stdin is not None
        self._server.stdin.write(b"Content-Length: %d\r\n\r\n%s" % (len(data), data))
        self._server.stdin.flush()

    def _read(self) -> dict[str, Any]:
        assert self._server.stdout is not None
        size = 0
        while line := self._server.stdout.readline().strip():
            if line.lower().startswith(b"content-length:"):
                size = int(line.split(b":")[1])
        assert size, "the server has ended"
        return dict(json.loads(self._server.stdout.read(size)))
