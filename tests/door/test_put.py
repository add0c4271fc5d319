"""Files are put in place whole, only where they were looked for, and no more open than what they were made from."""

from __future__ import annotations

import os
import shutil
import socket
import stat
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from builder.door import BarredError, Spot, Writing, own_folder, passing_folder, put, put_folder, spot, unfinished
from builder.door.opened import hold as held


@pytest.fixture(autouse=True)
def usual_mask() -> Iterator[None]:
    old = os.umask(0o022)
    yield
    os.umask(old)


def at(path: Path, *, chosen: bool = True, over: bool = False) -> Spot:
    found, problems = spot(path, chosen=chosen, over=over)
    assert found is not None, problems
    return found


def refused(path: Path, *, chosen: bool = True) -> str:
    found, problems = spot(path, chosen=chosen)
    assert found is None
    return problems[-1].code


def write(path: Path, data: bytes = b"new", like: tuple[Path, ...] = (), over: bool = False) -> None:
    put([Writing(at(path, over=over), data, like)])


def mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


def test_a_file_is_replaced_and_keeps_its_permissions(tmp_path: Path) -> None:
    path = tmp_path / "b.pdf"
    path.write_bytes(b"old")
    path.chmod(0o640)
    write(path, like=(path,))
    assert (path.read_bytes(), mode(path), os.listdir(tmp_path)) == (b"new", 0o640, ["b.pdf"])


def test_a_new_file_is_no_more_open_than_what_it_was_made_from(tmp_path: Path) -> None:
    profile, block = tmp_path / "client.yaml", tmp_path / "block.yaml"
    for path, bits in ((profile, 0o600), (block, 0o644)):
        path.touch()
        path.chmod(bits)
    write(tmp_path / "a", like=(profile, block))
    write(tmp_path / "b", like=(block,))
    profile.chmod(0o440)
    write(tmp_path / "c", like=(profile, block))
    write(tmp_path / "d", like=(tmp_path / "no file of the system",))
    assert [mode(tmp_path / name) for name in "abcd"] == [0o600, 0o644, 0o640, 0o644]


def test_a_new_file_follows_the_mask(tmp_path: Path) -> None:
    os.umask(0o077)
    write(tmp_path / "a")
    put_folder(tmp_path / "f", [("x/y", b"1")])
    assert [mode(tmp_path / name) for name in ("a", "f", "f/x", "f/x/y")] == [0o600, 0o700, 0o700, 0o600]


@pytest.mark.parametrize("step", ["fsync", "replace", "fchmod"])
@pytest.mark.parametrize("there", [True, False])
def test_a_failure_at_any_step_leaves_the_old_file_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str, there: bool
) -> None:
    path = tmp_path / "b.pdf"
    if there:
        path.write_bytes(b"old")
    step = "link" if step == "replace" and not there else step

    def fail(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, step, fail)
    with pytest.raises(OSError, match="No space left") as caught:
        write(path)
    assert caught.value.filename == str(path)
    assert [(name, (tmp_path / name).read_bytes()) for name in os.listdir(tmp_path)] == [("b.pdf", b"old")] * there


