"""Templates, styles and fonts are found in a checkout and in a wheel."""

from pathlib import Path

import pytest

from builder import places


def test_a_checkout_has_them_beside_the_package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("templates", "styles/fonts"):
        (tmp_path / name).mkdir(parents=True)
    monkeypatch.setattr(places, "PACKAGE", tmp_path / "builder")
    assert places.templates() == tmp_path / "templates"
    assert places.styles() == tmp_path / "styles"
    assert places.fonts() == tmp_path / "styles" / "fonts"


def test_a_wheel_has_them_inside_the_package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("templates", "styles/fonts"):
        (tmp_path / "builder" / "_share" / name).mkdir(parents=True)
    monkeypatch.setattr(places, "PACKAGE", tmp_path / "builder")
    assert places.templates() == tmp_path / "builder" / "_share" / "templates"
    assert places.fonts() == tmp_path / "builder" / "_share" / "styles" / "fonts"


def test_an_incomplete_installation_says_where_it_looked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(places, "PACKAGE", tmp_path / "builder")
    with pytest.raises(FileNotFoundError, match="folder of styles is missing"):
        places.fonts()
    (tmp_path / "styles").mkdir()
    with pytest.raises(FileNotFoundError, match="the fonts are missing"):
        places.fonts()


def test_every_font_folder_carries_its_licence() -> None:
    folders = [folder for folder in places.fonts().iterdir() if folder.is_dir()]
    assert len(folders) >= 2
    for folder in folders:
        assert "SIL OPEN FONT LICENSE Version 1.1" in (folder / "OFL.txt").read_text(encoding="utf-8")
