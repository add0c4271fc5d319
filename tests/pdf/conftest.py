"""The sample is pressed once and shared."""

from pathlib import Path

import pytest

from builder.pdf import Pressed

from . import sample


@pytest.fixture(scope="session")
def full() -> Pressed:
    """The sample with prefilled values and ticks."""
    return sample.pressed()


@pytest.fixture(scope="session")
def full_path(full: Pressed, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same as a file."""
    path = tmp_path_factory.mktemp("press") / "full.pdf"
    path.write_bytes(full.pdf)
    return path