def test_a_link_that_was_typed_is_followed_and_told(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    real, link = tmp_path / "real" / "b.pdf", tmp_path / "link.pdf"
    real.write_bytes(b"old")
    link.symlink_to(real)
    _, told = spot(link, chosen=True)
    assert [(one.code, str(one.severity)) for one in told] == [("link-followed", "warning")]
    assert str(real) in told[0].help
    write(link)
    assert link.is_symlink() and real.read_bytes() == b"new"


def test_a_link_that_nobody_typed_is_refused(tmp_path: Path) -> None:
    (tmp_path / "precious").write_bytes(b"keep")
    (tmp_path / "b.pdf").symlink_to(tmp_path / "precious")
    (tmp_path / "c.pdf").symlink_to(tmp_path / "not there")
    assert [refused(tmp_path / name, chosen=False) for name in ("b.pdf", "c.pdf")] == ["output-link"] * 2


def test_only_plain_files_are_replaced(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "folder").mkdir()
    (tmp_path / "link to a device").symlink_to("/dev/null")
    with socket.socket(socket.AF_UNIX) as one:
        one.bind(str(tmp_path / "s"))
    kinds = [refused(tmp_path / name) for name in ("pipe", "s", "link to a device", "folder", "gone/b.pdf")]
    assert kinds == ["output-kind"] * 3 + ["output-folder"] * 2
    assert [refused(Path(name)) for name in ("/dev/null", "/dev/stdout", "/dev/fd/0")] == ["output-kind"] * 3


def test_a_file_that_was_changed_in_between_is_left_alone(tmp_path: Path) -> None:
    """A booklet may be filled in and saved while its successor is made."""
    path = tmp_path / "b.pdf"
    path.write_bytes(b"old")
    place = at(path)
    path.write_bytes(b"filled in")
    with pytest.raises(BarredError, match="changed while"):
        put([Writing(place, b"new")])
    assert path.read_bytes() == b"filled in" and os.listdir(tmp_path) == ["b.pdf"]
    put([Writing(at(path, over=True), b"new")])
    assert path.read_bytes() == b"new"


def test_a_file_that_appeared_in_between_is_left_alone(tmp_path: Path) -> None:
    place, late = at(tmp_path / "b.pdf"), at(tmp_path / "c.pdf")
    (tmp_path / "b.pdf").write_bytes(b"another's")
    (tmp_path / "precious").write_bytes(b"keep")
    (tmp_path / "c.pdf").symlink_to(tmp_path / "precious")
    for one in (place, late):
        with pytest.raises(BarredError, match="while this run worked"):
            put([Writing(one, b"new")])
    assert (tmp_path / "b.pdf").read_bytes() == b"another's"
    assert (tmp_path / "precious").read_bytes() == b"keep"
    assert sorted(os.listdir(tmp_path)) == ["b.pdf", "c.pdf", "precious"]


def test_a_system_without_second_names_is_written_to_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_link(*_: object, **__: object) -> None:
        raise OSError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_link)
    write(tmp_path / "b.pdf")
    assert (tmp_path / "b.pdf").read_bytes() == b"new" and os.listdir(tmp_path) == ["b.pdf"]


def test_none_of_several_files_is_written_when_one_was_changed(tmp_path: Path) -> None:
    one, two = at(tmp_path / "a"), at(tmp_path / "b")
    (tmp_path / "b").write_bytes(b"another's")
    with pytest.raises(BarredError):
        put([Writing(one, b"new"), Writing(two, b"new")])
    assert os.listdir(tmp_path) == ["b"]


def test_a_folder_that_was_exchanged_for_a_link_gets_nothing(tmp_path: Path) -> None:
    """The place was in the real folder; a link that takes its name later leads nowhere."""
    (tmp_path / "mine").mkdir()
    (tmp_path / "theirs").mkdir()
    (tmp_path / "theirs" / "b.pdf").write_bytes(b"keep")
    place = at(tmp_path / "mine" / "b.pdf")
    (tmp_path / "mine").rename(tmp_path / "moved")
    (tmp_path / "mine").symlink_to(tmp_path / "theirs")
    with pytest.raises(BarredError):
        put([Writing(place, b"new")])
    assert (tmp_path / "theirs" / "b.pdf").read_bytes() == b"keep"


KILLED = """
import os, sys
from pathlib import Path
from builder.door import Writing, own_folder, put, put_folder, spot
os.fsync = lambda *_: os.kill(os.getpid(), 9)
what, path = sys.argv[1], Path(sys.argv[2])
if what == "file":
    put([Writing(spot(path, chosen=True)[0], b"new")])
elif what == "folder":
    put_folder(path, [("a", b"1"), ("b/c", b"2")])
else:
    print(own_folder("tried"), flush=True)
    os.kill(os.getpid(), 9)
"""


def killed(what: str, path: Path) -> str:
    done = subprocess.run([sys.executable, "-c", KILLED, what, str(path)], capture_output=True, text=True)
    assert done.returncode == -9, done.stderr
    return done.stdout.strip()


@pytest.mark.parametrize("what", ["file", "folder"])
def test_what_a_killed_run_left_is_cleared_by_the_next(tmp_path: Path, what: str) -> None:
    killed(what, tmp_path / "x")
    (left,) = os.listdir(tmp_path)
    assert left.endswith(".loadleaf.part")
    write(tmp_path / "y")
    assert os.listdir(tmp_path) == ["y"]


def test_what_a_killed_run_left_is_cleared_even_by_a_run_that_writes_nothing(tmp_path: Path) -> None:
    """Who finds everything made already leaves no rest behind."""
    (tmp_path / ".x.0123456789abcdef.loadleaf.part").touch()
    at(tmp_path / "x")
    assert os.listdir(tmp_path) == []


