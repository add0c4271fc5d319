"""The typesetter may read pictures below the given folders or in data: addresses, and named font files."""

import mimetypes
from collections.abc import Iterable
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit
from urllib.request import url2pathname

from builder.pdf.strangers import MOST_PICTURE_BYTES, picture_fault

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
        self.unfit: list[str] = []

    def __call__(self, url: str) -> Any:
        """The typesetter's response; FatalURLFetchingError outside the fence or for a picture that is unfit,
        OSError for an absent file.
        """
        from weasyprint.urls import URLFetcher, URLFetcherResponse

        parts = urlsplit(url)
        if parts.scheme == "data":
            response = URLFetcher(allowed_protocols=("data",), allow_redirects=False).fetch(url)
            # A picture in an address is a stranger's as much as one in a file.
            data = self._fit(response.read(), f"{url[:40]}…")
            return URLFetcherResponse(url, data, {"Content-Type": response.content_type})
        # The typesetter's own list of protocols would let any file of the machine through.
        if parts.scheme != "file" or parts.netloc not in ("", "localhost"):
            raise self._refusal(url)
        path = Path(url2pathname(parts.path)).resolve()
        below = any(path.is_relative_to(root) for root in self.roots)
        if path not in self.files and (not below or (path.exists() and not path.is_file())):
            raise self._refusal(url)
        # Read here, so that the file checked is the file used.
        kind = TYPES.guess_type(path.name)[0] or "application/octet-stream"
        # Fonts were looked at before the run (`file_problems`); all else that is read is a picture.
        if path in self.files:
            return URLFetcherResponse(url, path.read_bytes(), {"Content-Type": kind})
        with path.open("rb") as file:
            data = self._fit(file.read(MOST_PICTURE_BYTES + 1), path.name)
        return URLFetcherResponse(url, data, {"Content-Type": kind})

    def _fit(self, data: bytes, name: str) -> bytes:
        """The data of a picture that may be drawn."""
        from weasyprint.urls import FatalURLFetchingError

        if fault := picture_fault(data):
            self.unfit.append(f"{name} {fault}")
            raise FatalURLFetchingError(name)
        return data

    def _refusal(self, url: str) -> BaseException:
        """The error to raise; kept in `refused` too, since the drawing of pictures swallows any error."""
        from weasyprint.urls import FatalURLFetchingError

        # Any other error the typesetter takes for a picture that is not there: it drops it and goes on.
        self.refused.append(url)
        error: BaseException = FatalURLFetchingError(url)
        return error
