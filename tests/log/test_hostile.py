"""PDFs made to do harm are refused with one problem, in bounded time and memory."""

from __future__ import annotations

import io
import resource
import subprocess
import sys
import time
import zlib
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest
from log.small import booklet

from builder.pdf import fence
from builder.pdf.fence import MOST_MEMORY

HEAD = b"%PDF-1.7\n"
GIGABYTE = 1 << 30


def packed(size: int) -> bytes:
    """So many zeros, deflated: a piece that ends in a full flush needs none before it, and may be repeated.

    The sum at the end is Adler-32 (RFC 1950, 8.2): of zeros alone it counts their number.
    """
    packer, times = zlib.compressobj(9, wbits=-zlib.MAX_WBITS), size >> 20
    piece = packer.compress(bytes(1 << 20)) + packer.flush(zlib.Z_FULL_FLUSH)
    total = size % 65521 << 16 | 1
    return b"\x78\xda" + piece * times + packer.flush() + total.to_bytes(4, "big")


def written(*objects: bytes, trailer: bytes = b"") -> bytes:
    """A PDF of numbered objects, the first being the catalog."""
    out, places = bytearray(HEAD), []
    for number, body in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (number, body)
    start = len(out)
    out += b"xref\n0 %d\n0000000000 65535 f \n" % (len(objects) + 1)
    out += b"".join(b"%010d 00000 n \n" % place for place in places)
    out += b"trailer <</Size %d /Root 1 0 R %s>>\nstartxref\n%d\n%%%%EOF\n" % (len(objects) + 1, trailer, start)
    return bytes(out)


def stream(data: bytes, extra: bytes = b"/Filter /FlateDecode") -> bytes:
    return b"<</Length %d %s>>\nstream\n%s\nendstream" % (len(data), extra, data)


def page_bomb() -> bytes:
    """A page whose drawing unpacks to a gigabyte: the text of its pages is looked through for a code."""
    page = b"<</Type /Page /Parent 2 0 R /MediaBox [0 0 9 9] /Contents 4 0 R>>"
    return written(
        b"<</Type /Catalog /Pages 2 0 R>>", b"<</Type /Pages /Kids [3 0 R] /Count 1>>", page, stream(packed(GIGABYTE))
    )


def object_bomb() -> bytes:
    """A form that lies in an object stream which unpacks to a gigabyte."""
    bomb = stream(packed(GIGABYTE), b"/Type /ObjStm /N 1 /First 5 /Filter /FlateDecode")
    body = HEAD
    places = {}
    catalog, pages = b"<</Type /Catalog /Pages 2 0 R /AcroForm 5 0 R>>", b"<</Type /Pages /Kids [] /Count 0>>"
    for number, part in ((1, catalog), (2, pages), (4, bomb)):
        places[number] = len(body)
        body += b"%d 0 obj\n%s\nendobj\n" % (number, part)
    places[6] = len(body)
    plain = {number: (1, place, 0) for number, place in places.items()}
    rows = [plain.get(number, (2, 4, 0) if number == 5 else (0, 0, 65535)) for number in range(7)]
    table = b"".join(bytes([kind]) + place.to_bytes(4, "big") + last.to_bytes(2, "big") for kind, place, last in rows)
    xref = stream(zlib.compress(table), b"/Type /XRef /Size 7 /W [1 4 2] /Root 1 0 R /Filter /FlateDecode")
    body += b"6 0 obj\n%s\nendobj\nstartxref\n%d\n%%%%EOF\n" % (xref, places[6])
    return body


def page_loop() -> bytes:
    """A tree of pages that holds itself."""
    return written(b"<</Type /Catalog /Pages 2 0 R>>", b"<</Type /Pages /Kids [2 0 R 2 0 R] /Count 2>>")


def endless_tables() -> bytes:
    """A cross-reference table whose former one is itself."""
    data = written(b"<</Type /Catalog /Pages 2 0 R>>", b"<</Type /Pages /Kids [] /Count 0>>")
    start = data.rindex(b"xref\n0")
    return data.replace(b"/Root 1 0 R ", b"/Root 1 0 R /Prev %d " % start)


def changed(change: Callable[[pikepdf.Pdf], None]) -> bytes:
    """A booklet of ours with something done to it."""
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(booklet())) as pdf:
        change(pdf)
        pdf.save(out)
    return out.getvalue()


def field_loop() -> bytes:
    """A field that is its own child."""

    def change(pdf: pikepdf.Pdf) -> None:
        field = pdf.make_indirect(pikepdf.Dictionary(T="loop", FT=pikepdf.Name.Tx))
        field.Kids = pikepdf.Array([field, field])
        pdf.Root.AcroForm.Fields.append(field)

    return changed(change)