def test_what_another_run_is_writing_stays(tmp_path: Path) -> None:
    from builder.door.opened import opened
    from builder.door.unfinished import clear, new_file

    with opened(tmp_path) as folder, new_file(folder, "x"):
        code = "import sys; from pathlib import Path; from builder.door.opened import opened\n"
        code += "from builder.door.unfinished import clear\nwith opened(Path(sys.argv[1])) as f: clear(f)"
        assert subprocess.run([sys.executable, "-c", code, str(tmp_path)]).returncode == 0
        clear(folder)
        assert len(os.listdir(tmp_path)) == 1
    assert len(os.listdir(tmp_path)) == 1  # nobody put it in place, and no fault took it away
    with opened(tmp_path) as folder:
        clear(folder)
    assert os.listdir(tmp_path) == []


def test_a_planted_link_with_the_name_of_an_unfinished_file_leads_nowhere(tmp_path: Path) -> None:
    (tmp_path / "precious").mkdir()
    (tmp_path / "precious" / "keep").touch()
    (tmp_path / ".x.0123456789abcdef.loadleaf.part").symlink_to(tmp_path / "precious")
    write(tmp_path / "y")
    assert (tmp_path / "precious" / "keep").exists()


@pytest.mark.parametrize("when", ["before it is opened", "before it is held"])
def test_a_folder_that_another_run_takes_for_a_left_one_is_made_anew(
    when: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Between the making of it and the holding of it: the next thing written there found no folder."""
    taken: list[Path] = []

    def made_and_taken(prefix: str, made: Callable[..., str] = tempfile.mkdtemp) -> str:
        folder = made(prefix=prefix)
        if not taken:
            taken.append(Path(folder))
            if when == "before it is opened":
                shutil.rmtree(folder)
        return folder

    def held_too_late(handle: int, hold: Callable[[int], bool] = held) -> bool:
        if taken and taken[0].exists():
            shutil.rmtree(taken[0])
        return hold(handle)

    monkeypatch.setattr(tempfile, "mkdtemp", made_and_taken)
    if when == "before it is held":
        monkeypatch.setattr(unfinished, "hold", held_too_late)
    with passing_folder("tried") as mine:
        assert mine.is_dir()
        assert [mine] != taken and len(taken) == 1


def test_the_own_folder_of_a_killed_run_is_cleared_by_the_next() -> None:
    left = Path(killed("own", Path("-")))
    assert left.is_dir()
    mine = own_folder("tried")
    assert not left.exists() and mode(mine) == 0o700
    assert own_folder("tried") != mine and mine.exists()
    with passing_folder("tried") as short:
        assert short.is_dir() and mine.exists()
    assert not short.exists() and mine.exists()


def test_an_empty_folder_is_replaced_whole_and_keeps_its_permissions(tmp_path: Path) -> None:
    (tmp_path / "f").mkdir()
    (tmp_path / "f").chmod(0o750)
    put_folder(tmp_path / "f", [("a", b"1"), ("b/c", b"2")])
    assert mode(tmp_path / "f") == 0o750 and (tmp_path / "f" / "b" / "c").read_bytes() == b"2"


def test_the_folder_that_a_killed_run_stood_in_is_filled_by_the_next(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It cannot be replaced in one step; what has its place keeps it."""
    monkeypatch.chdir(tmp_path)
    rename, moved = os.rename, list[str]()

    def killed_at_the_second(old: Path, new: Path) -> None:
        moved.append(new.name)
        if len(moved) == 2:
            raise KeyboardInterrupt
        rename(old, new)

    monkeypatch.setattr(os, "rename", killed_at_the_second)
    with pytest.raises(KeyboardInterrupt):
        put_folder(tmp_path, [("a", b"1"), ("b/c", b"2"), ("d", b"3")])
    monkeypatch.undo()
    assert (tmp_path / "a").exists() and not (tmp_path / "d").exists()
    (tmp_path / "d").write_bytes(b"mine")
    write(tmp_path / "e")
    assert sorted(os.listdir(tmp_path)) == ["a", "b", "d", "e"]
    assert (tmp_path / "b" / "c").read_bytes() == b"2" and (tmp_path / "d").read_bytes() == b"mine"


def test_a_place_that_cannot_be_looked_at_is_a_problem(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def barred(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "stat", barred)
    found, (problem,) = spot(tmp_path / "a", chosen=False)
    assert found is None and problem.code == "output" and "a cannot be written: permission denied" in problem.fact


def test_the_folder_that_the_run_stands_in_is_filled(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Were it replaced, whoever stands in it would see an empty one."""
    monkeypatch.chdir(tmp_path)
    put_folder(tmp_path, [("a", b"1"), ("b/c", b"2")])
    assert sorted(os.listdir(".")) == ["a", "b"]
