"""Files are taken out of a booklet only as it names them, and only to where they belong."""

from __future__ import annotations

import hashlib
import io
import json
from pathlib import Path

import pikepdf
import pytest
from log.small import booklet

from builder.pdf.forms.luggage import unpack


def altered(folder: Path, change: object, **files: bytes) -> Path:
    """A booklet whose manifest was changed by a stranger."""
    with pikepdf.open(io.BytesIO(booklet())) as pdf:
        told = json.loads(pdf.attachments["booklet.json"].get_file().read_bytes())
        change(told)  # type: ignore[operator]
        pdf.attachments["booklet.json"] = json.dumps(told).encode()
        for name, data in files.items():
            pdf.attachments[name] = data
        pdf.save(folder / "altered.pdf")
    return folder / "altered.pdf"


def test_the_sources_come_out_in_their_order(tmp_path: Path) -> None:
    (tmp_path / "small.pdf").write_bytes(booklet())
    luggage, problems = unpack(tmp_path / "small.pdf")
    assert luggage is not None and not problems
    assert [name for name, _ in luggage.sources] == ["client.yaml", "block.yaml"]


def test_a_copy_to_hand_over_has_nothing_to_unpack(tmp_path: Path) -> None:
    (tmp_path / "small.pdf").write_bytes(booklet(whole=False))
    luggage, (problem,) = unpack(tmp_path / "small.pdf")
    assert luggage is None and problem.code == "pdf-bare"


@pytest.mark.parametrize(
    "path",
    ["../client.yaml", "/etc/client.yaml", "a/../../b.yaml", "C:\\x.yaml", "~/.bashrc", "client.yaml\x00.sh", "run.sh",
     "..", "a/ /b.yaml", "con:.yaml", ""],
)  # fmt: skip
def test_a_stranger_may_not_choose_where_files_go(path: str, tmp_path: Path) -> None:
    def change(told: dict[str, list[dict[str, str]]]) -> None:
        told["sources"][0]["path"] = path

    luggage, (problem,) = unpack(altered(tmp_path, change))
    assert luggage is None
    assert problem.code == "pdf-damaged"


def test_a_file_that_was_exchanged_is_refused(tmp_path: Path) -> None:
    luggage, (problem,) = unpack(altered(tmp_path, lambda told: None, **{"01-client.yaml": b"format: 1\n"}))
    assert luggage is None
    assert "client.yaml" in problem.fact


def test_two_files_for_one_place_are_refused(tmp_path: Path) -> None:
    def change(told: dict[str, list[dict[str, str]]]) -> None:
        told["sources"][1] = told["sources"][0] | {"path": "CLIENT.yaml"}

    luggage, (problem,) = unpack(altered(tmp_path, change))
    assert luggage is None
    assert "two files" in problem.fact


def test_an_attachment_that_grows_without_end_is_refused(tmp_path: Path) -> None:
    """100 MB of zeros packed into 100 kB; the limit is met before they are in memory."""
    import resource

    bomb = b"\0" * 100_000_000

    def change(told: dict[str, list[dict[str, str]]]) -> None:
        told["sources"][0]["sha256"] = hashlib.sha256(bomb).hexdigest()

    path = altered(tmp_path, change, **{"01-client.yaml": bomb})
    with pikepdf.open(path) as pdf:
        pdf.save(tmp_path / "bomb.pdf", compress_streams=True, recompress_flate=True)
    assert (tmp_path / "bomb.pdf").stat().st_size < 2_000_000
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    luggage, (problem,) = unpack(tmp_path / "bomb.pdf")
    assert luggage is None
    assert problem.code == "pdf-large"
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 40_000
