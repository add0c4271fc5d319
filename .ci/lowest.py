"""Prints, for pip, the lowest version that pyproject.toml allows of each runtime package, and what the tests need."""

import re
import tomllib
from pathlib import Path

OTHERS = {"distributed", "mpmath", "mypy", "opencv-python-headless", "ortools", "pint", "ruff", "types-PyYAML"}
"""What linters, types and the tests of other rooms need."""

project = tomllib.loads(Path(__file__).parents[1].joinpath("pyproject.toml").read_text())["project"]
for wanted in project["dependencies"]:
    found = re.match(r"([A-Za-z0-9._-]+)>=([0-9.]+)", wanted)
    assert found, f"{wanted} has no lower bound"
    print(f"{found[1]}=={found[2]}")
for wanted in project["optional-dependencies"]["dev"]:
    if wanted.partition(">")[0] not in OTHERS:
        print(wanted)
