"""Where templates, styles and the reference lie: beside the package in a checkout, inside it once installed."""

from pathlib import Path

PACKAGE = Path(__file__).resolve().parent


def templates() -> Path:
    """The folder of page templates; FileNotFoundError when the installation lacks it."""
    return _share("templates")


def styles() -> Path:
    """The folder of style sheets and themes; FileNotFoundError when the installation lacks it."""
    return _share("styles")


def fonts() -> Path:
    """The folder of font files; FileNotFoundError when the installation lacks it."""
    folder = styles() / "fonts"
    if not folder.is_dir():
        raise FileNotFoundError(f"the fonts are missing: there is no folder {folder}; install loadleaf again")
    return folder


def reference() -> Path:
    """The file that `loadleaf help` prints from."""
    return PACKAGE / "manual" / "reference.md"


def _share(name: str) -> Path:
    """The folder `name`, first as a wheel carries it, then as a checkout (or editable install) has it."""
    places = (PACKAGE / "_share" / name, PACKAGE.parent / name)
    for place in places:
        if place.is_dir():
            return place
    tried = " and ".join(str(place) for place in places)
    raise FileNotFoundError(f"the folder of {name} is missing: looked at {tried}; install loadleaf again")


def themes() -> tuple[str, ...]:
    """The names of the themes at hand."""
    return tuple(sorted(folder.parent.name for folder in (styles() / "themes").glob("*/theme.css")))
