"""Whatever parses strangers' bytes does so behind the fence: it answers, or one problem says why not, and is silent."""

from __future__ import annotations

import io
import json
import logging
import multiprocessing
import os
import random
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest
from cli.test_commands import loadleaf
from log.small import BLOCK, CLIENT, WRITTEN, booklet
from log.test_hostile import GIGABYTE, page_bomb
from log.viewers import with_pikepdf
from PIL import Image

from builder.pdf import Inside, UnreadablePdfError, inside
from builder.pdf.fence import Beyond, Broken, fenced, within
from builder.pdf.forms.form import read_forms
from builder.pdf.forms.luggage import unpack
from builder.pdf.sheets.impose import Folding
from builder.pdf.trial import font_trial, picture_trial
from builder.values.problem import Problem
from builder.work.impose import impose

FONT = Path(__file__).parents[2] / "styles" / "fonts" / "source-sans-3" / "regular.ttf"
MUTANTS = 12 * int(os.environ.get("LOADLEAF_FUZZ", "1"))


def test_what_a_library_says_stays_behind(capfd: pytest.CaptureFixture[str]) -> None:
    """On either stream, by the operating system, and through its own log."""

    def noisy() -> int:
        os.write(1, b"to the screen")
        os.write(2, b"to the error stream")
        logging.getLogger("pypdf").error("to a log")
        return 7

    assert within(noisy) == 7
    assert capfd.readouterr() == ("", "")


def test_an_unforeseen_error_is_a_problem_with_a_way_out(tmp_path: Path) -> None:
    def odd(path: Path) -> tuple[None, tuple[Problem, ...]]:
        raise ZeroDivisionError

    _, (problem,) = fenced(odd, tmp_path / "odd.pdf")
    assert problem.code == "pdf-damaged" and "odd.pdf" in problem.fact and problem.help


def test_every_problem_names_its_file(tmp_path: Path) -> None:
    def deep(path: Path) -> tuple[None, tuple[Problem, ...]]:
        return None, (Problem("pdf-large", None, "a field is too long", "Shorten it."),)

    _, (problem,) = fenced(deep, tmp_path / "long.pdf")
    assert problem.fact == f"{tmp_path / 'long.pdf'}: a field is too long"


def test_a_crash_of_a_library_is_a_problem() -> None:
    with pytest.raises(Broken):
        within(lambda: os._exit(139))


def test_no_file_is_written_behind_the_fence(tmp_path: Path) -> None:
    with pytest.raises(Broken):
        within(lambda: (tmp_path / "made").write_bytes(b"x" * 100))
    assert not (tmp_path / "made").exists() or not (tmp_path / "made").stat().st_size


def test_a_daemon_has_its_fence_too() -> None:
    """Workers of a cluster are such processes, and may have no children by way of the standard library."""
    context = multiprocessing.get_context("fork")
    queue = context.SimpleQueue()
    worker = context.Process(target=lambda: queue.put(within(lambda: 7)), daemon=True)
    worker.start()
    worker.join()
    assert queue.get() == 7


def test_a_child_that_dies_while_it_speaks_is_not_believed() -> None:
    class Fatal:
        def __reduce__(self) -> str:
            os._exit(1)

    with pytest.raises(Broken):
        within(lambda: (bytes(5_000_000), Fatal()))


def test_what_takes_much_memory_is_given_up() -> None:
    with pytest.raises(Beyond):
        within(lambda: bytes(GIGABYTE))


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.pdf")
    _, (problem,) = fenced(read_forms, tmp_path / "pipe.pdf")
    assert problem.code == "unreadable" and "no regular file" in problem.fact


def guard(path: Path) -> tuple[object, tuple[Problem, ...]]:
    """The look at a file that an output would replace."""
    try:
        return inside(path), ()
    except UnreadablePdfError:
        return None, (Problem("unreadable", None, "-", "-"),)


READERS: dict[str, Callable[[Path], tuple[object, tuple[Problem, ...]]]] = {
    "read": lambda path: fenced(read_forms, path),
    "unpack": lambda path: fenced(unpack, path),
    "impose": lambda path: impose(path, Folding(blank=True)),
    "guard": guard,
}


def mutant(data: bytes, chance: random.Random) -> bytes:
    """The file with bytes overwritten, taken out, doubled, or put where others belong."""
    changed = bytearray(data)
    for _ in range(chance.choice((1, 5, 20, 100))):
        at, other, length = chance.randrange(len(changed)), chance.randrange(len(changed)), chance.randrange(1, 60)
        match chance.randrange(4):
            case 0:
                changed[at] = chance.randrange(256)
            case 1:
                del changed[at : at + length]
            case 2:
                changed[at:at] = changed[other : other + length]
            case _:
                changed[at : at + 4] = chance.choice((b"-1  ", b"<<>>", b"null", b"9999"))
    return bytes(changed)


def readable() -> bytes:
    """A filled booklet without compression, so that a change hits what it says."""
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(with_pikepdf(booklet(), WRITTEN, Path()))) as pdf:
        pdf.save(out, qdf=True)
    return out.getvalue()


