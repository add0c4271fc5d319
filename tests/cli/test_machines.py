"""The doctor names the command of the system that it stands on."""

from __future__ import annotations

import platform
import re
import subprocess
from pathlib import Path

import pytest

from builder.cli import machines
from builder.cli.doctor import _typesetter
from builder.cli.outcome import Stopped

ROOT = Path(__file__).parents[2]
SYSTEMS = [
    ("Linux", {"ID": "debian", "NAME": "Debian GNU/Linux"}, "On Debian GNU/Linux: apt-get install"),
    ("Linux", {"ID": "ubuntu", "ID_LIKE": "debian", "NAME": "Ubuntu"}, "On Ubuntu: apt-get install"),
    ("Linux", {"ID": "mint", "ID_LIKE": "ubuntu debian", "NAME": "Mint"}, "On Mint: apt-get install"),
    ("Linux", {"ID": "fedora", "NAME": "Fedora Linux"}, "On Fedora Linux: dnf install"),
    ("Linux", {"ID": "rocky", "ID_LIKE": "rhel centos fedora", "NAME": "Rocky"}, "On Rocky: dnf install"),
    ("Linux", {"ID": "arch", "NAME": "Arch Linux"}, "On Arch Linux: pacman -S"),
    ("Linux", {"ID": "alpine", "NAME": "Alpine Linux"}, "On Alpine Linux: apk add"),
    ("Linux", {"ID": "opensuse-leap", "NAME": "openSUSE Leap"}, "On openSUSE Leap: zypper install"),
    ("Linux", {}, "On this system: install Pango"),
    ("FreeBSD", {}, "On this system: install Pango"),
    ("Darwin", {}, "On macOS: brew install pango"),
    ("Windows", {}, "On Windows: in the MSYS2 UCRT64 window: pacman -S"),
]


@pytest.mark.parametrize(("system", "release", "told"), SYSTEMS)
def test_the_way_out_is_that_of_the_system(
    system: str, release: dict[str, str], told: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(platform, "system", lambda: system)
    monkeypatch.setattr(platform, "freedesktop_os_release", lambda: release)
    assert machines.libraries_help().startswith(told)


def test_a_system_that_says_nothing_of_itself_is_no_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    def nothing() -> dict[str, str]:
        raise OSError("no os-release")

    monkeypatch.setattr(platform, "freedesktop_os_release", nothing)
    monkeypatch.setattr(platform, "system", lambda: "Linux")
    assert machines.libraries_help().startswith("On this system: install Pango")


def test_the_doctor_and_a_build_tell_it_where_a_library_is_missing(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    import builtins

    real = builtins.__import__

    def broken(name: str, *more: object, **others: object) -> object:
        if name == "weasyprint":
            raise OSError("cannot load library 'libpango-1.0-0'")
        return real(name, *more, **others)  # type: ignore[arg-type]

    monkeypatch.setattr(platform, "system", lambda: "Darwin")
    with monkeypatch.context() as patch:
        patch.setattr(builtins, "__import__", broken)
        with pytest.raises(OSError, match="brew install pango"):
            _typesetter()
    with pytest.raises(Stopped), machines.native_libraries():
        raise OSError("cannot load library 'libpango-1.0-0'")
    assert "brew install pango" in capsys.readouterr().err


def test_the_libraries_of_windows_lie_where_the_typesetter_looks() -> None:
    """WeasyPrint's own list of folders has that of the MSYS2 window which the doctor names."""
    from weasyprint.text import ffi

    assert "ucrt64" in Path(ffi.__file__).read_text("utf-8")
    assert "UCRT64" in machines.libraries_command("Windows", {}) and "ucrt" in machines.libraries_command("Windows", {})


def test_the_container_installs_what_the_doctor_names_and_copies_what_is_there() -> None:
    script = (ROOT / ".container" / "install").read_text("utf-8")
    wanted = machines.libraries_command("Linux", {"ID": "debian"}).split("install ")[1]
    assert wanted in script
    steps = (ROOT / ".container" / "Containerfile").read_text("utf-8")
    assert re.search(r"^COPY install dist/", steps, re.MULTILINE) and "sh /opt/made/install" in steps
    assert subprocess.run(["sh", "-n", ROOT / ".container" / "install"], check=False).returncode == 0
    assert ".container/install" in (ROOT / ".ci" / "run").read_text("utf-8")
