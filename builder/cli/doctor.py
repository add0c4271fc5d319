"""`loadleaf doctor`: whether everything that a build needs is here."""

from __future__ import annotations

import platform
from collections.abc import Callable
from importlib.metadata import version

import click

from builder import __version__
from builder.cli.machines import libraries_help
from builder.cli.outcome import PROBLEMS, Stopped, say

PACKAGES = ("weasyprint", "pydyf", "jinja2", "pydantic", "pyyaml", "pypdf", "pikepdf", "click", "markdown-it-py")


@click.command(epilog="Example: loadleaf doctor")
@click.option("--clear-cache", is_flag=True, help="Throw away the pages that earlier runs kept, and check nothing.")
def doctor(clear_cache: bool) -> None:
    """Check fonts, templates, native libraries and versions, and print what to install when something is missing."""
    if clear_cache:
        _clear()
        return
    say(f"loadleaf {__version__}, Python {platform.python_version()}, {platform.system()} {platform.machine()}")
    for package in PACKAGES:
        say(f"  {package} {version(package)}")
    checks = (
        ("templates and styles", _places),
        ("fonts", _fonts),
        ("typesetter", _typesetter),
        ("a first page", _page),
        ("kept pages", _kept),
    )
    well = [_told(name, check) for name, check in checks]
    if not all(well):
        raise Stopped(PROBLEMS)


def _told(name: str, check: Callable[[], str]) -> bool:
    try:
        say(f"  {name}: {check()}")
    except Exception as error:
        say(f"  {name}: MISSING. {error}")
        return False
    return True


def _clear() -> None:
    from builder.pdf.fragments.kept import shelf

    kept = shelf()
    say(f"{kept.folder}: {kept.clear()} kept pages thrown away")


def _kept() -> str:
    from builder.pdf.fragments.kept import shelf

    kept = shelf()
    count, size = kept.size()
    return f"{count} of {size / 1024**2:.1f} MiB in {kept.folder}; at most {kept.most // 1024**2} MiB"


def _places() -> str:
    from builder import places

    return f"{places.templates()}, {places.styles()}"


def _fonts() -> str:
    from builder.pdf import shipped

    faces = shipped()
    absent = [str(face.file) for face in faces if not face.file.is_file()]
    if absent:
        raise FileNotFoundError(f"no font file {', '.join(absent)}; install loadleaf again")
    return ", ".join(sorted({face.family for face in faces}))


def _typesetter() -> str:
    try:
        import weasyprint
    except OSError as error:
        raise OSError(f"{error}. {libraries_help()}") from error
    from weasyprint.text.ffi import pango

    number = pango.pango_version()
    return f"WeasyPrint {weasyprint.__version__}, Pango {number // 10000}.{number // 100 % 100}"


def _page() -> str:
    from datetime import UTC, datetime

    from builder import places
    from builder.pdf import DocumentMeta, press

    meta = DocumentMeta("Check", "", "", "en", (), datetime(2027, 1, 1, tzinfo=UTC), "check")
    html = "<html lang=en><head><title>Check</title></head><body>×</body></html>"
    done = press(html, ['body { font-family: "Source Sans 3" }'], roots=[places.styles()], fields={}, meta=meta)
    told = [problem.fact for problem in done.problems]
    return f"{done.pages} page typeset, {len(done.warnings)} warnings; {_short_cuts(told)}"


def _short_cuts(told: list[str]) -> str:
    from builder.pdf.fast import shortcuts

    if not shortcuts.wanted():
        return f"no short cuts, as {shortcuts.SWITCH} asks"
    return "; ".join(told) or "by short cuts"
