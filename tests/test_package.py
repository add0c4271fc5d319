"""The built wheel carries all it needs, and works away from the tree."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
CARD = {"README.md", "DEVELOPERS.md", "pyproject.toml", "builder", "templates", "styles", "tests", "samples"}
MADE_BY_TOOLS = {"booklet.pdf", "build", "dist", "loadleaf.egg-info"}


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built once."""
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--wheel-dir", str(folder), str(ROOT)]
    subprocess.run(command, check=True, timeout=300)
    return next(folder.glob("*.whl"))


@pytest.mark.slow
def test_the_wheel_carries_templates_styles_fonts_and_their_licences(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    for part in ("templates", "styles"):
        tree = {p.relative_to(ROOT).as_posix() for p in (ROOT / part).rglob("*") if p.is_file()}
        assert tree <= {name.removeprefix("builder/_share/") for name in names}
    assert any(name.endswith(".ttf") for name in names)
    assert any("OFL" in name for name in names)
    licence = next(name for name in names if name.endswith(".dist-info/licenses/builder/LICENSE.txt"))
    assert "Permission is hereby granted, free of charge" in zipfile.ZipFile(wheel).read(licence).decode()
    assert {"builder/given/library.yaml", "builder/manual/reference.md"} <= set(names)
    assert not any(name.startswith(("tests/", "samples/")) for name in names)


@pytest.mark.slow
def test_the_installed_wheel_starts_and_builds_away_from_the_tree(wheel: Path, tmp_path: Path) -> None:
    site, work = tmp_path / "site", tmp_path / "work"
    work.mkdir()
    install = [sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--target", str(site), str(wheel)]
    subprocess.run(install, check=True, timeout=300)
    environment = {**os.environ, "PYTHONPATH": str(site)}
    where = "import builder; print(builder.__file__)"
    found = subprocess.run([sys.executable, "-c", where], cwd=work, env=environment, capture_output=True, text=True)
    assert found.stdout.startswith(str(site))
    for arguments in (["doctor"], ["start", "mine"], ["build", "mine", "-o", "mine.pdf"]):
        done = subprocess.run(
            [sys.executable, "-m", "builder", *arguments], cwd=work, env=environment, capture_output=True, text=True
        )
        assert done.returncode == 0, done.stdout + done.stderr
    assert (work / "mine.pdf").read_bytes().startswith(b"%PDF-")


def test_the_visible_top_level_is_the_design_card() -> None:
    visible = {p.name for p in ROOT.iterdir() if not p.name.startswith((".", "__"))}
    assert visible - MADE_BY_TOOLS == CARD