@pytest.mark.parametrize("name", READERS)
def test_mutated_booklets_give_an_answer_or_one_problem(
    name: str, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    """Ten thousand of them, by hand, are `LOADLEAF_FUZZ=800`."""
    chance, path, data = random.Random(name), tmp_path / "mutant.pdf", readable()
    for _ in range(MUTANTS):
        path.write_bytes(mutant(data, chance))
        answer, problems = READERS[name](path)
        assert answer or (problems and problems[0].help)
    assert capfd.readouterr() == ("", "")


def test_a_bomb_is_refused_by_what_unpacks_it_and_passed_over_by_what_does_not(tmp_path: Path) -> None:
    (tmp_path / "bomb.pdf").write_bytes(page_bomb())
    answer, (problem,) = READERS["impose"](tmp_path / "bomb.pdf")
    assert answer is None and problem.code in ("pdf-damaged", "pdf-large")
    answer, problems = READERS["guard"](tmp_path / "bomb.pdf")
    assert answer == Inside("", ()) and problems == ()


def test_absurd_numbers_of_a_description_end_in_a_problem(tmp_path: Path) -> None:
    """A share of nought in the table from reps to shares of the max, by which loads would be divided."""
    with pikepdf.open(io.BytesIO(with_pikepdf(booklet(), WRITTEN, tmp_path))) as pdf:
        told = json.loads(pdf.attachments["booklet.json"].get_file().read_bytes())
        told["table"] = [[reps, "0"] for reps, _ in told["table"]]
        pdf.attachments["booklet.json"] = json.dumps(told).encode()
        pdf.save(tmp_path / "absurd.pdf")
    done = loadleaf("read", tmp_path / "absurd.pdf")
    assert done.returncode == 1 and "[log-absurd]" in done.stderr and "absurd.pdf" in done.stderr
    assert "Traceback" not in done.stderr and not done.stdout


def picture(kind: str) -> bytes:
    out = io.BytesIO()
    Image.effect_noise((80, 40), 60).convert("RGB").save(out, kind)
    return out.getvalue()


SVG = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 4"><rect width="3" height="3"/></svg>'


@pytest.mark.slow
def test_sound_pictures_and_fonts_pass_their_trial_and_broken_ones_do_not(tmp_path: Path) -> None:
    assert [picture_trial(data) for data in (picture("PNG"), picture("JPEG"), SVG)] == ["", "", ""]
    assert "is broken" in picture_trial(picture("PNG")[:900])
    assert picture_trial(SVG.replace(b'width="3"', b'width="3" transform="rotate(x)"')) == "is broken"
    lent = b'<image href="https://pictures.example/lamp.png" width="3" height="3"/></svg>'
    said = "asks for https://pictures.example/lamp.png, and nothing is fetched"
    assert picture_trial(SVG.replace(b"</svg>", lent)) == said
    (tmp_path / "broken.ttf").write_bytes(FONT.read_bytes()[:40_000])
    assert font_trial([FONT]) == ""
    assert font_trial([tmp_path / "broken.ttf"])
    assert not list(tmp_path.glob("loadleaf-trial-*"))


@pytest.mark.slow
@pytest.mark.parametrize("what", ["logo", "font"])
def test_a_broken_file_of_a_brand_ends_a_build_with_its_place_or_name(what: str, tmp_path: Path) -> None:
    (tmp_path / "client.yaml").write_text(CLIENT, "utf-8")
    (tmp_path / "block.yaml").write_text(BLOCK, "utf-8")
    (tmp_path / "logo.png").write_bytes(picture("PNG")[:900])
    (tmp_path / "own.ttf").write_bytes(FONT.read_bytes()[:40_000])
    line = "logo: logo.png" if what == "logo" else "text_font: [{file: own.ttf}]"
    (tmp_path / "brand.yaml").write_text(f"format: 1\nbrand:\n  name: Vela\n  {line}\n", "utf-8")
    done = loadleaf("build", tmp_path, "-o", tmp_path / "out.pdf", "--edition", "log")
    assert done.returncode == 1 and "Traceback" not in done.stderr
    assert ("brand.yaml:4:9" if what == "logo" else "own.ttf") in done.stderr
    assert not (tmp_path / "out.pdf").exists()


def test_the_guard_is_silent_and_light(tmp_path: Path) -> None:
    """It loads no typesetter, and no library that writes to the screen."""
    (tmp_path / "filled.pdf").write_bytes(with_pikepdf(booklet(), {"w01-d1-s2-t2-reps": "4"}, tmp_path))
    code = (
        "import sys; from pathlib import Path; from builder.pdf import inside;"
        "print(inside(Path(sys.argv[1])).filled, {'weasyprint', 'pypdf'} & set(sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code, tmp_path / "filled.pdf"], capture_output=True, text=True)
    assert done.stdout == "(('w01-d1-s2-t2-reps', '4'),) set()\n" and not done.stderr
