"""Kept fragments are those that would be made, nobody's unless asked, and the disk may do with them what it likes."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import pytest
from jinja2 import DictLoader, Environment

from builder.door import Shelf, caches
from builder.pages.model import Booklet, Edition, Paper
from builder.pdf.fragments import make
from builder.pdf.fragments.kept import Compiled, Keeping, shelf
from builder.pdf.fragments.leaves import leaves
from builder.pdf.fragments.parts import Leaf
from builder.pdf.fragments.press import press_booklet
from builder.values.lists import Keep
from builder.work.publish import Choices
from pdf.test_fragments import DAY, ordered


@pytest.mark.parametrize(
    ("system", "environment", "place"),
    [
        ("linux", {}, "/home/ada/.cache"),
        ("linux", {"XDG_CACHE_HOME": "/var/ada"}, "/var/ada"),
        ("linux", {"XDG_CACHE_HOME": "relative"}, "/home/ada/.cache"),
        ("darwin", {"XDG_CACHE_HOME": "/var/ada"}, "/home/ada/Library/Caches"),
        ("win32", {"LOCALAPPDATA": "/users/ada/local"}, "/users/ada/local"),
        ("win32", {}, "/home/ada/AppData/Local"),
    ],
)
def test_the_place_is_the_one_that_the_system_names(system: str, environment: dict[str, str], place: str) -> None:
    """XDG Base Directory Specification 0.8; Apple, File System Programming Guide; Microsoft, Known Folders."""
    assert caches(environment, system, Path("/home/ada")) == Path(place)


def test_a_shelf_gives_back_what_was_laid_there_and_shows_it_to_nobody_else(tmp_path: Path) -> None:
    kept = Shelf(tmp_path / "deep" / "shelf", 1000)
    assert kept.get("a") is None
    kept.put("a", b"first")
    kept.put("a", b"second")
    assert kept.get("a") == b"second"
    assert kept.size()[0] == 1
    assert kept.folder.stat().st_mode & 0o777 == 0o700
    assert {path.stat().st_mode & 0o777 for path in kept.folder.iterdir()} == {0o600}
    assert kept.clear() == 1 and kept.get("a") is None


def test_what_was_used_longest_ago_goes_first_and_what_a_killed_run_left_too(tmp_path: Path) -> None:
    kept = Shelf(tmp_path, 250)
    for age, key in enumerate("cba"):
        kept.put(key, b"." * 60)
        os.utime(tmp_path / f"{key}.leaf", (1000 - age, 1000 - age))
    assert kept.get("a")  # just used
    (tmp_path / f"b.{2**22 + 1}.part").touch()  # no system gives a process this number
    (tmp_path / f"b.{os.getpid()}.part").touch()
    (tmp_path / "mine.txt").touch()
    kept.tidy()
    assert {path.name for path in tmp_path.iterdir()} == {"a.leaf", "c.leaf", f"b.{os.getpid()}.part", "mine.txt"}


def test_templates_are_compiled_once_and_again_when_their_text_changes(tmp_path: Path) -> None:
    texts = {"page": "{{ name }}!", "other": "{{ name }}?"}
    kept, asked = Shelf(tmp_path, 100_000), []

    class Asked(Environment):
        def compile(self, source: str, *named: object, **rest: object) -> object:  # type: ignore[override]
            asked.append(source)
            return super().compile(source, *named, **rest)  # type: ignore[call-overload]

    def printed(name: str) -> str:
        return Asked(loader=DictLoader(texts), bytecode_cache=Compiled(kept)).get_template(name).render(name="Ada")

    assert [printed("page"), printed("page"), printed("other")] == ["Ada!", "Ada!", "Ada?"]
    assert asked == ["{{ name }}!", "{{ name }}?"]
    texts["page"] = "{{ name }}."
    assert printed("page") == "Ada."


def test_a_damaged_thing_is_not_there_and_a_full_or_barred_disk_stops_nothing(tmp_path: Path) -> None:
    kept = Shelf(tmp_path, 1000)
    kept.put("a", b"whole")
    (tmp_path / "a.leaf").write_bytes((tmp_path / "a.leaf").read_bytes()[:-1])
    assert kept.get("a") is None
    (tmp_path / "file").touch()
    barred = Shelf(tmp_path / "file" / "below", 1000)
    barred.put("a", b"x")
    barred.tidy()
    assert (barred.get("a"), barred.clear(), barred.size()) == (None, 0, (0, 0))


def test_nothing_is_taken_from_a_shelf_that_others_could_have_filled(tmp_path: Path) -> None:
    """What lies there is unpacked by Python's own marshal, which is not made for strangers' bytes."""
    kept = Shelf(tmp_path / "shelf", 1000)
    kept.put("a", b"whole")
    kept.folder.chmod(0o777)
    kept.put("b", b"x")
    kept.tidy()
    assert (kept.get("a"), kept.size(), sorted(p.name for p in kept.folder.iterdir())) == (None, (0, 0), ["a.leaf"])
    kept.folder.chmod(0o700)
    assert kept.get("a") == b"whole"


def test_what_is_no_file_on_the_shelf_is_not_there_and_is_replaced(tmp_path: Path) -> None:
    """A pipe would make the run wait for ever, a device fill its memory, and a link lead elsewhere."""
    kept, precious = Shelf(tmp_path / "shelf", 1000), tmp_path / "precious"
    kept.put("good", b"whole")
    precious.write_bytes((kept.folder / "good.leaf").read_bytes())
    os.mkfifo(kept.folder / "pipe.leaf")
    for name, target in (("link", precious), ("device", "/dev/zero"), ("gone", tmp_path / "gone")):
        (kept.folder / f"{name}.leaf").symlink_to(target)
    for name in ("pipe", "link", "device", "gone"):
        assert kept.get(name) is None
        kept.put(name, b"new")
        assert kept.get(name) == b"new"
    assert precious.read_bytes() == (kept.folder / "good.leaf").read_bytes() and not (tmp_path / "gone").exists()


def test_only_texts_are_kept_unless_asked() -> None:
    texts, none = (Keeping(keep, shelf(), ("x",)) for keep in (Keep.TEXTS, Keep.NONE))
    mine, text = Leaf("<p>Ada</p>", ()), Leaf("<p>How to brace</p>", (), personal=False)
    assert texts.key(mine) == none.key(text) == ""
    assert texts.key(text)
    assert Keeping(Keep.ALL, shelf(), ("x",)).key(mine)


def test_texts_name_nobody() -> None:
    booklet, sheets, _ = ordered(Choices(DAY, Paper.A5, edition=Edition.COACH))
    plain = [leaf.html for leaf in leaves(booklet, sheets) if not leaf.personal]
    assert plain
    assert not [html for html in plain for name in ("Ottoline", "Brandt", booklet.code) if name in html]


def test_a_key_depends_on_all_that_a_page_comes_from(tmp_path: Path) -> None:
    picture = tmp_path / "logo.png"
    picture.write_bytes(b"1")
    keeping = Keeping(Keep.ALL, shelf(), ("css", 1.0))
    leaf = Leaf(f'<img src="{picture.as_uri()}">', ())
    keys = [
        keeping.key(leaf), keeping.key(replace(leaf, html="<p>")), keeping.key(leaf, {"w1": 3}),
        keeping.key(leaf, {"w1": 4}), Keeping(Keep.ALL, shelf(), ("css", 1.2)).key(leaf),
    ]  # fmt: skip
    picture.write_bytes(b"2")
    keys.append(keeping.key(leaf))
    assert len(set(keys)) == len(keys) and all(keys)
    picture.unlink()
    assert keeping.key(leaf) == keeping.key(Leaf('<img src="https://x.example/a.png">', ())) == ""


def few(booklet: Booklet) -> Booklet:
    """Some sections of each kind."""
    sections = booklet.sections[:8]
    return replace(booklet, sections=sections, fields=tuple(spec for one in sections for spec in one.fields))


@pytest.mark.slow
def test_pages_from_the_shelf_give_the_same_bytes_and_are_not_made_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    booklet, sheets, order = ordered(Choices(DAY, Paper.A5))
    order = replace(order, jobs=1, keep=Keep.ALL)
    plain = press_booklet(few(booklet), sheets, replace(order, keep=Keep.NONE))
    assert not list(tmp_path.rglob("*"))
    first = press_booklet(few(booklet), sheets, order)
    made: list[Leaf] = []
    usual = make.fragment
    monkeypatch.setattr(make, "fragment", lambda leaf, *rest: made.append(leaf) or usual(leaf, *rest))
    again = press_booklet(few(booklet), sheets, order)
    assert plain.pdf == first.pdf == again.pdf
    assert len(made) <= 2  # the contents, whose links lead to pages that were left out
    for path in tmp_path.rglob("*.leaf"):
        path.write_bytes(path.read_bytes()[:-9])
    assert press_booklet(few(booklet), sheets, order).pdf == first.pdf


@pytest.mark.slow
def test_another_buyer_takes_all_pages_from_the_shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    booklet, sheets, order = ordered(Choices(DAY, Paper.A5))
    sections = few(booklet).sections[2:3]
    one = replace(few(booklet), sections=sections, fields=sections[0].fields)
    order = replace(order, jobs=1, keep=Keep.ALL)
    first = press_booklet(one, sheets, order)
    monkeypatch.setattr(make, "fragment", lambda *_: pytest.fail("a page was made again"))
    other = press_booklet(replace(one, title="Of another", brand="B"), sheets, order)
    assert first.pages == other.pages and first.pdf != other.pdf
    named = replace(one, language=str(one.language))  # as an option names it, not as a file does
    assert repr(named.language) != repr(one.language)
    assert press_booklet(named, sheets, order).pdf == first.pdf
