"""What a folder of booklets was made from: a line for each finished one, so that only what changed is made again."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from pathlib import Path

from builder.door import BarredError, Writing, put, spot
from builder.door.opened import opened

STATE = "roster-state.jsonl"
FORMAT = 1
MOST_BYTES = 64 * 1024 * 1024


@dataclass(frozen=True, slots=True)
class Made:
    """One booklet that was finished: `inputs` is the digest of what it was made from, `sha256` of its bytes."""

    file: str
    inputs: str
    sha256: str
    pages: int
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class State:
    """The folder's day, None where nothing was made yet, and what was made, by file."""

    day: date | None
    made: Mapping[str, Made]


def recall(folder: Path) -> State:
    """What earlier runs finished; a line that a killed run left unfinished says nothing. ValueError when it is no state
    of ours, or a newer one.
    """
    path = folder / STATE
    if not path.is_file():
        return State(None, {})
    if path.stat().st_size > MOST_BYTES:
        raise ValueError("it is too large")
    day: date | None = None
    made: dict[str, Made] = {}
    lines = path.read_text("utf-8").split("\n")
    for number, line in enumerate(lines):
        if not line:
            continue
        try:
            told = json.loads(line)
            if "day" in told:
                if told["format"] != FORMAT:
                    raise ValueError("it was written by a newer version")
                day = date.fromisoformat(told["day"])
            else:
                one = Made(**{**told, "remarks": tuple(told["remarks"])})
                made[one.file] = one
        except (TypeError, KeyError, json.JSONDecodeError) as error:
            if number < len(lines) - 1:
                raise ValueError(f"line {number + 1} cannot be read") from error
    return State(day, made)


class Journal:
    """The state of a folder while a run adds to it: each line is on the disk before the next booklet is."""

    def __init__(self, folder: Path, day: date, known: Iterable[Made], like: Sequence[Path]) -> None:
        """Writes what is known anew, whole or not at all, and goes on from there. OSError where that cannot be."""
        lines = [json.dumps({"format": FORMAT, "day": day.isoformat()}), *(json.dumps(asdict(one)) for one in known)]
        own_file(folder / STATE, ("\n".join(lines) + "\n").encode(), like)
        with opened(folder) as held:
            self._file = os.fdopen(held.open(STATE, os.O_WRONLY | os.O_APPEND), "a", encoding="utf-8")

    def add(self, one: Made) -> None:
        """A booklet is in its place."""
        # A line at the end: what is done is known at any time, and nothing before it is written anew.
        self._file.write(json.dumps(asdict(one)) + "\n")
        self._file.flush()
        os.fsync(self._file.fileno())

    def close(self) -> None:
        """Nothing more is added."""
        self._file.close()


def own_file(path: Path, data: bytes, like: Sequence[Path]) -> None:
    """A file that the folder keeps under a name of ours, put in place whole; a link there is refused."""
    place, problems = spot(path, chosen=False, over=True)
    if place is None:
        raise BarredError(path, problems[0].fact)
    put([Writing(place, data, tuple(like))])
