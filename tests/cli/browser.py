"""A headless Chromium that is asked what its page holds, over the pipe of its own debugging protocol."""

from __future__ import annotations

import fcntl
import json
import os
import shutil
import subprocess
import time
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from log.viewers import CHROMIUM

FIRST_FREE = 20
"""Numbers for our ends of the pipes, so that they are not those that the browser wants, 3 and 4."""


def absent() -> str:
    """Why there is no browser to ask, "" when there is."""
    return "" if shutil.which("chromium") and shutil.which("bash") else "chromium is not installed"


class Browser:
    """One page of a browser."""

    def __init__(self, address: str, folder: Path) -> None:
        theirs_in, ours_out = _pipe()
        ours_in, theirs_out = _pipe()
        shell = f'exec chromium "$@" 3<&{theirs_in} 4>&{theirs_out}'
        options = (*CHROMIUM, f"--user-data-dir={folder}", "--remote-debugging-pipe", address)
        self._process = subprocess.Popen(
            ["bash", "-c", shell, "bash", *options], pass_fds=(theirs_in, theirs_out),
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        os.close(theirs_in)
        os.close(theirs_out)
        self._out, self._in = os.fdopen(ours_out, "wb", buffering=0), os.fdopen(ours_in, "rb", buffering=0)
        self._number, self._heard, self._session = 0, b"", ""

    def __enter__(self) -> Self:
        for _ in range(100):
            found = self._call("Target.getTargets")["targetInfos"]
            pages = [one for one in found if one["type"] == "page"]
            if pages:
                break
            time.sleep(0.1)
        joined = self._call("Target.attachToTarget", targetId=pages[0]["targetId"], flatten=True)
        self._session = joined["sessionId"]
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._process.kill()
        self._process.wait()
        self._out.close()
        self._in.close()

    def value(self, script: str) -> Any:
        """What an expression comes to in the page, None where it fails or no page is loaded yet."""
        told = self._call("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True)
        return told.get("result", {}).get("value")

    def wait(self, script: str, seconds: float = 60) -> Any:
        """The value of an expression once it is true."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            if found := self.value(script):
                return found
            time.sleep(0.1)
        raise AssertionError(f"never came true: {script}\n{self.value('document.documentElement.outerHTML')}")

    def _call(self, method: str, **parameters: Any) -> Any:
        self._number += 1
        asked = {"id": self._number, "method": method, "params": parameters}
        self._out.write(json.dumps(asked | ({"sessionId": self._session} if self._session else {})).encode() + b"\0")
        while True:
            while b"\0" not in self._heard:
                part = self._in.read(65536)
                assert part, "the browser has gone"
                self._heard += part
            one, _, self._heard = self._heard.partition(b"\0")
            told = json.loads(one)
            if told.get("id") == self._number:
                return told.get("result", {})


def _pipe() -> tuple[int, int]:
    pair = os.pipe()
    moved = [fcntl.fcntl(end, fcntl.F_DUPFD_CLOEXEC, FIRST_FREE) for end in pair]
    for end in pair:
        os.close(end)
    return moved[0], moved[1]