def many_fields() -> bytes:
    """A hundred thousand fields."""

    def change(pdf: pikepdf.Pdf) -> None:
        for number in range(100_000):
            pdf.Root.AcroForm.Fields.append(pikepdf.Dictionary(T=f"f{number}", FT=pikepdf.Name.Tx))

    return changed(change)


def deep_fields() -> bytes:
    """Fields within fields, ten thousand deep."""

    def change(pdf: pikepdf.Pdf) -> None:
        field = pdf.make_indirect(pikepdf.Dictionary(T="end", FT=pikepdf.Name.Tx))
        for _ in range(10_000):
            field = pdf.make_indirect(pikepdf.Dictionary(T="a", Kids=pikepdf.Array([field])))
        pdf.Root.AcroForm.Fields.append(field)

    return changed(change)


def long_value() -> bytes:
    """A value of ten million letters."""

    def change(pdf: pikepdf.Pdf) -> None:
        pdf.Root.AcroForm.Fields[3].V = "x" * 10_000_000

    return changed(change)


def value_bomb() -> bytes:
    """A value in a stream that unpacks to a gigabyte."""

    def change(pdf: pikepdf.Pdf) -> None:
        pdf.Root.AcroForm.Fields[3].V = pikepdf.Stream(pdf, packed(GIGABYTE), Filter=pikepdf.Name.FlateDecode)

    return changed(change)


def manifest_bomb() -> bytes:
    """A description that unpacks to a gigabyte."""

    def change(pdf: pikepdf.Pdf) -> None:
        spec = pdf.attachments["booklet.json"].obj
        spec.EF.F = spec.EF.UF = pikepdf.Stream(pdf, packed(GIGABYTE), Filter=pikepdf.Name.FlateDecode)

    return changed(change)


def deep_manifest() -> bytes:
    """A description of a hundred thousand brackets."""

    def change(pdf: pikepdf.Pdf) -> None:
        pdf.attachments["booklet.json"] = b"[" * 100_000

    return changed(change)


HARMFUL = (
    page_bomb, object_bomb, page_loop, endless_tables, field_loop, many_fields, deep_fields, long_value, value_bomb,
    manifest_bomb, deep_manifest,
)  # fmt: skip
READ_WHOLE = ("field_loop", "deep_fields")
"""Odd but harmless beside the real fields, which are all there."""
MEASURED = """
import resource, subprocess, sys
done = subprocess.run([sys.executable, "-m", "builder", "read", sys.argv[1]], capture_output=True, text=True)
most = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss
print(done.returncode, most, done.stderr.count("error:"), "Traceback" in done.stderr, done.stderr[:500])
"""


@pytest.mark.slow
@pytest.mark.parametrize("harm", HARMFUL, ids=lambda harm: harm.__name__)
def test_a_harmful_file_is_refused_in_bounded_memory(harm: Callable[[], bytes], tmp_path: Path) -> None:
    """Under the documented limits, with one message and exit code 1 (0 where everything of ours is still there)."""
    path = tmp_path / "harm.pdf"
    path.write_bytes(harm())
    done = subprocess.run([sys.executable, "-c", MEASURED, path], capture_output=True, text=True, check=True)
    code, most, errors, traceback, said = done.stdout.split(" ", 4)
    assert int(most) * 1024 <= MOST_MEMORY + 200 * 1024 * 1024
    assert traceback == "False", said
    if harm.__name__ in READ_WHOLE:
        assert code == "0", said
    else:
        assert (code, errors) == ("1", "1"), said
    print(harm.__name__, f"{int(most) // 1024} MiB", said.splitlines()[:1])


def test_the_limits_do_not_touch_a_real_booklet(tmp_path: Path) -> None:
    from builder.pdf.forms.form import read_forms

    (tmp_path / "real.pdf").write_bytes(booklet())
    forms, problems = fence.fenced(read_forms, tmp_path / "real.pdf")
    assert forms and not problems
    assert resource.getrlimit(resource.RLIMIT_AS)[0] != MOST_MEMORY


def test_endless_work_is_cut_off(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(fence, "MOST_WAIT", 1)
    form, (problem,) = fence.fenced(lambda path: time.sleep(60), tmp_path / "slow.pdf")  # type: ignore[arg-type,return-value]
    assert form is None
    assert problem.code == "pdf-large"


def test_greedy_work_is_cut_off(tmp_path: Path) -> None:
    form, (problem,) = fence.fenced(lambda path: (bytes(4 * GIGABYTE), ()), tmp_path / "large.pdf")
    assert form is None
    assert problem.code == "pdf-large"
