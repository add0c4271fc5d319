"""The typesetter may read data: addresses and files below the given folders, nothing else."""

import mimetypes
from collections.abc import Iterable
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit
from urllib.request import url2pathname

TYPES = mimetypes.MimeTypes()
TYPES.add_type("font/ttf", ".ttf")
TYPES.add_type("font/otf", ".otf")


class Fetcher:
    """Called with an address by the typesetter; an address outside the fence stops the whole run.

    `roots` are folders, `files` single files; both are resolved, so links and `..` cannot lead out.
    """

    _fail_on_errors = False

    def __init__(self, roots: Iterable[Path], files: Iterable[Path] = ()) -> None:
        self.roots = tuple(root.resolve(strict=True) for root in roots)
        self.files = frozenset(file.resolve() for file in files)
        self.refused: list[str] = []

    def __call__(self, url: str) -> Any:
        """The typesetter's response; FatalURLFetchingError outside the fence, OSError for an absent file."""
        from weasyprint.urls import URLFetcher, URLFetcherResponse

        parts = urlsplit(url)
        if parts.scheme == "data":
            return URLFetcher(allowed_protocols=("data",), allow_redirects=False).fetch(url)
        if parts.scheme != "file" or parts.netloc not in ("", "localhost"):
            raise self._refusal(url)
        path = Path(url2pathname(parts.path)).resolve()
        if path not in self.files and not any(path.is_relative_to(root) for root in self.roots):
            raise self._refusal(url)
        # Read here, so that the file checked is the file used.
        kind = TYPES.guess_type(path.name)[0] or "application/octet-stream"
        return URLFetcherResponse(url, path.read_bytes(), {"Content-Type": kind})

    def _refusal(self, url: str) -> BaseException:
        """The error to raise; kept in `refused` too, since the drawing of pictures swallows any error."""
        from weasyprint.urls import FatalURLFetchingError

        self.refused.append(url)
        error: BaseException = FatalURLFetchingError(url)
        return error
