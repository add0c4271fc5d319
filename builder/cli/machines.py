"""Which command brings the typesetter's native libraries, on the system that this stands on."""

from __future__ import annotations

import platform
from collections.abc import Iterator, Mapping
from contextlib import contextmanager

from builder.cli.outcome import stop_at
from builder.values.problem import Problem

_BY_FAMILY = (
    (("debian", "ubuntu"), "apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"),
    (("fedora", "rhel", "centos"), "dnf install pango harfbuzz"),
    (("arch",), "pacman -S pango harfbuzz"),
    (("alpine",), "apk add pango fontconfig harfbuzz-subset"),
    (("suse", "opensuse"), "zypper install libpango-1_0-0 libharfbuzz-subset0"),
)
"""By the names in os-release, the nearest first. Only that of Debian is tried by our own tests."""
_MAC = (
    "brew install pango; with a Python that is not Homebrew's also: "
    'export DYLD_FALLBACK_LIBRARY_PATH="$(brew --prefix)/lib"'
)
_WINDOWS = "in the MSYS2 UCRT64 window: pacman -S mingw-w64-ucrt-x86_64-pango"
_OTHER = "install Pango, HarfBuzz with its subset library, and fontconfig"


def libraries_command(system: str, release: Mapping[str, str]) -> str:
    """What to type, by the name of the system and what its os-release says."""
    if system == "Darwin":
        return _MAC
    if system == "Windows":
        return _WINDOWS
    names = (release.get("ID", ""), *release.get("ID_LIKE", "").split())
    for name in names:
        for family, command in _BY_FAMILY:
            if name in family or any(name.startswith(f"{one}-") for one in family):
                return command
    return _OTHER


def libraries_help() -> str:
    """The way out where a library is missing, on this system."""
    system = platform.system()
    try:
        release = platform.freedesktop_os_release() if system == "Linux" else {}
    except OSError:
        release = {}
    command = libraries_command(system, release)
    where = {"Darwin": "On macOS", "Windows": "On Windows"}.get(system) or f"On {release.get('NAME', 'this system')}"
    return f"{where}: {command}"


@contextmanager
def native_libraries() -> Iterator[None]:
    """Tells what to install where the typesetter's libraries are not there."""
    try:
        yield
    except OSError as error:
        if "cannot load library" not in str(error):
            raise
        stop_at([Problem("library", None, f"a library of the typesetter is missing: {error}", f"{libraries_help()}.")])
